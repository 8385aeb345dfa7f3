"""What stands beside a part in chains and interchanges, as plain links."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sqlalchemy import Connection, select

from xref.domain.weights import ORIGIN_STANDARD
from xref.store.read.load import pieces
from xref.store.tables.links import NEW, interchange, supersession, supersession_part
from xref.store.tables.tables import part

REPLACES, SERVES, SAME = "replaces", "serves", "same"
NOT_FITTING = "tried-does-not-fit"


@dataclass(frozen=True, slots=True)
class Link:
    """``part_id`` replaces ``other_id``, or serves for it or it for this (in one way at
    least), or is another record of the same thing."""

    part_id: int
    other_id: int
    what: str


@dataclass(frozen=True, slots=True)
class Described:
    """What a part is called and said to be."""

    number: str
    words: str
    kind: str
    is_standard: bool


def any_links(conn: Connection) -> bool:
    """Whether any supersession or interchange is on record at all."""
    tables = ("supersession", "interchange")
    return any(
        conn.exec_driver_sql(f"SELECT 1 FROM {name} LIMIT 1").first() is not None for name in tables
    )


def links_beside(conn: Connection, part_ids: Sequence[int]) -> list[Link]:
    """Every link that one of these parts stands in; what was tried and does not fit is none."""
    s, p, i = supersession.c, supersession_part.c, interchange.c
    step = (
        select(p.part_id, s.old_id)
        .join(supersession, s.id == p.supersession_id)
        .where(p.role == NEW)
        .order_by(s.id, p.id)
    )
    served = select(i.part_id, i.other_id).where(i.grade != NOT_FITTING).order_by(i.id)
    found: dict[Link, None] = {}
    for some in pieces(part_ids):
        for query, column, what in (
            (step, p.part_id, REPLACES),
            (step, s.old_id, REPLACES),
            (served, i.part_id, SERVES),
            (served, i.other_id, SERVES),
        ):
            rows = conn.execute(query.where(column.in_(some)))
            found |= {Link(one, other, what): None for one, other in rows}
    return list(found)


def twins(conn: Connection, part_ids: Sequence[int]) -> list[Link]:
    """The user's own records of the same physical things as these parts."""
    p, q = part.alias("one").c, part.alias("two").c
    query = select(p.id, q.id).where(p.group_key == q.group_key, p.id != q.id)
    own = query.where(q.origin != ORIGIN_STANDARD).order_by(q.id)
    return [
        Link(one, other, SAME)
        for some in pieces(part_ids)
        for one, other in conn.execute(own.where(p.id.in_(some)))
    ]


def described(conn: Connection, part_ids: Sequence[int]) -> dict[int, Described]:
    """What these parts are called and said to be, by id."""
    p = part.c
    return {
        ident: Described(number, words or "", kind or "", origin == ORIGIN_STANDARD)
        for some in pieces(part_ids)
        for ident, number, words, kind, origin in conn.execute(
            select(p.id, p.number, p.words, p.kind, p.origin).where(p.id.in_(some))
        )
    }
