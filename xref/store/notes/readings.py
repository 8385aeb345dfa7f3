"""How the user reads marks: counts in the store."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from sqlalchemy import Connection, select

from xref.store.tables.reading import reading_count
from xref.store.write.unit import UnitOfWork


def reading_counts(conn: Connection) -> dict[tuple[str, str], float]:
    """How often each (true, read) pair was met."""
    r = reading_count.c
    query = select(r.true_char, r.read_char, r.count)
    return {(true, read): float(count) for true, read, count in conn.execute(query)}


def add_readings(unit: UnitOfWork, pairs: Iterable[tuple[str, str]], times: int) -> None:
    """Count each pair ``times`` more; −1 takes back what was counted before."""
    r = reading_count.c
    for (true, read), count in Counter(pairs).items():
        same = (r.true_char == true, r.read_char == read)
        row = unit.conn.execute(select(r.id, r.count).where(*same)).first()
        now = (float(row[1]) if row else 0.0) + count * times
        if row is None and now > 0:
            unit.insert(reading_count, {"true_char": true, "read_char": read, "count": now})
        elif row is not None and now > 0:
            unit.update(reading_count, int(row[0]), {"count": now})
        elif row is not None:
            unit.delete(reading_count, int(row[0]))


def forget_readings(unit: UnitOfWork) -> int:
    """Remove every count; how many pairs there were."""
    ids = list(unit.conn.scalars(select(reading_count.c.id)))
    for ident in ids:
        unit.delete(reading_count, ident)
    return len(ids)
