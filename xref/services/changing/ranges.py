"""Ranges of serials on record."""

from __future__ import annotations

from functools import partial

from sqlalchemy import Connection

from xref.domain.machine import Applicability
from xref.domain.part import Part
from xref.errors import InputError
from xref.services.changing.fact import (
    MOST,
    NOTHING,
    Changed,
    Fact,
    joined,
    kept,
    no_such,
    same_said,
)
from xref.services.links.applies import entry_of, serials_from
from xref.services.parts.designated import look_up
from xref.services.parts.source import source_id_of
from xref.store.read.links import applicabilities, find_model
from xref.store.read.load import load_parts
from xref.store.write import facts
from xref.store.write.link_unit import applicability_row, ensure_model, note_component
from xref.store.write.unit import UnitOfWork

KIND, COMMAND = "range", "applies"
WITHOUT = ("serials", "assembly", "quantity", "source", "note")
"""What can be taken from a range; without serials it holds for all."""


def listed(
    conn: Connection,
    number: str | None = None,
    maker: str | None = None,
    model: str = "",
    most: int = MOST,
) -> list[Fact]:
    """The ranges on record, oldest first: of one part, on one model, or all."""
    part_id = look_up(conn, number, maker).id if number else None
    held = find_model(conn, model) if model else None
    if model and held is None:
        return []
    owners = facts.range_owners(conn, most, part_id, held.id if held else None)
    return _facts(conn, owners)


def _facts(conn: Connection, owners: list[tuple[int, int]]) -> list[Fact]:
    ids, places = [part for _, part in owners], {ident for ident, _ in owners}
    parts = {part.id: part for part in load_parts(conn, ids)}
    entries = applicabilities(conn, list(dict.fromkeys(ids)))
    found = [e for e in entries if e.id in places]
    return [fact_of(e, parts[e.part_id]) for e in sorted(found, key=lambda e: e.id)]


def fact_of(entry: Applicability, part: Part) -> Fact:
    """A range as a fact."""
    many = f"{entry.quantity:g} a machine" if entry.quantity else ""
    says = joined(entry.shown(), entry.assembly, many, entry.note, entry.source)
    return Fact(entry.id, KIND, part.number, says, {"maker": part.maker or None, **entry.to_json()})


def _with_ends(conn: Connection, ident: int, low: str, high: str) -> str:
    """The serials of a range with another first or last one."""
    if not (low and high):
        pieces = _held(conn, ident)[0].serials
        if len(pieces.ranges) != 1 or pieces.exceptions:
            what = "was not understood" if pieces.unread else "has several pieces"
            raise InputError(f"range {ident} {what}", "Give it whole with --serials.")
        only = pieces.ranges[0]
        low = low or (str(only.low) if only.low else "")
        high = high or (str(only.high) if only.high else "")
    return serials_from(low, high)


def change(  # noqa: PLR0913 (one word of the command each)
    unit: UnitOfWork,
    ident: int,
    *,
    model: str | None = None,
    serials: str | None = None,
    fits: bool | None = None,
    component: str | None = None,
    assembly: str | None = None,
    quantity: float | None = None,
    source: str | None = None,
    note: str | None = None,
    low: str = "",
    high: str = "",
) -> Changed:
    """Change what is given of one range and leave the rest (None); "" and 0 take it away.

    ``low`` or ``high`` alone leaves the other end as it is. Raises NotFoundError for a number that
    no range has, InputError for what ``applies`` refuses, and for one end of several pieces.
    """
    if low or high:
        serials = _with_ends(unit.conn, ident, low, high)
    given = (model, serials, fits, component, assembly, quantity, source, note)
    if all(word is None for word in given):
        raise NOTHING
    held, part = _held(unit.conn, ident)
    row = facts.row_of(unit.conn, facts.RANGE, ident) or {}
    entry, on = entry_of(
        part,
        partial(ensure_model, unit),
        model=held.model if model is None else model,
        serials=held.serials if serials is None else serials,
        fits=held.fits if fits is None else fits,
        component=kept(component, held.component),
        assembly=kept(assembly, held.assembly),
        quantity=held.quantity if quantity is None else (quantity or None),
        source=kept(source, held.source),
        note=kept(note, held.note),
    )
    note_component(unit, entry.component)
    as_found = row["as_found"] if serials is None else serials.strip()
    source_id = row["source_id"] if source is None else source_id_of(unit, source)
    now = applicability_row(entry, on.id, as_found, source_id)
    alike = {name: value for name, value in now.items() if name != "as_found"}
    there = facts.same_row(unit.conn, facts.RANGE, ident, alike)
    if there is not None:
        raise same_said(KIND, there, COMMAND, ident)
    unit.update(facts.RANGE, ident, now)
    return Changed(fact_of(held, part), fact_of(*_held(unit.conn, ident)))


def remove(unit: UnitOfWork, ident: int) -> Changed:
    """Remove one range. Raises NotFoundError for a number that none has."""
    held, part = _held(unit.conn, ident)
    unit.delete(facts.RANGE, ident)
    return Changed(fact_of(held, part))


def _held(conn: Connection, ident: int) -> tuple[Applicability, Part]:
    row = facts.row_of(conn, facts.RANGE, ident)
    if row is None:
        raise no_such(KIND, ident, COMMAND)
    (part,) = load_parts(conn, [row["part_id"]])
    entries = applicabilities(conn, [part.id])
    return next(e for e in entries if e.id == ident), part
