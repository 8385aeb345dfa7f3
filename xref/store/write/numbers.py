"""The numbers that rows are given where many are written at once."""

from __future__ import annotations

from sqlalchemy import Connection, Table, column, func, select
from sqlalchemy import table as named

_COUNTER = named("sqlite_sequence", column("name"), column("seq"))
"""SQLite's own table of the highest numbers that were ever given out."""


def next_number(conn: Connection, table: Table) -> int:
    """The number that a row of ``table`` may have: above all that there are, and above all that
    there were where the table gives none out twice."""
    highest = int(conn.scalar(select(func.max(table.c.id))) or 0)
    if conn.dialect.name == "sqlite":
        ever = conn.scalar(select(_COUNTER.c.seq).where(_COUNTER.c.name == table.name))
        highest = max(highest, int(ever or 0))
    elif conn.dialect.name == "postgresql":
        following = func.nextval(func.pg_get_serial_sequence(table.name, "id"))
        return max(highest + 1, int(conn.scalar(select(following)) or 0))
    return highest + 1
