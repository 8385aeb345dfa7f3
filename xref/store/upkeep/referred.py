"""What a row of the history points to, by the name a person knows it by, and what it counts."""

from __future__ import annotations

from sqlalchemy import Connection, select

from xref.domain.part import BOUNDARY
from xref.store.tables.layout import metadata
from xref.store.tables.tables import NANOMETRES, boundary
from xref.store.write.history import key_column

_LABELS = ("number", "name", "title", "place")


def referred(conn: Connection, table: str, column: str, ident: int) -> str | None:
    """The number, name, title or place of the row that ``column`` of ``table`` points to.

    "" where that row is gone or has none of these; None where the column points to nothing.
    """
    links = list(metadata.tables[table].c[column].foreign_keys)
    if not links:
        return None
    target = links[0].column.table
    label = next((name for name in _LABELS if name in target.c), None)
    if label is None:
        return ""
    found = conn.scalar(select(target.c[label]).where(key_column(target) == ident))
    return str(found) if found is not None else ""


def boundary_sizes(conn: Connection, ident: int) -> dict[str, int]:
    """The boundary dimensions of one row in nanometres by name; {} where that row is gone."""
    row = conn.execute(select(boundary).where(boundary.c.id == ident)).mappings().first()
    return {name: int(row[name]) for name in BOUNDARY if row[name]} if row else {}


def counts_nanometres(table: str, column: str) -> bool:
    """Whether ``column`` of ``table`` holds lengths in nanometres (or the plain numbers beside)."""
    return metadata.tables[table].c[column].info == NANOMETRES
