"""Names that were made since a moment."""

from __future__ import annotations

from sqlalchemy import Connection, Select, func, select

from xref.store.tables.links import model
from xref.store.tables.tables import maker, part, source

TABLES = (maker, model, source, part)
MENTIONED = "mentioned"


def highest_ids(conn: Connection) -> tuple[int, int, int, int]:
    """The highest id of makers, models, sources and parts; 0 where there is none."""
    ids = [int(conn.scalar(select(func.max(table.c.id))) or 0) for table in TABLES]
    return ids[0], ids[1], ids[2], ids[3]


def names_since(
    conn: Connection, ids: tuple[int, int, int, int], most: int
) -> tuple[list[str], list[str], list[str], list[str]]:
    """Makers, models, sources and parts that are mentioned only, with ids higher than ``ids``:
    their names in order of making, at most ``most`` of each."""
    own = maker.c.is_standard.is_(False)
    queries: tuple[Select[tuple[str]], ...] = (
        select(maker.c.name).where(maker.c.id > ids[0], own).order_by(maker.c.id),
        select(model.c.name).where(model.c.id > ids[1]).order_by(model.c.id),
        select(source.c.title).where(source.c.id > ids[2]).order_by(source.c.id),
        select(part.c.number)
        .where(part.c.id > ids[3], part.c.status == MENTIONED)
        .order_by(part.c.id),
    )
    found = [[str(name) for name in conn.scalars(query.limit(most))] for query in queries]
    return found[0], found[1], found[2], found[3]
