"""Write down that one part serves for another, and follow such notes."""

from __future__ import annotations

from collections import deque
from collections.abc import Sequence
from dataclasses import dataclass

from sqlalchemy import Connection

from xref.domain.line import optional_line
from xref.domain.number import visible
from xref.domain.part import Part
from xref.errors import InputError
from xref.services.parts.cautioning import every_caution
from xref.services.parts.naming import find_or_mention, maker_beside, mention_beside
from xref.services.parts.source import source_id_of
from xref.store.read.links import InterchangeRow, interchanges
from xref.store.write.link_unit import add_interchange, join_groups
from xref.store.write.unit import UnitOfWork

SAME, STATED, WITH_WORK = "same", "stated", "with-work"
FITS, FITS_NOT = "tried-fits", "tried-does-not-fit"
GRADES = (SAME, STATED, WITH_WORK, FITS, FITS_NOT)

SHOWN = {
    SAME: "same designation",
    STATED: "stated",
    WITH_WORK: "with work",
    FITS: "tried, fits",
    FITS_NOT: "tried, does not fit",
}
"""How each grade is written in answers."""
TOLD = {**SHOWN, SAME: "same part"}
"""How it is said of two numbers, which are seldom one designation."""

_DROPS = {FITS: STATED, SAME: SAME, STATED: WITH_WORK}
"""What a grade is worth one interchange further on; what is not here leads no further. Judged."""

FARTHEST = 4
"""Interchanges in a row beyond which nothing is said. Judged."""


@dataclass(frozen=True, slots=True)
class Interchanged:
    """What was written down, and the numbers made for it."""

    part: Part
    other: Part
    made: tuple[str, ...]
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Reached:
    """A part reached by interchanges. ``path`` holds the ids from the first to it.

    ``both`` is whether it also holds the other way round.
    """

    part_id: int
    grade: str
    both: bool
    path: tuple[int, ...]
    note: str
    source: str


def interchange(
    unit: UnitOfWork,
    number: str,
    other: str,
    *,
    grade: str,
    one_way: bool = False,
    source: str = "",
    note: str = "",
) -> Interchanged:
    """Write down that ``number`` serves for ``other`` (and the other way round unless one way).

    The grade ``same`` makes the two one physical thing. Numbers that are not there are made as
    mentioned only. Raises InputError for an unknown grade or a part with itself.
    """
    first = mention_beside(unit, number, None, maker_beside(unit.conn, other))
    second = find_or_mention(unit, other, None, first.part.own_maker)
    one, two = first.part, second.part
    said = check_pair(one, two, grade, one_way, note)
    source_id = source_id_of(unit, source)
    add_interchange(unit, (one.id, two.id), grade, not one_way, said, source_id)
    if grade == SAME and one.group != two.group:
        moving, group = joining(one, two)
        join_groups(unit, moving, group)
    made = tuple(n.part.number for n in (first, second) if n.made)
    return Interchanged(one, two, made, every_caution(unit.conn, (one, two)))


def check_pair(one: Part, two: Part, grade: str, one_way: bool, note: str) -> str:
    """The note as it is kept. Raises InputError where the two cannot stand so."""
    if grade not in GRADES:
        raise InputError(f'no grade is called "{visible(grade)}"', f"Use {', '.join(GRADES)}.")
    said = optional_line(note, 300, "note")
    if one.id == two.id:
        raise InputError(f"{one.number} is the same part", "Name two parts.")
    if grade == SAME and one_way:
        raise InputError("the same designation holds both ways", "Leave out --one-way.")
    return said


def joining(one: Part, two: Part) -> tuple[int, str]:
    """Which of two parts of the same designation moves, and to which group."""
    if one.is_standard and two.is_standard:
        raise InputError(
            f"{one.number} and {two.number} are both rows of standards",
            "Use --grade stated for two standard sizes.",
        )
    moving, staying = (two, one) if one.is_standard else (one, two)
    return moving.id, staying.group


def reached(conn: Connection, part_ids: Sequence[int]) -> list[Reached]:
    """Every part that serves for one of ``part_ids``, or was tried and does not, nearest first.

    Not transitive: what follows only through others drops in grade with each further step, and a
    pair that was tried and does not fit ends the way. A pair that was tried with both outcomes is
    there twice.
    """
    start = tuple(part_ids)
    found: dict[tuple[int, bool], Reached] = {}
    ready: deque[tuple[int, str, bool, tuple[int, ...]]] = deque()
    ready.extend((ident, SAME, True, (ident,)) for ident in start)
    rows = {ident: interchanges(conn, [ident]) for ident in start}
    direct = [row for held in rows.values() for row in held if row.grade == FITS_NOT]
    misfits = {ident for row in direct for ident in (row.part_id, row.other_id)}
    while ready:
        here, grade, both, path = ready.popleft()
        if len(path) > FARTHEST:
            continue
        if here not in rows:
            rows[here] = interchanges(conn, [here])
        for row in rows[here]:
            step = _step(row, here, grade, both, path)
            if step is None or step.part_id in start:
                continue
            tried = step.part_id in misfits
            which = (step.part_id, step.grade == FITS_NOT)
            if _known(found.get(which), step) or (tried and step.grade not in (FITS, FITS_NOT)):
                continue
            found[which] = step
            further = _DROPS.get(step.grade)
            if further is not None and not tried:
                ready.append((step.part_id, further, step.both, step.path))
    return list(found.values())


def tried_between(conn: Connection, part_id: int, ids: Sequence[int]) -> list[Reached]:
    """What was tried of a part with the others of ``ids``, though they count as one thing."""
    found = []
    for row in interchanges(conn, [part_id]):
        step = _step(row, part_id, SAME, True, (part_id,))
        if step is not None and step.part_id in ids and step.grade in (FITS, FITS_NOT):
            found.append(step)
    return found


def misfits(conn: Connection, part_id: int) -> set[int]:
    """Ids of the parts that were tried in place of this one, or it of them, and do not fit."""
    rows = [row for row in interchanges(conn, [part_id]) if row.grade == FITS_NOT]
    return {ident for row in rows for ident in (row.part_id, row.other_id)} - {part_id}


def _known(held: Reached | None, step: Reached) -> bool:
    """Whether a way that is as short is known; what was tried outranks what is stated."""
    if held is None:
        return False
    if len(held.path) < len(step.path):
        return True
    return _rank(held.grade) <= _rank(step.grade)


def _rank(grade: str) -> int:
    return (FITS_NOT, FITS, SAME, STATED, WITH_WORK).index(grade)


def _step(
    row: InterchangeRow, here: int, grade: str, both: bool, path: tuple[int, ...]
) -> Reached | None:
    """One interchange further on: a part that serves for ``here``; None where there is none new."""
    other = row.other_id if row.part_id == here else row.part_id
    serves_only = row.part_id == here and not row.both_ways and row.grade != FITS_NOT
    if other in path or serves_only:
        return None
    direct = len(path) == 1
    if not direct and row.grade in (FITS_NOT, WITH_WORK):
        return None
    to = row.grade if direct else max(grade, row.grade, key=_rank)
    return Reached(other, to, both and row.both_ways, (*path, other), row.note, row.source)
