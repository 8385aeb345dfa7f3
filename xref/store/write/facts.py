"""Single facts by their ids: found, listed, changed and removed, within a unit of work."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from sqlalchemy import ColumnElement, Connection, Table, exists, func, or_, select

from xref.domain.serial_text import stored
from xref.domain.supersession import Step
from xref.store.read.links import ModelRow
from xref.store.tables.bench import bench_item, wanted
from xref.store.tables.layout import metadata
from xref.store.tables.links import (
    NEW,
    WITH,
    applicability,
    interchange,
    model,
    supersession,
    supersession_part,
)
from xref.store.tables.sheets import part_claim, part_extra, price
from xref.store.tables.tables import maker, mark, part, source, source_title, spelling
from xref.store.write.history import UNWATCHED, key_column
from xref.store.write.unit import UnitOfWork

RANGE, STEP, PAIR, MARK, WANT, ITEM = (
    applicability,
    supersession,
    interchange,
    mark,
    wanted,
    bench_item,
)
"""The tables of facts by what a person calls them."""
NOTED = {"price": price, "claim": part_claim, "kept": part_extra}
"""The tables of what lists brought along, by the same."""
PART = part
"""The table of parts themselves."""


@dataclass(frozen=True, slots=True)
class MarkRow:
    """A mark with its id, its part's id and its source ("" for none)."""

    id: int
    part_id: int
    text: str
    role: str
    source: str


def row_of(conn: Connection, table: Table, ident: int) -> dict[str, Any] | None:
    """The row with this id as it stands; None where there is none."""
    row = conn.execute(select(table).where(key_column(table) == ident)).mappings().first()
    return None if row is None else dict(row)


def same_row(conn: Connection, table: Table, ident: int, row: Mapping[str, Any]) -> int | None:
    """The id of another row than ``ident`` that has all of ``row``; None for none."""
    same = [table.c[n].is_(None) if v is None else table.c[n] == v for n, v in row.items()]
    found = conn.scalar(select(table.c.id).where(table.c.id != ident, *same).order_by(table.c.id))
    return None if found is None else int(found)


def range_owners(
    conn: Connection, most: int, part_id: int | None = None, model_id: int | None = None
) -> list[tuple[int, int]]:
    """Id and part's id of the ranges, oldest first: all, of one part, on one model."""
    a = applicability.c
    tests = [] if part_id is None else [a.part_id == part_id]
    tests += [] if model_id is None else [a.model_id == model_id]
    return _owners(conn, a.id, a.part_id, tests, most)


def step_owners(conn: Connection, most: int, part_id: int | None = None) -> list[tuple[int, int]]:
    """Id and old part's id of the steps, oldest first: all, or those that name one part."""
    s, p = supersession.c, supersession_part.c
    tests: list[ColumnElement[bool]] = []
    if part_id is not None:
        named = exists().where(p.supersession_id == s.id, p.part_id == part_id)
        tests.append(or_(s.old_id == part_id, named))
    return _owners(conn, s.id, s.old_id, tests, most)


def pair_owners(conn: Connection, most: int, part_id: int | None = None) -> list[tuple[int, int]]:
    """Id and first part's id of the interchanges, oldest first: all, or those of one part."""
    i = interchange.c
    tests = [] if part_id is None else [or_(i.part_id == part_id, i.other_id == part_id)]
    return _owners(conn, i.id, i.part_id, tests, most)


def _owners(
    conn: Connection, ident: Any, owner: Any, tests: Sequence[ColumnElement[bool]], most: int
) -> list[tuple[int, int]]:
    query = select(ident, owner).where(*tests).order_by(ident).limit(most)
    return [(int(row[0]), int(row[1])) for row in conn.execute(query)]


def noted_rows(
    conn: Connection, kind: str, most: int, part_id: int | None = None
) -> list[dict[str, Any]]:
    """The rows of one of NOTED, oldest first: all, or those of one part."""
    table = NOTED[kind]
    query = select(table).order_by(table.c.id).limit(most)
    if part_id is not None:
        query = query.where(table.c.part_id == part_id)
    return [dict(row) for row in conn.execute(query).mappings()]


def whose(conn: Connection, maker_key: str, number_key: str) -> tuple[bool, int | None]:
    """Whether a maker is a standard, and the id of its part of this key; None for none."""
    found = conn.execute(select(maker.c.id, maker.c.is_standard).where(maker.c.key == maker_key))
    row = found.first()
    if row is None:
        return False, None
    query = select(part.c.id).where(part.c.maker_id == row[0], part.c.key == number_key)
    return bool(row[1]), conn.scalar(query)


def mark_rows(
    conn: Connection, most: int, part_id: int | None = None, ident: int | None = None
) -> list[MarkRow]:
    """The marks, oldest first: all, those of one part, or the one with this id."""
    m = mark.c
    query = select(m.id, m.part_id, m.text, m.role, source_title)
    query = query.outerjoin(source, source.c.id == m.source_id).order_by(m.id).limit(most)
    if part_id is not None:
        query = query.where(m.part_id == part_id)
    if ident is not None:
        query = query.where(m.id == ident)
    return [MarkRow(r[0], r[1], r[2], r[3], (r[4] or "").strip()) for r in conn.execute(query)]


def drop_mark(unit: UnitOfWork, row: MarkRow) -> None:
    """Remove a mark, and the spelling that it is searched by. Touch the part's group first."""
    unit.delete(mark, row.id)
    if row.role == "number":
        s = spelling.c
        query = select(s.id).where(s.part_id == row.part_id, s.role == "mark", s.text == row.text)
        for ident in list(unit.conn.scalars(query)):
            unit.delete(spelling, ident)


def rewrite_step(unit: UnitOfWork, ident: int, step: Step, source_id: int | None) -> None:
    """Put ``step`` in place of the one with this id; its numbers only where they differ."""
    unit.update(
        supersession,
        ident,
        {
            "kind": step.kind,
            "serves_back": step.serves_back,
            "model_id": step.model,
            "serials": stored(step.condition),
            "as_found": step.as_found,
            "dated": step.dated,
            "reason": step.reason,
            "source_id": source_id,
        },
    )
    p = supersession_part.c
    query = select(supersession_part).where(p.supersession_id == ident).order_by(p.id)
    held = [dict(row) for row in unit.conn.execute(query).mappings()]
    wanted_ = [(new, NEW, quantity) for new, quantity in step.news]
    wanted_ += [(other, WITH, 1.0) for other in step.companions]
    if [(row["part_id"], row["role"], row["quantity"]) for row in held] == wanted_:
        return
    for row in held:
        unit.delete(supersession_part, row["id"])
    for part_id, role, quantity in wanted_:
        new_row = {"part_id": part_id, "role": role, "quantity": quantity}
        unit.insert(supersession_part, {"supersession_id": ident, **new_row})


def move_references(unit: UnitOfWork, table: Table, ident: int, to: int | None) -> dict[str, int]:
    """Let every row that points to ``ident`` of ``table`` point to ``to`` (None: to nothing); how
    many of each table did. Rows that the database removes along with it are let be."""
    moved: dict[str, int] = {}
    for child, column in _pointing(table):
        query = select(key_column(child)).where(column == ident)
        for there in list(unit.conn.scalars(query)):
            unit.update(child, int(there), {column.name: to})
            moved[child.name] = moved.get(child.name, 0) + 1
    return moved


def references(conn: Connection, table: Table, ident: int) -> dict[str, int]:
    """How many rows of each other table point to ``ident`` of ``table``."""
    found: dict[str, int] = {}
    for child, column in _pointing(table):
        count = int(
            conn.scalar(select(func.count()).select_from(child).where(column == ident)) or 0
        )
        if count:
            found[child.name] = found.get(child.name, 0) + count
    return found


def _pointing(table: Table) -> list[tuple[Table, Any]]:
    return [
        (child, link.parent)
        for child in metadata.sorted_tables
        if child.name not in UNWATCHED
        for link in child.foreign_keys
        if link.column.table is table and link.ondelete != "CASCADE"
    ]


def bench_labels(conn: Connection, machine_id: int | None, part_id: int | None) -> list[int]:
    """Labels of the bench items of a machine, or that were decided to be a part."""
    b = bench_item.c
    query = select(b.id).order_by(b.id)
    if machine_id is not None:
        query = query.where(b.machine_id == machine_id)
    if part_id is not None:
        query = query.where(b.part_id == part_id)
    return [int(ident) for ident in conn.scalars(query)]


def want_numbers(
    conn: Connection, part_id: int | None = None, machine_id: int | None = None
) -> list[int]:
    """Numbers of what is wanted that name a part, or a machine."""
    query = select(wanted.c.id).order_by(wanted.c.id)
    if part_id is not None:
        query = query.where(wanted.c.part_id == part_id)
    if machine_id is not None:
        query = query.where(wanted.c.machine_id == machine_id)
    return [int(i) for i in conn.scalars(query)]


def every_model(conn: Connection) -> list[ModelRow]:
    """Every model in order of name."""
    columns = (model.c.id, model.c.name, maker.c.name, model.c.prefixes)
    query = select(*columns).join(maker, maker.c.id == model.c.maker_id).order_by(model.c.key)
    return [ModelRow(r[0], r[1], r[2], tuple(r[3].split())) for r in conn.execute(query)]
