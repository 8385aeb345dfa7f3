"""Interchanges on record, and the parts that they make one thing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from sqlalchemy import Connection

from xref.domain.part import Part
from xref.services.changing.fact import MOST, NOTHING, Changed, Fact, joined, kept, no_such
from xref.services.changing.fact import same_said as already
from xref.services.links.interchange import SAME, TOLD, check_pair, joining
from xref.services.parts.designated import look_up
from xref.services.parts.part import own_part
from xref.services.parts.source import source_id_of
from xref.store.read.links import InterchangeRow, interchanges
from xref.store.read.load import load_parts
from xref.store.write import facts
from xref.store.write.link_unit import join_groups
from xref.store.write.unit import UnitOfWork

KIND, COMMAND = "interchange", "interchange"
WITHOUT = ("source", "note")
"""What can be taken from an interchange."""


def listed(
    conn: Connection, number: str | None = None, maker: str | None = None, most: int = MOST
) -> list[Fact]:
    """The interchanges on record, oldest first: those of one part, or all."""
    part_id = look_up(conn, number, maker).id if number else None
    return _facts(conn, facts.pair_owners(conn, most, part_id))


def standing_in(conn: Connection, part_id: int) -> list[Fact]:
    """The interchanges of a part."""
    return _facts(conn, facts.pair_owners(conn, 10_000, part_id))


def _facts(conn: Connection, owners: Sequence[tuple[int, int]]) -> list[Fact]:
    wanted = {ident for ident, _ in owners}
    rows = interchanges(conn, list(dict.fromkeys(owner for _, owner in owners)))
    return facts_of(conn, [row for row in sorted(rows, key=lambda r: r.id) if row.id in wanted])


def facts_of(conn: Connection, rows: Sequence[InterchangeRow]) -> list[Fact]:
    """Interchanges as facts."""
    ids = {ident for row in rows for ident in (row.part_id, row.other_id)}
    parts = {part.id: part for part in load_parts(conn, sorted(ids))}
    return [_fact(row, parts[row.part_id], parts[row.other_id]) for row in rows]


def _fact(row: InterchangeRow, one: Part, two: Part) -> Fact:
    sign = "↔" if row.both_ways else "→"
    says = joined(f"{sign} {two.number}: {TOLD[row.grade]}", row.note, row.source)
    values = {
        "maker": one.maker or None,
        "other": two.number,
        "other_maker": two.maker or None,
        "grade": row.grade,
        "one_way": not row.both_ways,
        "note": row.note or None,
        "source": row.source or None,
    }
    return Fact(row.id, KIND, one.number, says, values)


def change(
    unit: UnitOfWork,
    ident: int,
    *,
    grade: str | None = None,
    one_way: bool | None = None,
    source: str | None = None,
    note: str | None = None,
) -> Changed:
    """Change what is given of one interchange and leave the rest (None); "" takes it away.

    Raises NotFoundError for a number that none has, InputError for what ``interchange`` refuses.
    """
    if all(word is None for word in (grade, one_way, source, note)):
        raise NOTHING
    held, one, two = _held(unit.conn, ident)
    now = kept(grade, held.grade)
    way = (not held.both_ways and now != SAME) if one_way is None else one_way
    said = check_pair(one, two, now, way, kept(note, held.note))
    alike = {"part_id": one.id, "other_id": two.id, "grade": now}
    there = facts.same_row(unit.conn, facts.PAIR, ident, alike)
    if there is not None:
        raise already(KIND, there, COMMAND, ident)
    row: dict[str, object] = {"grade": now, "both_ways": not way, "note": said}
    if source is not None:
        row["source_id"] = source_id_of(unit, source)
    before = _fact(held, one, two)
    unit.update(facts.PAIR, ident, row)
    if now == SAME and one.group != two.group:
        join_groups(unit, *joining(one, two))
    also = part_again(unit, one, two) if held.grade == SAME != now else ()
    return Changed(before, _fact(_held(unit.conn, ident)[0], one, two), also)


def remove(unit: UnitOfWork, ident: int) -> Changed:
    """Remove one interchange; two parts that it made one thing are two again.

    Raises NotFoundError for a number that none has.
    """
    held, one, two = _held(unit.conn, ident)
    unit.delete(facts.PAIR, ident)
    also = part_again(unit, one, two) if held.grade == SAME else ()
    return Changed(_fact(held, one, two), None, also)


def part_again(unit: UnitOfWork, one: Part, two: Part) -> tuple[str, ...]:
    """Part what an interchange that is gone made one thing, unless others still do."""
    for start in (one, two):
        regroup(unit, start)
    now = {part.id: part.group for part in load_parts(unit.conn, [one.id, two.id])}
    apart = one.group == two.group and len(set(now.values())) == 2
    return (f"{one.number} and {two.number} count as two parts again.",) if apart else ()


def regroup(unit: UnitOfWork, start: Part) -> None:
    """Give the parts that interchanges make one thing with ``start`` one group, a standard's where
    one is among them."""
    together = _together(unit.conn, start.id)
    parts = load_parts(unit.conn, sorted(together))
    standard = [part.group for part in parts if part.is_standard]
    own = [own_part(p.number, p.maker, p.kind).group for p in parts if not p.is_standard]
    held = [part.group for part in parts if part.group in own]
    group = (standard or held or own)[0]
    for part in parts:
        if not part.is_standard and part.group != group:
            unit.change_part(part.id, replace(part, group=group))


def _together(conn: Connection, start: int) -> set[int]:
    found, ready = {start}, [start]
    while ready:
        rows = interchanges(conn, [ready.pop()])
        for row in rows:
            if row.grade == SAME:
                new = {row.part_id, row.other_id} - found
                found |= new
                ready += new
    return found


def _held(conn: Connection, ident: int) -> tuple[InterchangeRow, Part, Part]:
    row = facts.row_of(conn, facts.PAIR, ident)
    if row is None:
        raise no_such(KIND, ident, COMMAND)
    parts = {part.id: part for part in load_parts(conn, [row["part_id"], row["other_id"]])}
    held = next(r for r in interchanges(conn, [row["part_id"]]) if r.id == ident)
    return held, parts[held.part_id], parts[held.other_id]
