"""Boundary dimensions that no part has any more."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator

from sqlalchemy import Connection, select

from xref.store.read.load import pieces
from xref.store.tables.history import action, change
from xref.store.tables.tables import boundary, part


def unused_boundaries(conn: Connection, among: Iterable[int] | None = None) -> list[int]:
    """Ids of the boundary dimensions that neither a part nor the history holds."""
    ids = set(conn.scalars(select(boundary.c.id))) if among is None else set(among)
    for some in pieces(list(ids)):
        ids -= set(conn.scalars(select(part.c.boundary_id).where(part.c.boundary_id.in_(some))))
    if ids:
        ids -= set(_remembered(conn))
    return sorted(ids)


def _remembered(conn: Connection) -> Iterator[int]:
    """Boundary dimensions that an undo would put back: their figures are not in the history."""
    query = (
        select(change.c.before)
        .join(action, action.c.id == change.c.action_id)
        .where(action.c.undone.is_(False), change.c.table_name == part.name)
        .where(change.c.before.is_not(None))
    )
    for text in conn.scalars(query):
        ident = json.loads(text).get("boundary_id")
        if ident is not None:
            yield int(ident)
