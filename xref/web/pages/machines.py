"""Machines with their serials, and the sources that knowledge comes from."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from starlette.responses import Response

from xref.render.draw.figure import Drawing
from xref.render.draw.ranges import draw_ranges, panels_of
from xref.services.links.donor import Donor
from xref.web.page import Ask, Page

PAGE = Page("machines", "/machines")
MOST_COMPONENTS = 6
"""Rows for components in the form. Judged."""


@PAGE.get("/machines")
def everything(ask: Ask) -> Response:
    """Every machine; ``donor`` and ``numbers`` in the address ask where an assembly came from."""
    rows = ask.opened.machine.every()
    assemblies = sorted({item.assembly for item in ask.opened.bench.every() if item.assembly})
    found, numbers = _donor(ask)
    return ask.page(
        "machines",
        rows=rows,
        assemblies=assemblies,
        donor=found,
        drawing=_drawing(ask, numbers) if numbers else None,
        asked=ask.query,
        components=range(MOST_COMPONENTS),
    )


def _donor(ask: Ask) -> tuple[Donor | None, list[str]]:
    """Where the parts of an assembly came from: of the bench, or numbers as they are typed; and
    those numbers."""
    assembly, machine = ask.query.get("assembly", ""), ask.query.get("machine") or None
    numbers = [text.strip() for text in ask.query.get("numbers", "").split(",") if text.strip()]
    if numbers:
        return ask.opened.donor(numbers, machine=machine), numbers
    return (ask.opened.donor(assembly=assembly, machine=machine) if assembly else None), []


def _drawing(ask: Ask, numbers: Sequence[str]) -> Drawing | None:
    """The ranges of the numbers on one axis, with what they share and the machine's serial."""
    found = ask.opened.ranged(numbers, machine=ask.query.get("machine") or None)
    panels, unread = panels_of(found.entries, found.machine, found.donor)
    return draw_ranges(", ".join(numbers[:3]), panels, unread) if panels else None


@PAGE.post("/machines")
def add(ask: Ask) -> Response:
    """Write a machine down, or more serials of one."""

    def write() -> str:
        ask.opened.machine.add(
            ask.sent("name"),
            model=ask.sent("model"),
            serial=ask.sent("serial"),
            maker=ask.sent("maker"),
            components=_components(ask),
            stamped=ask.sent("stamped"),
            prefixes=[text for text in ask.sent("prefixes").replace(",", " ").split() if text],
        )
        return "/machines"

    return ask.once(write)


def _components(ask: Ask) -> Mapping[str, str]:
    """Serials of components that were given, each with where it is stamped behind an @."""
    found = {}
    for row in range(MOST_COMPONENTS):
        name, serial = ask.sent(f"component{row}"), ask.sent(f"serial{row}")
        if name and serial:
            found[name] = serial
    return found


@PAGE.post("/machines/remove")
def remove(ask: Ask) -> Response:
    """Remove a machine; what lies on the bench for it stays there."""
    name = ask.sent("name")

    def write() -> str:
        ask.opened.machine.remove(name, keep_items=ask.sent("items") == "1")
        return "/machines"

    return ask.once(write)


@PAGE.get("/sources")
def books(ask: Ask) -> Response:
    """Every source."""
    return ask.page("sources", rows=ask.opened.source.every())


@PAGE.post("/sources")
def add_book(ask: Ask) -> Response:
    """Write a source down."""

    def write() -> str:
        ask.opened.source.add(
            ask.sent("title"), ask.sent("edition"), ask.sent("kind"), ask.sent("note")
        )
        return "/sources"

    return ask.once(write)


@PAGE.post("/sources/remove")
def remove_book(ask: Ask) -> Response:
    """Remove a source; what it said stays, without it, where that is ticked."""
    name, kept = ask.sent("name"), ask.sent("facts") == "1"

    def write() -> str:
        ask.opened.source.remove(name, keep_facts=kept)
        return "/sources"

    return ask.once(write)
