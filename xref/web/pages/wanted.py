"""What is wanted, by supplier: written down, printed or copied for a supplier, got."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from starlette.responses import Response

from xref.errors import InputError, NotFoundError
from xref.render.wanted import total_line
from xref.render.wanted_page import page_csv
from xref.services.bench.wanted import Line
from xref.services.parts.cautions import DEFER, each_once
from xref.web.page import Ask, Page

PAGE = Page("wanted", "/wanted")
SPREADSHEET = "text/csv; charset=utf-8"


@PAGE.get("/wanted")
def everything(ask: Ask) -> Response:
    """All that is wanted, one list a supplier; ``supplier`` and ``machine`` choose."""
    rows = _rows(ask)
    known = [one.name for one in ask.opened.machine.every()]
    return ask.page(
        "wanted",
        lists=[_list(supplier, some) for supplier, some in _by_supplier(rows)],
        machines=known,
        machine=ask.query.get("machine", ""),
        supplier=ask.query.get("supplier"),
        need=ask.query.get("need", ""),
        done="done" in ask.query,
        defer=DEFER,
    )


def _rows(ask: Ask) -> list[Line]:
    supplier = ask.query.get("supplier", "")
    machine = ask.query.get("machine", "")
    rows = ask.opened.wanted.lines(supplier, "done" in ask.query, machine=machine)
    if "supplier" in ask.query and not supplier:
        return [row for row in rows if not row.wanted.supplier]
    return rows


def _by_supplier(rows: Sequence[Line]) -> list[tuple[str, list[Line]]]:
    found: dict[str, list[Line]] = {}
    for row in sorted(rows, key=lambda row: (not row.wanted.supplier, row.wanted.supplier)):
        found.setdefault(row.wanted.supplier, []).append(row)
    return list(found.items())


def _list(supplier: str, rows: Sequence[Line]) -> dict[str, object]:
    still = [row for row in rows if not row.wanted.done_at]
    lines = [f"{row.wanted.quantity:g} × {row.ask}" for row in still]
    return {
        "supplier": supplier,
        "rows": rows,
        "total": total_line(still),
        "plain": "\n".join(lines),
        "cautions": each_once(text for row in rows for text in row.cautions),
    }


@PAGE.get("/wanted/list.csv")
def table(ask: Ask) -> Response:
    """The list as a spreadsheet, in which nothing runs as a formula."""
    text = "\ufeff" + page_csv([row for row in _rows(ask) if not row.wanted.done_at])
    named = {"content-disposition": 'attachment; filename="wanted.csv"'}
    return Response(text, media_type=SPREADSHEET, headers=named)


@PAGE.post("/wanted")
def add(ask: Ask) -> Response:
    """Write something down to get."""

    def write() -> str:
        ask.opened.wanted.add(
            ask.sent("need"),
            quantity=_quantity(ask),
            supplier=ask.sent("supplier"),
            price=ask.sent("price"),
            note=ask.sent("note"),
            machine=ask.sent("machine"),
        )
        return "/wanted"

    return ask.once(write)


def _quantity(ask: Ask) -> float:
    text = ask.sent("quantity").replace(",", ".") or "1"
    try:
        return float(text)
    except ValueError:
        raise InputError(
            ask.texts("wanted.no_quantity"), ask.texts("wanted.no_quantity_hint")
        ) from None


def _written(ask: Ask, do: Callable[[int], object]) -> Response:
    text = ask.path("number")
    if not (text.isascii() and text.isdigit() and len(text) < 10):
        raise NotFoundError(ask.texts("wanted.no_number"), ask.texts("wanted.no_number_hint"))

    def write() -> str:
        do(int(text))
        return "/wanted"

    return ask.once(write)


@PAGE.post("/wanted/{number}/got")
def got(ask: Ask) -> Response:
    """Note that it was got."""
    return _written(ask, ask.opened.wanted.done)


@PAGE.post("/wanted/{number}/remove")
def remove(ask: Ask) -> Response:
    """Take it off the list."""
    return _written(ask, ask.opened.wanted.remove)


@PAGE.post("/wanted/{number}/change")
def change(ask: Ask) -> Response:
    """Change how many, from whom, for how much, and for which machine."""
    quantity = _quantity(ask)

    def do(number: int) -> None:
        ask.opened.wanted.change(
            number,
            quantity=quantity,
            supplier=ask.sent("supplier"),
            price=ask.sent("price"),
            note=ask.sent("note"),
            machine=ask.sent("machine"),
        )

    return _written(ask, do)
