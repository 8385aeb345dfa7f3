"""Machines with their serials, and the sources that knowledge comes from."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from starlette.responses import Response

from xref.render.draw.figure import Drawing
from xref.render.draw.ranges import draw_ranges, panels_of
from xref.services.bench import bench
from xref.services.changing import named
from xref.services.links import machine as machines
from xref.services.links.donor import Donor, donor
from xref.services.links.ranged import ranged
from xref.services.parts import source as sources
from xref.store.notes import bench as book
from xref.store.write.unit import UnitOfWork
from xref.web.page import Ask, Page

PAGE = Page("machines", "/machines")
MOST_COMPONENTS = 6
"""Rows for components in the form. Judged."""


@PAGE.get("/machines")
def everything(ask: Ask) -> Response:
    """Every machine; ``donor`` and ``numbers`` in the address ask where an assembly came from."""
    with ask.opened.store.reading() as conn:
        rows = machines.every(conn)
        assemblies = sorted({item.assembly for item in book.items(conn) if item.assembly})
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
    with ask.opened.store.reading() as conn:
        if numbers:
            return donor(conn, numbers, machine), numbers
        return (bench.donor(conn, assembly, machine) if assembly else None), []


def _drawing(ask: Ask, numbers: Sequence[str]) -> Drawing | None:
    """The ranges of the numbers on one axis, with what they share and the machine's serial."""
    with ask.opened.store.reading() as conn:
        found = ranged(conn, numbers, machine=ask.query.get("machine") or None)
    panels, unread = panels_of(found.entries, found.machine, found.donor)
    return draw_ranges(", ".join(numbers[:3]), panels, unread) if panels else None


@PAGE.post("/machines")
def add(ask: Ask) -> Response:
    """Write a machine down, or more serials of one."""

    def write() -> str:
        with ask.writing("machine add") as unit:
            machines.add(
                unit,
                ask.sent("name"),
                model=ask.sent("model"),
                serial=ask.sent("serial"),
                maker=ask.sent("maker"),
                components=_components(ask),
                stamped=ask.sent("stamped"),
                prefixes=[text for text in ask.sent("prefixes").replace(",", " ").split() if text],
            )
            unit.commit()
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
        with ask.writing("machine remove") as unit:
            named.remove_named_machine(unit, name, keep_items=ask.sent("items") == "1")
            unit.commit()
        return "/machines"

    return ask.once(write)


@PAGE.get("/sources")
def books(ask: Ask) -> Response:
    """Every source."""
    with ask.opened.store.reading() as conn:
        rows = sources.every(conn)
    return ask.page("sources", rows=rows)


@PAGE.post("/sources")
def add_book(ask: Ask) -> Response:
    """Write a source down."""

    def write() -> str:
        with ask.writing("source add") as unit:
            sources.add(
                unit, ask.sent("title"), ask.sent("edition"), ask.sent("kind"), ask.sent("note")
            )
            unit.commit()
        return "/sources"

    return ask.once(write)


@PAGE.post("/sources/remove")
def remove_book(ask: Ask) -> Response:
    """Remove a source; what it said stays, without it, where that is ticked."""
    name, kept = ask.sent("name"), ask.sent("facts") == "1"

    def write() -> str:
        with ask.writing("source remove") as unit:
            _remove(unit, name, kept)
            unit.commit()
        return "/sources"

    return ask.once(write)


def _remove(unit: UnitOfWork, name: str, kept: bool) -> None:
    named.remove_source(unit, name, keep_facts=kept)
