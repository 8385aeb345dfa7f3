"""Marks on record."""

from __future__ import annotations

from sqlalchemy import Connection

from xref.domain.part import Part
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
from xref.services.parts.designated import look_up
from xref.services.parts.mark import checked
from xref.services.parts.part import takes_suffix
from xref.services.parts.source import source_id_of
from xref.store.read.load import load_parts
from xref.store.write import facts
from xref.store.write.facts import MarkRow
from xref.store.write.unit import UnitOfWork

KIND, COMMAND = "mark", "mark"
WITHOUT = ("source",)
"""What can be taken from a mark."""


def listed(
    conn: Connection, number: str | None = None, maker: str | None = None, most: int = MOST
) -> list[Fact]:
    """The marks on record, oldest first: those of one part, or all."""
    part_id = look_up(conn, number, maker).id if number else None
    rows = facts.mark_rows(conn, most, part_id)
    parts = {part.id: part for part in load_parts(conn, sorted({row.part_id for row in rows}))}
    return [_fact(row, parts[row.part_id]) for row in rows]


def _fact(row: MarkRow, part: Part) -> Fact:
    says = joined(f"{row.text} ({row.role})", row.source)
    values = {
        "maker": part.maker or None,
        "text": row.text,
        "role": row.role,
        "source": row.source or None,
    }
    return Fact(row.id, KIND, part.number, says, values)


def change(
    unit: UnitOfWork,
    ident: int,
    *,
    text: str | None = None,
    role: str | None = None,
    source: str | None = None,
) -> Changed:
    """Change what is given of one mark and leave the rest (None); "" takes the source away.

    Raises NotFoundError for a number that no mark has, InputError for what ``mark add`` refuses.
    """
    if text is role is source is None:
        raise NOTHING
    held, part = _held(unit.conn, ident)
    now = checked(kept(text, held.text), kept(role, held.role))
    row = facts.row_of(unit.conn, facts.MARK, ident) or {}
    source_id = row["source_id"] if source is None else source_id_of(unit, source)
    before = _fact(held, part)
    if (now.text, now.role) == (held.text, held.role):
        unit.update(facts.MARK, ident, {"source_id": source_id})
        return Changed(before, _fact(_held(unit.conn, ident)[0], part))
    alike = {"part_id": part.id, "text": now.text, "role": now.role}
    there = facts.same_row(unit.conn, facts.MARK, ident, alike)
    if there is not None:
        raise same_said(KIND, there, COMMAND, ident)
    unit.touch([part.group])
    facts.drop_mark(unit, held)
    suffixed = now.role == "number" and takes_suffix(now.text)
    unit.add_mark(part.id, now, source_id, takes_suffix=suffixed, ident=ident)
    return Changed(before, _fact(_held(unit.conn, ident)[0], part))


def remove(unit: UnitOfWork, ident: int) -> Changed:
    """Remove one mark; a number mark is not searched any more.

    Raises NotFoundError for a number that no mark has.
    """
    held, part = _held(unit.conn, ident)
    unit.touch([part.group])
    facts.drop_mark(unit, held)
    return Changed(_fact(held, part))


def _held(conn: Connection, ident: int) -> tuple[MarkRow, Part]:
    rows = facts.mark_rows(conn, 1, ident=ident)
    if not rows:
        raise no_such(KIND, ident, COMMAND)
    return rows[0], load_parts(conn, [rows[0].part_id])[0]
