"""What is wanted: to order, and one page of it for a supplier."""

from __future__ import annotations

import csv
import io
import re
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal, InvalidOperation

from sqlalchemy import Connection

from xref.domain.line import needed_line, one_line, optional_line
from xref.domain.number import visible
from xref.domain.order import Order
from xref.domain.part import Part, is_plain_number
from xref.domain.size import mm_text
from xref.errors import InputError, NotFoundError
from xref.services.cautions import DEFER, cautions
from xref.services.counter import orders
from xref.store import bench
from xref.store.bench import Wanted
from xref.store.load import load_parts
from xref.store.queries import resolve
from xref.store.unit import UnitOfWork

_PRICE = re.compile(r"(?P<before>[^\d.,-]*)(?P<amount>\d+(?:[.,]\d{1,4})?)(?P<after>[^\d.,]*)")
_DATE = re.compile(r"\d{4}(?:-\d{2}(?:-\d{2})?)?")


@dataclass(frozen=True, slots=True)
class Line:
    """One thing wanted with its part and what to ask for; both None for a bare description."""

    wanted: Wanted
    part: Part | None
    order: Order | None

    @property
    def ask(self) -> str:
        """The number to ask for, or the need in words."""
        return self.order.number if self.order else self.wanted.need


def add(
    unit: UnitOfWork,
    need: str,
    *,
    quantity: float = 1.0,
    supplier: str = "",
    price: str = "",
    seen: str = "",
    note: str = "",
) -> int:
    """Write down something to get: a number in the store, or a need in words.

    Raises InputError for a price or quantity that is none.
    """
    wanted_ = needed_line(need, 200, "need")
    if not 0 < quantity <= 100_000:
        raise InputError(f"{quantity:g} is no quantity", "Give how many, such as 2.")
    amount, currency = _price(price)
    _date(seen)
    try:
        part: Part | None = resolve(unit.conn, need)
    except NotFoundError:
        part = None
    row = {
        "part_id": part.id if part else None,
        "need": wanted_,
        "quantity": quantity,
        "supplier": optional_line(supplier, 120, "supplier"),
        "price": amount,
        "currency": currency,
        "seen": seen.strip(),
        "note": optional_line(note, 300, "note"),
    }
    return bench.add_want(unit, row)


def _price(text: str) -> tuple[str, str]:
    """The amount with a point, and the currency as written; "" for no price."""
    if not text.strip():
        return "", ""
    found = _PRICE.fullmatch(text.strip())
    if found is None:
        raise InputError(f'"{visible(text)}" is no price', "Write it as 12.50 or 12.50 EUR.")
    currency = (found["before"].strip() or found["after"].strip())[:10]
    return found["amount"].replace(",", "."), currency


def _date(text: str) -> None:
    """Refuse what is no day, month or year: 2026-11-25, 2026-11, 2026; "" is none."""
    written = text.strip()
    whole = written + "2000-01-01"[len(written) :]
    try:
        if text and (_DATE.fullmatch(written) is None or not date.fromisoformat(whole)):
            raise ValueError
    except ValueError:
        raise InputError(f'"{visible(text)}" is no date', "Write it as 2026-11-25.") from None


def lines(conn: Connection, supplier: str = "", done: bool = False) -> list[Line]:
    """What is wanted, each with what to ask for today."""
    rows = bench.wants(conn, one_line(supplier), done)
    ids = [row.part_id for row in rows if row.part_id is not None]
    parts = {part.id: part for part in load_parts(conn, ids)}
    told = dict(zip(parts, orders(conn, list(parts.values()), None), strict=True))
    return [
        Line(row, parts.get(row.part_id or 0), told.get(row.part_id or 0)) for row in rows
    ]  # fmt: skip


def done(unit: UnitOfWork, ident: int) -> Wanted:
    """Note that it was got. Raises NotFoundError for a number that is not there."""
    row = bench.want(unit.conn, ident)
    if row.done_at:
        raise InputError(f"number {ident} was got already", "See xref wanted list.")
    bench.done_want(unit, ident)
    return row


def totals(rows: Sequence[Line]) -> dict[str, Decimal]:
    """The sum by currency over what has a price, exact."""
    found: dict[str, Decimal] = defaultdict(Decimal)
    for line in rows:
        try:
            each = Decimal(line.wanted.price)
        except InvalidOperation:
            continue
        found[line.wanted.currency] += each * Decimal(f"{line.wanted.quantity:g}")
    return dict(found)


def sizes_text(part: Part | None) -> str:
    """The sizes of a part on one line."""
    if part is None:
        return ""
    return ", ".join(
        f"{name} {held.value if is_plain_number(name) else mm_text(held.value)}"
        for name, held in part.sizes.items()
    )


def _cells(line: Line) -> list[str]:
    part = line.part
    what = (part.words or part.type or part.kind) if part else ""
    original = part.number if part and part.number != line.ask else ""
    each = f"{line.wanted.price} {line.wanted.currency}".strip()
    return [
        line.ask,
        f"{line.wanted.quantity:g}",
        original,
        what,
        sizes_text(part),
        each,
        line.wanted.note,
    ]


COLUMNS = ("ask for", "quantity", "original number", "description", "sizes", "price", "note")


def sheet_csv(rows: Sequence[Line]) -> str:
    """The page as CSV."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(COLUMNS)
    writer.writerows([_harmless(cell) for cell in _cells(line)] for line in rows)
    return out.getvalue()


def _harmless(cell: str) -> str:
    """A cell that no spreadsheet runs."""
    return f"'{cell}" if cell[:1] in ("=", "+", "-", "@", "\t", "\r") else cell


def sheet_markdown(supplier: str, rows: Sequence[Line]) -> str:
    """The page as Markdown: a table, the totals, the cautions; a sentence where nothing is."""
    if not rows:
        return f"Nothing is wanted{f' from {supplier}' if supplier else ''}."
    head = f"# Wanted from {supplier}" if supplier else "# Wanted"
    told = [head, "", "| " + " | ".join(COLUMNS) + " |", "|" + "---|" * len(COLUMNS)]
    for line in rows:
        told.append("| " + " | ".join(c.replace("|", "\\|") for c in _cells(line)) + " |")
    sums = [f"{amount} {currency}".strip() for currency, amount in totals(rows).items()]
    if sums:
        told += ["", f"Total of what has a price: {', '.join(sums)}"]
    steps = [
        f"{line.ask}: {step}" for line in rows if line.order for step in line.order.steps
    ]  # fmt: skip
    if steps:
        told += ["", *(f"- {step}" for step in dict.fromkeys(steps))]
    said = dict.fromkeys(text for line in rows if line.part for text in cautions(line.part))
    told += ["", *(f"Caution: {text}" for text in said), DEFER]
    return "\n".join(told)
