"""Labels for the bench: choose what to print, try the printer, print."""

from __future__ import annotations

import math
import re
from contextlib import suppress

from starlette.responses import Response

from xref.errors import InputError
from xref.render.labels import Label, Printer, Sheet, pages, sheets, trial
from xref.web.code import squares
from xref.web.page import Ask, Page

PAGE = Page("labels", "/labels")
MOST = 1000
"""Labels printed at once."""
STRAYS_MOST, SCALES = 20.0, (0.8, 1.2)
"""Millimetres and scales that a printer may be put right by. Judged."""
_ADDRESS = re.compile(r"https?://[A-Za-z0-9.-]+(:\d{1,5})?/?", re.ASCII)


@PAGE.get("/labels")
def choose(ask: Ask) -> Response:
    """The form: which labels, which sheet, from which place, and how the printer strays."""
    every = ask.opened.bench.every()
    return ask.page(
        "labels",
        items=every,
        sheets=sheets(),
        address=ask.query.get("address") or _usual_address(ask),
        asked=ask.query,
        chosen=set(ask.query.getlist("label")),
    )


def _usual_address(ask: Ask) -> str:
    """The address for the codes: the one that phones reach, where the page is served to any."""
    served = ask.house.addresses
    return served[2] if len(served) > 2 else served[0]


@PAGE.get("/labels/sheet")
def sheet(ask: Ask) -> Response:
    """The sheets to print; ``trial`` in the address is the page to try the printer with."""
    paper, printer = _sheet(ask), _printer(ask)
    back = f"/labels?{ask.request.url.query}"
    if "trial" in ask.query:
        return ask.page("labels_sheet", drawings=[trial(paper, printer)], paper=paper, back=back)
    first = _whole(ask, "first", 1, paper.count) - 1
    drawings = pages(paper, _labels(ask), first, printer)
    return ask.page("labels_sheet", drawings=drawings, paper=paper, back=back)


def _labels(ask: Ask) -> list[Label]:
    address = (ask.query.get("address") or _usual_address(ask)).rstrip("/")
    if not _ADDRESS.fullmatch(address):
        raise InputError(ask.texts("labels.no_address"), ask.texts("labels.no_address_hint"))
    chosen = {
        text for text in ask.query.getlist("label")[:MOST] if text.isascii() and text.isdigit()
    }
    found = [item for item in ask.opened.bench.every() if str(item.id) in chosen]
    if not found:
        raise InputError(ask.texts("labels.none_chosen"), ask.texts("labels.none_chosen_hint"))
    made = []
    for item in found:
        # All in capitals, a code has fewer and larger squares.
        modules, path = squares(f"{address}/b/{item.id}".upper())
        made.append(Label(str(item.id), item.place, path, modules))
    return made


def _sheet(ask: Ask) -> Sheet:
    name = ask.query.get("sheet", sheets()[0].name)
    for one in sheets():
        if one.name == name:
            return one
    raise InputError(ask.texts("labels.no_sheet"), ask.texts("labels.no_sheet_hint"))


def _printer(ask: Ask) -> Printer:
    return Printer(
        _number(ask, "right", 0, -STRAYS_MOST, STRAYS_MOST),
        _number(ask, "down", 0, -STRAYS_MOST, STRAYS_MOST),
        _number(ask, "scale", 100, *(100 * s for s in SCALES)) / 100,
    )


def _number(ask: Ask, name: str, usual: float, least: float, most: float) -> float:
    text = ask.query.get(name, "").strip().replace(",", ".")
    if not text:
        return usual
    with suppress(ValueError):
        found = float(text)
        if math.isfinite(found) and least <= found <= most:
            return found
    raise InputError(
        ask.texts("labels.no_number", name=ask.texts(f"labels.{name}")),
        ask.texts("labels.no_number_hint", least=f"{least:g}", most=f"{most:g}"),
    )


def _whole(ask: Ask, name: str, least: int, most: int) -> int:
    return int(_number(ask, name, least, least, most))
