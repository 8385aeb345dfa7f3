"""Read parts whole: the record with its sizes, spellings and marks."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from typing import Any, TypeVar

from sqlalchemy import Column, Connection, Select, select

from xref.domain.part import BOUNDARY, Part, PartMark, Spelling, StoredSize
from xref.store.file.collecting import few_collections
from xref.store.tables.tables import boundary, maker, mark, part, size, spelling

V = TypeVar("V")

IN_MOST = 500
"""Values bound to one IN list: well under every database's limit on parameters."""


def pieces(values: Sequence[V]) -> Iterator[Sequence[V]]:
    """``values`` in pieces that fit one IN list."""
    for at in range(0, len(values), IN_MOST):
        yield values[at : at + IN_MOST]


def load_parts(conn: Connection, ids: Sequence[int]) -> list[Part]:
    """The parts with these ids, in no particular order; an id that is not there is left out."""
    return [record for piece in pieces(ids) for record in _load(conn, piece)]


def every_part(conn: Connection) -> list[Part]:
    """Every part of the store, in no particular order: quicker than by their ids."""
    with few_collections():
        return _load(conn, None)


def _load(conn: Connection, ids: Sequence[int] | None) -> list[Part]:
    """The parts with these ids, None for all."""
    sizes, spellings, marks = _sizes(conn, ids), _spellings(conn, ids), _marks(conn, ids)
    found = []
    query = (
        select(part, maker.c.name.label("maker_name"), *(boundary.c[name] for name in BOUNDARY))
        .join(maker, maker.c.id == part.c.maker_id)
        .outerjoin(boundary, boundary.c.id == part.c.boundary_id)
    )
    for row in conn.execute(_among(query, part.c.id, ids)).mappings().all():
        held = {name: StoredSize(row[name]) for name in BOUNDARY if row[name]}
        found.append(
            Part(
                number=row["number"],
                maker=row["maker_name"],
                kind=row["kind"],
                group=row["group_key"],
                origin=row["origin"],
                weight=row["weight"],
                id=row["id"],
                type=row["type"],
                words=row["words"],
                status=row["status"],
                sizes=held | sizes.get(row["id"], {}),
                spellings=tuple(spellings.get(row["id"], ())),
                marks=tuple(marks.get(row["id"], ())),
                tables_agreeing=row["tables_agreeing"],
                note=row["note"],
            )
        )
    return found


def _among(query: Select[Any], column: Column[int], ids: Sequence[int] | None) -> Select[Any]:
    return query if ids is None else query.where(column.in_(ids))


def _sizes(conn: Connection, ids: Sequence[int] | None) -> dict[int, dict[str, StoredSize]]:
    """The sizes that are no boundary dimensions, by part."""
    s = size.c
    query = _among(select(s.part_id, s.name, s.value, s.lower, s.upper), s.part_id, ids)
    found: dict[int, dict[str, StoredSize]] = defaultdict(dict)
    for ident, name, value, lower, upper in conn.execute(query).all():
        found[ident][name] = StoredSize(value, lower, upper)
    return found


def _spellings(conn: Connection, ids: Sequence[int] | None) -> dict[int, list[Spelling]]:
    s = spelling.c
    query = _among(select(s.part_id, s.text, s.weight, s.role, s.takes_suffix), s.part_id, ids)
    found: dict[int, list[Spelling]] = defaultdict(list)
    for ident, text, weight, role, takes in conn.execute(query.order_by(s.id)).all():
        found[ident].append(Spelling(text, weight, role, bool(takes)))
    return found


def _marks(conn: Connection, ids: Sequence[int] | None) -> dict[int, list[PartMark]]:
    query = _among(select(mark.c.part_id, mark.c.text, mark.c.role), mark.c.part_id, ids)
    found: dict[int, list[PartMark]] = defaultdict(list)
    for ident, text, role in conn.execute(query.order_by(mark.c.id)).all():
        found[ident].append(PartMark(text, role))
    return found
