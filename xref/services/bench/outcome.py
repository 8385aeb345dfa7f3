"""How a part from the bench fitted, and the facts that follow from it."""

from __future__ import annotations

from xref.domain.line import optional_line
from xref.domain.machine import TRIED, WORKS, Applicability
from xref.domain.number import visible
from xref.domain.part import Part
from xref.domain.serial_range import SerialRange, SerialSet
from xref.errors import InputError
from xref.services.bench.bench import cautions_on
from xref.services.links.interchange import FITS, FITS_NOT, SHOWN
from xref.store.file.clock import now
from xref.store.notes import bench
from xref.store.notes.bench import BenchItem
from xref.store.read.links import find_machine
from xref.store.read.load import load_parts
from xref.store.read.queries import find_sources, resolve
from xref.store.write.link_unit import add_applicability, add_interchange, ensure_model
from xref.store.write.unit import UnitOfWork

OUTCOMES = ("fitted", "did-not-fit", "returned")
SAME = {"sent-back": "returned"}
"""Two words for one outcome: it went back to whoever sold it."""
MOST_REASON = 300
"""Characters of a reason."""


def outcome(
    unit: UnitOfWork, ident: int, result: str, why: str = "", in_place_of: str = ""
) -> tuple[Part, tuple[str, ...], tuple[str, ...]]:
    """Write down how the decided part fitted; the part, the facts that follow, the cautions.

    On a machine with a serial it becomes a range of that one serial with the source "tried"; with
    ``in_place_of`` an interchange. Raises InputError for an item that is not decided.
    """
    result = SAME.get(result, result)
    if result not in OUTCOMES:
        raise InputError(f'no outcome is called "{visible(result)}"', f"Use {', '.join(OUTCOMES)}.")
    reason = optional_line(why, MOST_REASON, "reason")
    item = bench.item(unit.conn, ident)
    if item.part_id is None:
        raise InputError(
            f"label {ident} is not decided yet",
            f"Say what it is: xref bench decide {ident} NUMBER.",
        )
    (part,) = load_parts(unit.conn, [item.part_id])
    values = {"outcome": result, "why": reason, "outcome_at": now()}
    bench.change_item(unit, ident, values)
    facts: list[str] = []
    if result in ("fitted", "did-not-fit"):
        fits = result == "fitted"
        source = _tried(unit)
        facts += _range_of_one(unit, item, part, fits, reason, source)
        if in_place_of:
            other = resolve(unit.conn, in_place_of)
            grade = FITS if fits else FITS_NOT
            add_interchange(unit, (part.id, other.id), grade, False, reason, source)
            facts.append(f"{part.number} in place of {other.number}: {SHOWN[grade]}")
    return part, tuple(facts), cautions_on(unit.conn, [item])[item.id]


def _tried(unit: UnitOfWork) -> int:
    found = find_sources(unit.conn, TRIED)
    return found[0][0] if found else unit.add_source(TRIED, "", "bench", "")


def _range_of_one(
    unit: UnitOfWork, item: BenchItem, part: Part, fits: bool, why: str, source: int
) -> list[str]:
    if not item.machine:
        return []
    machine = find_machine(unit.conn, item.machine)
    works, serial = machine.serials.get(WORKS), machine.serial_of(WORKS)
    if works is None or serial is None:
        return []
    one = SerialSet((SerialRange(serial, serial),))
    entry = Applicability(part.id, machine.model, WORKS, one, fits, item.assembly, None, TRIED, why)
    held = ensure_model(unit, machine.model)
    add_applicability(unit, entry, held.id, works.serial, source)
    return [f"{part.number}: {entry.shown()}"]
