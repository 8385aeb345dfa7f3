"""Which parts the user has tied something to: a range, a chain, an entry of the bench book."""

from __future__ import annotations

from collections.abc import Sequence

from sqlalchemy import Connection, select

from xref.store.read.load import pieces
from xref.store.tables.bench import bench_item, wanted
from xref.store.tables.links import applicability, interchange, supersession, supersession_part

_TIES = (
    applicability.c.part_id,
    supersession.c.old_id,
    supersession_part.c.part_id,
    interchange.c.part_id,
    interchange.c.other_id,
    bench_item.c.part_id,
    wanted.c.part_id,
)


def linked_parts(conn: Connection, part_ids: Sequence[int]) -> set[int]:
    """Those of ``part_ids`` that stand in a range, a chain or the bench book."""
    return {
        ident
        for some in pieces(part_ids)
        for column in _TIES
        for ident in conn.scalars(select(column).where(column.in_(some)))
    }
