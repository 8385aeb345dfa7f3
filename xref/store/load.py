"""Read parts whole: the record with its sizes, spellings and marks."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from typing import TypeVar

from sqlalchemy import Connection, select

from xref.domain.part import Part, PartMark, Spelling, StoredSize
from xref.store.tables import boundary, maker, mark, part, size, spelling

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


def _load(conn: Connection, ids: Sequence[int]) -> list[Part]:
    if not ids:
        return []
    sizes: dict[int, dict[str, StoredSize]] = defaultdict(dict)
    for ident, name, value, lower, upper in conn.execute(
        select(size.c.part_id, size.c.name, size.c.value, size.c.lower, size.c.upper)
        .where(size.c.part_id.in_(ids))
    ):  # fmt: skip
        sizes[ident][name] = StoredSize(value, lower, upper)
    spellings: dict[int, list[Spelling]] = defaultdict(list)
    for ident, text, weight, role, takes in conn.execute(
        select(
            spelling.c.part_id, spelling.c.text, spelling.c.weight, spelling.c.role,
            spelling.c.takes_suffix,
        )
        .where(spelling.c.part_id.in_(ids))
        .order_by(spelling.c.id)
    ):  # fmt: skip
        spellings[ident].append(Spelling(text, weight, role, bool(takes)))
    marks: dict[int, list[PartMark]] = defaultdict(list)
    for ident, text, role in conn.execute(
        select(mark.c.part_id, mark.c.text, mark.c.role)
        .where(mark.c.part_id.in_(ids))
        .order_by(mark.c.id)
    ):
        marks[ident].append(PartMark(text, role))
    found = []
    for row in conn.execute(
        select(
            part, maker.c.name.label("maker_name"),
            boundary.c.bore, boundary.c.outside, boundary.c.width,
        )
        .join(maker, maker.c.id == part.c.maker_id)
        .outerjoin(boundary, boundary.c.id == part.c.boundary_id)
        .where(part.c.id.in_(ids))
    ).mappings():  # fmt: skip
        held = {name: StoredSize(row[name]) for name in ("bore", "outside", "width") if row[name]}
        held.update(sizes.get(row["id"], {}))
        found.append(
            Part(
                number=row["number"], maker=row["maker_name"], kind=row["kind"],
                group=row["group_key"], origin=row["origin"], weight=row["weight"],
                id=row["id"], type=row["type"], words=row["words"], status=row["status"],
                sizes=held, spellings=tuple(spellings.get(row["id"], ())),
                marks=tuple(marks.get(row["id"], ())),
                tables_agreeing=row["tables_agreeing"], note=row["note"],
            )
        )  # fmt: skip
    return found
