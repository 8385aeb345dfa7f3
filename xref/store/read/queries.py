"""Questions to the store, answered in the domain's own records."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from functools import partial
from typing import Any, NamedTuple

from rapidfuzz import process
from rapidfuzz.distance import OSA
from sqlalchemy import ColumnElement, Connection, func, literal, or_, select

from xref.domain.number import folded, key, visible
from xref.domain.part import BOUNDARY, Part
from xref.errors import NotFoundError
from xref.store.read.load import load_parts
from xref.store.read.resolving import (
    SHOWN_CHOICES,
    SPELLED,
    SPELLING_LEAST,
    SPELLING_ROLES,
    find_by,
    own_first,
)
from xref.store.tables.tables import boundary_class, maker, part, size, source, spelling


class ValueWeight(NamedTuple):
    """Parts of one kind that have the same value of a size, with their weight together.

    Value and limits are nanometres, or plain counts; ``limits``: how far below and above the value
    such a part may be, 0 where none are on record.
    """

    kind: str
    value: int
    limits: tuple[int, int]
    weight: float


def value_weights(
    conn: Connection, name: str, low: int, high: int, kind: str | None
) -> list[ValueWeight]:
    """Each stored value of size ``name`` in the window, with the weight of the parts it has.

    The window is in nanometres, or plain counts; ``kind`` None is every kind.
    """
    if name in BOUNDARY:
        held, owner = boundary_class.c[name], boundary_class
        shared: list[ColumnElement[Any]] = [owner.c.kind, held, literal(0), literal(0)]
        query = select(*shared, func.sum(boundary_class.c.weight))
        query = query.group_by(owner.c.kind, held)
    else:
        held, owner = size.c.value, part
        shared = [owner.c.kind, held, size.c.lower, size.c.upper]
        query = select(*shared, func.sum(part.c.weight)).join(part, part.c.id == size.c.part_id)
        query = query.where(size.c.name == name).group_by(*shared)
    query = query.where(held.between(low, high))
    if kind:
        query = query.where(owner.c.kind == kind)
    return [
        ValueWeight(row[0], row[1], (row[2] or 0, row[3] or 0), float(row[4]))
        for row in conn.execute(query)
    ]


def parts_by_words(conn: Connection, ways: Iterable[Collection[str]], most: int) -> list[int]:
    """Ids of at most ``most`` parts whose description holds every word of one of ``ways``, in
    their order."""
    found: dict[int, None] = {}
    said = func.lower(part.c.words)
    for words in ways:
        query = (
            select(part.c.id)
            .where(*(said.contains(word, autoescape=True) for word in sorted(words)))
            .order_by(part.c.weight.desc(), part.c.id)
            .limit(most)
        )
        found.update(dict.fromkeys(conn.scalars(query)))
        if len(found) >= most:
            break
    return list(found)[:most]


def find_part(conn: Connection, text: str, maker_name: str | None = None) -> Part | None:
    """As ``resolving.find_by``, of all that is on record."""
    return find_by(partial(_held, conn), text, maker_name)


def find_own_first(conn: Connection, text: str, maker_name: str | None = None) -> Part | None:
    """As ``find_part``; a number of the user's own comes before a standard's of the same text."""
    return find_by(own_first(partial(_held, conn)), text, maker_name)


def resolve(conn: Connection, text: str, maker_name: str | None = None) -> Part:
    """As ``find_part``; raises NotFoundError with the nearest numbers where there is none."""
    found = find_part(conn, text, maker_name)
    if found is not None:
        return found
    near = nearest_numbers(conn, text)
    hint = f"Nearest: {', '.join(near)}." if near else "Add it with xref part add."
    raise NotFoundError(f'no part is numbered "{visible(text)}"', hint)


def _held(conn: Connection, step: str, value: str, whose: str | None) -> list[Part]:
    query = select(part.c.id)
    if step == SPELLED:
        named = spelling.c.role.in_(SPELLING_ROLES), spelling.c.weight >= SPELLING_LEAST
        owners = select(spelling.c.part_id).where(spelling.c.folded == value, *named)
        query = query.where(part.c.id.in_(owners))
    else:
        query = query.where(part.c[step] == value)
    if whose is not None:
        query = query.join(maker, maker.c.id == part.c.maker_id).where(maker.c.key == whose)
    return load_parts(conn, list(conn.scalars(query)))


def nearest_numbers(conn: Connection, text: str, most: int = 3) -> list[str]:
    """The numbers in the store nearest to ``text`` in spelling, nearest first: those with at most
    one character of three amiss, and three in all (judged).

    Each stands once; where several makers have it, they are named behind it in brackets.
    """
    wanted = folded(text)
    if not wanted:
        return []
    query = select(part.c.number, part.c.folded, maker.c.name)
    makers: dict[tuple[str, str], set[str]] = {}
    for number, flat, name in conn.execute(query.join(maker, maker.c.id == part.c.maker_id)):
        makers.setdefault((number, flat), set()).add(name or "no maker")
    every = list(makers)
    near = process.extract(
        wanted,
        [flat for _, flat in every],
        scorer=OSA.distance,
        limit=most,
        score_cutoff=min(3, (len(wanted) + 1) // 3),
    )
    return [_with_makers(every[at][0], makers[every[at]]) for _, _, at in near]


def _with_makers(number: str, makers: set[str]) -> str:
    if len(makers) == 1:
        return number
    named = sorted(makers)[:SHOWN_CHOICES]
    return f"{number} ({', '.join(named)}{', …' if len(makers) > len(named) else ''})"


def list_parts(
    conn: Connection, kind: str = "", maker_name: str = "", standard: bool = False, most: int = 200
) -> list[Part]:
    """Parts in order of number: the user's own, or the standards' rows if ``standard``."""
    origin = "standard" if standard else "store"
    query = select(part.c.id).join(maker, maker.c.id == part.c.maker_id)
    query = query.where(part.c.origin == origin)
    if kind:
        query = query.where(part.c.kind == kind)
    if maker_name:
        query = query.where(maker.c.key == key(maker_name))
    ids = list(conn.scalars(query.order_by(part.c.key, part.c.id).limit(most)))
    by_id = {p.id: p for p in load_parts(conn, ids)}
    return [by_id[i] for i in ids]


def count_parts(conn: Connection, origin: str) -> int:
    """How many parts of this origin are on record."""
    return int(
        conn.scalar(select(func.count()).select_from(part).where(part.c.origin == origin)) or 0
    )


def sources(conn: Connection) -> list[tuple[int, str, str, str, str]]:
    """Every source: id, title, edition, kind, note, in order of title."""
    table = source.c
    query = select(table.id, table.title, table.edition, table.kind, table.note)
    rows = conn.execute(query.order_by(table.title, table.edition))
    return [(row[0], row[1], row[2], row[3], row[4]) for row in rows]


def find_sources(conn: Connection, text: str) -> list[tuple[int, str]]:
    """Id and full name of each source whose title, or title and edition, is ``text``."""
    full = source.c.title + " " + source.c.edition
    query = select(source.c.id, full).where(or_(source.c.title == text, full == text))
    return [(ident, name.strip()) for ident, name in conn.execute(query.order_by(full))]


def any_chains(conn: Connection) -> bool:
    """Whether any supersession is on record at all."""
    return conn.exec_driver_sql("SELECT 1 FROM supersession LIMIT 1").first() is not None


def any_learned(conn: Connection) -> bool:
    """Whether anything was learned of how the user reads marks."""
    return conn.exec_driver_sql("SELECT 1 FROM reading_count LIMIT 1").first() is not None
