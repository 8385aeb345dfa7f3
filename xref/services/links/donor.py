"""Where did an odd assembly come from: the serial ranges that its numbers share."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection

from xref.domain.belongs import LISTED
from xref.domain.donor import Claim, DonorRange, donor_ranges, intervals
from xref.domain.machine import WORKS, Applicability, Machine
from xref.domain.part import Part
from xref.domain.supersession import Step, backward
from xref.errors import InputError
from xref.services.links.belongs import judge_parts
from xref.services.parts.cautioning import every_caution
from xref.services.parts.designated import look_up
from xref.store.index.near import group_members
from xref.store.read.links import applicabilities, find_machine, find_model, steps_backward
from xref.store.read.load import load_parts

MOST_NUMBERS = 1000
"""Numbers of one assembly. Judged."""


@dataclass(frozen=True, slots=True)
class Item:
    """One thing off the assembly: what it is called, and what it may be with how sure that is."""

    name: str
    choices: tuple[tuple[Part, float], ...]


@dataclass(frozen=True, slots=True)
class Donor:
    """The answer: ranges best first, whether my machine lies in the best, and who is left out.

    ``machine_inside`` is None without a machine, or where its serial cannot be compared.
    ``outliers`` are the items the best range does not explain; ``silent`` have no range on record.
    ``replacing`` are items listed elsewhere, each with the number whose place it takes by
    supersession and that the best range does explain: later spares, and no outliers.
    ``machine_reached``: the machine lies outside, but each item that speaks for the best range is
    listed for it or takes the place of one that is.
    """

    ranges: tuple[DonorRange, ...]
    machine: Machine | None
    machine_inside: bool | None
    outliers: tuple[str, ...]
    silent: tuple[str, ...]
    cautions: tuple[str, ...] = ()
    replacing: tuple[tuple[str, str], ...] = ()
    machine_reached: bool = False

    def to_json(self) -> dict[str, Any]:
        """The JSON document of ``donor``."""
        return {
            "ranges": [_range_json(r) for r in self.ranges],
            "machine_inside": self.machine_inside,
            "outliers": list(self.outliers),
            "silent": list(self.silent),
            "machine_reached": self.machine_reached,
            "replacing": [{"number": new, "earlier": old} for new, old in self.replacing],
            "cautions": list(self.cautions),
        }


def _range_json(found: DonorRange) -> dict[str, Any]:
    return {
        "model": found.axis.model,
        "component": found.axis.component,
        "from": found.axis.serial(found.low),
        "to": found.axis.serial(found.high),
        "supported_by": list(found.supported_by),
        "against": list(found.against),
        "score": found.score,
    }


def donor(conn: Connection, numbers: Sequence[str], machine: str | None = None) -> Donor:
    """The donor of an assembly whose parts are numbered ``numbers``.

    Raises NotFoundError for a number that is not there, InputError for none or too many.
    """
    if not numbers:
        raise InputError("no number is named", "Give the numbers found on the assembly.")
    if len(numbers) > MOST_NUMBERS:
        raise InputError(f"{len(numbers)} numbers are given; the most is {MOST_NUMBERS}")
    items = []
    for text in dict.fromkeys(numbers):
        part = look_up(conn, text)
        items.append(Item(part.number, ((part, 1.0),)))
    return donor_of(conn, items, find_machine(conn, machine) if machine else None)


def donor_of(conn: Connection, items: Sequence[Item], machine: Machine | None) -> Donor:
    """The donor of items that may each be one of several parts, weighted by how sure that is."""
    entries = _entries(conn, [part for item in items for part, _ in item.choices])
    every = (e for held in entries.values() for e in held)
    built = {name: _order_of_build(conn, name) for name in dict.fromkeys(e.model for e in every)}
    claims = [
        _claim(item, weight, part, e, built[e.model])
        for item in items
        for part, weight in item.choices
        for e in entries.get(part.group, ())
        if e.fits
    ]
    ranges = donor_ranges(claims)
    speaking = {claim.item for claim in claims}
    silent = tuple(item.name for item in items if item.name not in speaking)
    best = ranges[0] if ranges else None
    apart = [
        item
        for item in items
        if best and item.name in speaking and item.name not in best.supported_by
    ]
    replacing = _replacing(conn, apart, best) if best and apart else {}
    outliers = tuple(item.name for item in apart if item.name not in replacing)
    named = {part.id: part for item in items for part, _ in item.choices}
    mind = every_caution(conn, named.values())
    inside = _inside(machine, best)
    reached = bool(best and machine and inside is False and _reached(conn, items, best, machine))
    swapped = tuple(replacing.items())
    return Donor(ranges, machine, inside, outliers, silent, mind, swapped, reached)


def _replacing(conn: Connection, items: Sequence[Item], best: DonorRange) -> dict[str, str]:
    """The items that take the place of a part listed where ``best`` is, with its number."""
    everything = [part for item in items for part, _ in item.choices]
    groups = _groups(conn, everything)
    steps = steps_backward(conn, list(groups))
    before = {ident: [s for s in backward(ident, steps) if _holds(s, best)] for ident in groups}
    olds = list(dict.fromkeys(step.old for held in before.values() for step in held))
    names = {part.id: part.number for part in load_parts(conn, olds)}
    there = {e.part_id for e in applicabilities(conn, olds) if e.fits and _meets(e, best)}
    found: dict[str, str] = {}
    for item in items:
        own = {part.group for part, _ in item.choices}
        ids = [ident for ident, group in groups.items() if group in own]
        for step in (s for ident in ids for s in before[ident] if s.old in there):
            found.setdefault(item.name, names[step.old])
    return found


def _reached(conn: Connection, items: Sequence[Item], best: DonorRange, machine: Machine) -> bool:
    """Whether each item that speaks for the range may as well be on the machine by its book."""
    for_it = [item for item in items if item.name in best.supported_by]
    said = judge_parts(conn, [part for item in for_it for part, _ in item.choices], machine)
    fitting = {group for group, told in said.items() if told.before or told.verdict == LISTED}
    return all(any(part.group in fitting for part, _ in item.choices) for item in for_it)


def _holds(step: Step, best: DonorRange) -> bool:
    """Whether a step may hold along the range: its own serials meet it, or it names none."""
    if step.condition.every or step.condition.unread:
        return True
    return any(_overlap(low, high, best) for low, high in intervals(step.condition, best.axis))


def _meets(entry: Applicability, best: DonorRange) -> bool:
    axis = best.axis
    if (entry.model, entry.component) != (axis.model, axis.component):
        return False
    one = axis.prefixes[0] if len(axis.prefixes) == 1 else ""
    serials = entry.serials.with_prefix(one)
    return any(_overlap(low, high, best) for low, high in intervals(serials, axis))


def _overlap(low: float, high: float, best: DonorRange) -> bool:
    return low <= best.high and high >= best.low


def _order_of_build(conn: Connection, name: str) -> tuple[str, ...]:
    found = find_model(conn, name)
    return found.prefixes if found else ()


def _claim(
    item: Item, weight: float, part: Part, entry: Applicability, order: tuple[str, ...]
) -> Claim:
    """What one entry says of the item; only works serials have the model's prefixes."""
    along = order if entry.component == WORKS else ()
    serials = entry.serials.with_prefix(along[0]) if len(along) == 1 else entry.serials
    return Claim(item.name, weight, entry.model, entry.component, serials, part.group, along)


def _entries(conn: Connection, parts: Sequence[Part]) -> dict[str, list[Applicability]]:
    """Every entry of each physical thing, by group."""
    groups = _groups(conn, parts)
    found: dict[str, list[Applicability]] = {}
    for entry in applicabilities(conn, list(groups)):
        found.setdefault(groups[entry.part_id], []).append(entry)
    return found


def _groups(conn: Connection, parts: Sequence[Part]) -> dict[int, str]:
    """Every record of the same physical things, with the group of each."""
    ids = group_members(conn, [p.id for p in parts])
    return {record.id: record.group for record in load_parts(conn, ids)}


def _inside(machine: Machine | None, best: DonorRange | None) -> bool | None:
    if machine is None or best is None or machine.model != best.axis.model:
        return None
    if math.isinf(best.low) and math.isinf(best.high):
        return True
    serial = machine.serial_of(best.axis.component)
    place = best.axis.place(serial) if serial else None
    return None if place is None else best.low <= place <= best.high
