"""Odd columns, contradicting claims and prices of parts: read and write."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Sequence
from typing import NamedTuple

from sqlalchemy import Connection, Row, Table, select

from xref.domain.number import skeleton
from xref.domain.weights import ORIGIN_STORE
from xref.store.read.load import pieces
from xref.store.read.sheet_links import source_names
from xref.store.tables.sheets import part_claim, part_extra, price
from xref.store.tables.tables import part
from xref.store.write.unit import UnitOfWork


class Extra(NamedTuple):
    """A cell kept under its heading; ``position`` is the column it stood in."""

    label: str
    value: str
    position: int = 0


class Claim(NamedTuple):
    """A contradicting fact; ``source`` is the title (and edition) of who says so."""

    field: str
    value: str
    source: str = ""


class Price(NamedTuple):
    """What a supplier asked, as written."""

    supplier: str = ""
    price: str = ""
    currency: str = ""
    seen: str = ""
    note: str = ""


def _rows(conn: Connection, table: Table, ids: Sequence[int]) -> Iterable[Row[tuple[object, ...]]]:
    for some in pieces(ids):
        query = select(table).where(table.c.part_id.in_(some)).order_by(table.c.id)
        yield from conn.execute(query)


def own_ids(conn: Connection, kind: str = "") -> list[int]:
    """Ids of the user's own parts (of ``kind``), by number."""
    query = select(part.c.id).where(part.c.origin == ORIGIN_STORE)
    if kind:
        query = query.where(part.c.kind == kind)
    return list(conn.scalars(query.order_by(part.c.key, part.c.id)))


def extras_of(conn: Connection, ids: Sequence[int]) -> dict[int, list[Extra]]:
    """The kept cells of each part, in the order of their columns."""
    found: dict[int, list[Extra]] = defaultdict(list)
    for row in _rows(conn, part_extra, ids):
        found[row.part_id].append(Extra(row.label, row.value, row.position))
    return found


def claims_of(conn: Connection, ids: Sequence[int]) -> dict[int, list[Claim]]:
    """The contradicting facts of each part."""
    names = source_names(conn)
    found: dict[int, list[Claim]] = defaultdict(list)
    for row in _rows(conn, part_claim, ids):
        found[row.part_id].append(Claim(row.field, row.value, names.get(row.source_id, "")))
    return found


def prices_of(conn: Connection, ids: Sequence[int]) -> dict[int, list[Price]]:
    """The prices of each part."""
    found: dict[int, list[Price]] = defaultdict(list)
    for row in _rows(conn, price, ids):
        found[row.part_id].append(Price(row.supplier, row.price, row.currency, row.seen, row.note))
    return found


def sources_of_parts(conn: Connection, ids: Sequence[int]) -> dict[int, str]:
    """Where each part is from, for those of which it is known."""
    names = source_names(conn)
    query = select(part.c.id, part.c.source_id)
    return {
        ident: names[source_id]
        for some in pieces(ids)
        for ident, source_id in conn.execute(query.where(part.c.id.in_(some)))
        if source_id in names
    }


def write_extras(unit: UnitOfWork, rows: Sequence[tuple[int, Extra]]) -> None:
    """Keep cells with their parts."""
    unit.insert_rows(part_extra, ("part_id", *Extra._fields), [(i, *e) for i, e in rows])


def write_claims(unit: UnitOfWork, rows: Sequence[tuple[int, str, str, int | None]]) -> None:
    """Keep contradicting facts: part, field, value, id of the source."""
    unit.insert_rows(part_claim, ("part_id", "field", "value", "source_id"), rows)


def write_prices(unit: UnitOfWork, rows: Sequence[tuple[int, Price]]) -> None:
    """Keep prices."""
    unit.insert_rows(price, ("part_id", *Price._fields), [(i, *p) for i, p in rows])


class Alike(NamedTuple):
    """Two parts whose numbers differ in one character of a look-alike class only."""

    fresh: int
    other: int


def alike_pairs(conn: Connection, fresh: Collection[int], most: int = 500) -> list[Alike]:
    """Pairs of a part in ``fresh`` with another whose folded number looks the same.

    One pass over all numbers; ``most`` bounds what is returned.
    """
    seen: dict[str, tuple[int, str]] = {}
    pairs: list[Alike] = []
    for ident, flat in conn.execute(select(part.c.id, part.c.folded).order_by(part.c.id)):
        bones = skeleton(flat)
        held = seen.setdefault(bones, (ident, flat))
        if held[1] != flat and (ident in fresh or held[0] in fresh) and _one_apart(held[1], flat):
            pair = (ident, held[0]) if ident in fresh else (held[0], ident)
            pairs.append(Alike(*pair))
            if len(pairs) >= most:
                break
    return pairs


def _one_apart(one: str, other: str) -> bool:
    return len(one) == len(other) and sum(a != b for a, b in zip(one, other, strict=True)) == 1
