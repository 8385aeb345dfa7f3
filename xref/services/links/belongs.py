"""Does the part belong on this machine: listed, service part, not listed, or unknown."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from sqlalchemy import Connection

from xref.domain.belongs import LISTED, NOT_LISTED, SERVICE, Belongs, judge, through_chain
from xref.domain.evidence import Evidence, Topic
from xref.domain.machine import Applicability, Machine
from xref.domain.part import Part
from xref.domain.serial_range import IN
from xref.domain.supersession import Step, backward
from xref.services.links.trace import allowed, step_holds
from xref.services.parts.cautioning import every_caution
from xref.services.parts.designated import look_up
from xref.store.index.near import group_members
from xref.store.read.links import applicabilities, find_machine, steps_backward
from xref.store.read.load import load_parts

BITS = {LISTED: 2.0, SERVICE: 1.5, NOT_LISTED: -2.0}
"""Bits of each verdict; unknown gives no evidence, and not listed with a chain from a part that is
listed gives the sum of both. Judged: small, so that a parts book is
outvoted by a clear stamp."""


def belongs(
    conn: Connection, number: str, machine: str, maker: str | None = None
) -> tuple[Part, Machine, Belongs]:
    """Whether ``number`` is listed for the machine called ``machine``, and because of what.

    Raises NotFoundError for a number or machine that is not there.
    """
    part = look_up(conn, number, maker)
    held = find_machine(conn, machine)
    return part, held, judge_parts(conn, [part], held)[part.group]


@dataclass(frozen=True, slots=True)
class Belonging:
    """Whether a part belongs on a machine, and what to mind with it."""

    part: Part
    machine: Machine
    verdict: Belongs
    cautions: tuple[str, ...]


def answered(conn: Connection, number: str, machine: str, maker: str | None = None) -> Belonging:
    """The same as ``belongs``, with its cautions."""
    part, held, verdict = belongs(conn, number, machine, maker)
    return Belonging(part, held, verdict, every_caution(conn, [part]))


def judge_parts(conn: Connection, parts: Sequence[Part], machine: Machine) -> dict[str, Belongs]:
    """The verdict on each of ``parts``, by the group of the physical thing it is.

    What is on record of any record of the same thing counts for it. A part that is not listed, but
    takes the place of one that is, is a service part.
    """
    members = _members(conn, parts)
    ids = [ident for held in members.values() for ident in held]
    earlier = _earlier(conn, ids, machine)
    olds = list(dict.fromkeys(step.old for found in earlier.values() for step in found))
    entries: dict[int, list[Applicability]] = defaultdict(list)
    for entry in applicabilities(conn, list(dict.fromkeys([*ids, *olds]))):
        entries[entry.part_id].append(entry)
    names = {p.id: p.number for p in load_parts(conn, olds)}
    found = {}
    for part in parts:
        own = [e for ident in members[part.group] for e in entries[ident]]
        verdict = judge(part.number, own, machine)
        if verdict.verdict != LISTED and not _told_not_to_fit(verdict, machine):
            before = [
                (names[step.old], entries[step.old], _names_it(step, ident, machine))
                for ident in members[part.group]
                for step in earlier[ident]
            ]
            verdict = _as_service_part(part, verdict, before, machine)
        found[part.group] = verdict
    return found


def _members(conn: Connection, parts: Sequence[Part]) -> dict[str, list[int]]:
    ids = group_members(conn, [part.id for part in parts])
    members: dict[str, list[int]] = defaultdict(list)
    for record in load_parts(conn, ids):
        members[record.group].append(record.id)
    return members


def _earlier(conn: Connection, ids: Sequence[int], machine: Machine) -> dict[int, list[Step]]:
    """For each id the steps by which it takes others' place on this machine, nearest first."""
    rule = allowed(machine)
    by_new: Mapping[int, Sequence[Step]] = {
        new: [step for step in steps if rule(step)]
        for new, steps in steps_backward(conn, ids).items()
    }
    return {ident: list(backward(ident, by_new)) for ident in ids}


def _told_not_to_fit(verdict: Belongs, machine: Machine) -> bool:
    return any(not e.fits and e.holds_for(machine) == IN for e in verdict.ranges)


def _names_it(step: Step, ident: int, machine: Machine) -> bool:
    """Whether the step to this very part is on record for serials, and the machine's among them."""
    here = any(new == ident for new, _ in step.news)
    return here and not step.condition.every and step_holds(step, machine) == IN


def _as_service_part(
    part: Part,
    verdict: Belongs,
    before: Sequence[tuple[str, list[Applicability], bool]],
    machine: Machine,
) -> Belongs:
    """``before`` are the numbers whose place it takes, their entries, and whether the step that
    leads from each names the machine's serials."""
    for number, entries, named in before:
        listed = judge(number, entries, machine)
        if listed.verdict == LISTED:
            return through_chain(verdict, part.number, number, listed, named)
    return verdict


def serial_evidence(verdict: Belongs, machine: Machine) -> Evidence | None:
    """The item of evidence that the books give; None where they are silent."""
    entry = verdict.decisive
    if entry is None:
        return None
    held = machine.serials.get(entry.component)
    seen = held.serial if held else machine.name
    bits = BITS[verdict.verdict]
    if verdict.verdict == NOT_LISTED and verdict.before:
        bits += BITS[SERVICE]
    return Evidence(Topic.SERIAL, seen, entry.shown(), bits, verdict.because)
