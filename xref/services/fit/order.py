"""What to ask for today: the number sold now, and what a counter will want to know."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from sqlalchemy import Connection

from xref.domain.machine import Machine
from xref.domain.order import Order
from xref.domain.part import Part
from xref.domain.serial_range import UNKNOWN
from xref.domain.supersession import Step
from xref.services.fit.by_size import by_sizes
from xref.services.fit.counter import GENERIC_KINDS, NOTHING, counter
from xref.services.links.interchange import misfits
from xref.services.links.trace import SoldNow, Traced, step_holds, trace_part
from xref.store.index.near import group_members
from xref.store.read.load import load_parts

MOST_WAYS = 8
MOST_GENERIC = 4
SHORT = 6
"""Ways to replace a number, standard sizes for it, and numbers on one line. Judged."""


def order(
    conn: Connection,
    part: Part,
    machine: Machine | None = None,
    generic: Sequence[str] = (),
    said: Mapping[str, str] = NOTHING,
) -> Order:
    """What to ask for in place of ``part``; ``generic`` are lines on standard sizes for it, and
    ``said`` is what a mark says of it."""
    traced = trace_part(conn, part, machine)
    ends = [end for end in traced.current if end.part.status != "discontinued"]
    if why := _open(traced):
        steps = [f"{f.kind}: {f.message}" for f in traced.findings]
        steps += [*_companions(traced.later, traced.parts), *generic, *counter(part)]
        told = tuple(dict.fromkeys(steps))
        return Order(part.number, part.own_maker or None, told, open=why)
    if not ends:
        steps = [f.message for f in traced.findings] or [f"{part.number} is no longer sold"]
        return Order(part.number, part.own_maker or None, (*steps, *generic, *counter(part, said)))
    first = ends[0]
    steps = [*_reached(part, ends), *_together(traced, ends)]
    steps += [f"{f.kind}: {f.message}" for f in traced.findings]
    steps += [*_companions(traced.later, traced.parts), *generic]
    steps += counter(first.part, said)
    told = tuple(dict.fromkeys(steps))
    return Order(first.part.number, first.part.own_maker or None, told, _whole(traced, ends))


def _reached(part: Part, ends: Sequence[SoldNow]) -> list[str]:
    told = []
    for end in ends:
        many = f"{end.quantity:g} × " if end.quantity != 1 else ""
        if end.part.id != part.id:
            told.append(f"{many}{end.part.number}, sold in place of {part.number}")
        if end.note:
            told.append(f"{end.part.number} {end.note}")
    return told


def _together(traced: Traced, ends: Sequence[SoldNow]) -> list[str]:
    """Whether all the ends are wanted, or one, or which of them together."""
    if len(ends) < 2:
        return []
    if not traced.ways:
        return ["which of these together: see the chain, with trace"]
    if len(traced.ways) == 1:
        return ["all of these together"]
    if all(len(way) == 1 for way in traced.ways):
        return ["any one of these will do"]
    numbers = {end.part.id: end.part.number for end in traced.current}
    told = [" + ".join(numbers[node] for node, _ in way) for way in traced.ways[:MOST_WAYS]]
    return [f"either {' or '.join(told)}"]


def _whole(traced: Traced, ends: Sequence[SoldNow]) -> str:
    """The set, or the choice, on one line; "" where one number is all or no line is short."""
    numbers = {end.part.id: end.part.number for end in ends}
    wanted = [(node, many) for way in traced.ways for node, many in way]
    if len(wanted) < 2 or len(wanted) > SHORT or any(node not in numbers for node, _ in wanted):
        return ""
    told = [f"{many:g} × {numbers[node]}" if many != 1 else numbers[node] for node, many in wanted]
    if len(traced.ways) == 1:
        return " + ".join(told)
    return " or ".join(told) if all(len(way) == 1 for way in traced.ways) else ""


def _open(traced: Traced) -> str:
    """Why what is wanted is not known: a serial decides it, and that is not known; else ""."""
    if all(step_holds(step, traced.machine) != UNKNOWN for step in traced.later):
        return ""
    if traced.machine is None:
        return "name a machine first: its serial decides what to ask for"
    return f"a serial decides what to ask for, and that of {traced.machine.name} does not say"


def _companions(steps: Sequence[Step], parts: dict[int, Part]) -> list[str]:
    told = []
    for step in steps:
        if step.companions:
            named = ", ".join(parts[i].number for i in step.companions)
            told.append(f"change {named} together with it")
    return told


def generic_sizes(conn: Connection, part: Part) -> tuple[str, ...]:
    """Which standard sizes do for a part of the user's own; () for none, and for standard rows.

    Only the same kind and the same boundary dimensions count; none for a part that must not be
    chosen by its size, and none that was tried and does not fit.
    """
    if part.is_standard or part.kind not in GENERIC_KINDS or not part.sizes:
        return ()
    tried = misfits(conn, part.id)
    ids = [ident for ident in group_members(conn, [part.id]) if ident not in tried]
    same = [p for p in load_parts(conn, ids) if p.is_standard]
    if same:
        return (f"it is the standard {same[0].number}",)
    found = [
        match.part
        for match in by_sizes(conn, part)
        if match.grade == "same boundary dimensions"
        and match.part.is_standard
        and match.part.id not in tried
    ]
    found.sort(key=lambda p: (-p.tables_agreeing, p.number))
    numbers = [p.number for p in found[:MOST_GENERIC]]
    if len(found) > MOST_GENERIC:
        numbers.append("…")
    if len({p.group for p in found}) < 2:
        return tuple(
            f"the standard size {number} has the same boundary dimensions" for number in numbers[:1]
        )
    return (f"standard sizes of the same boundary dimensions, look which: {', '.join(numbers)}",)
