"""The bench book in the store: items, photos, and what is wanted."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from sqlalchemy import Connection, Select, select

from xref.errors import NotFoundError
from xref.store.file.clock import now
from xref.store.tables.bench import bench_item, bench_photo, wanted
from xref.store.tables.links import machine
from xref.store.tables.tables import maker, part
from xref.store.write.unit import UnitOfWork


@dataclass(frozen=True, slots=True)
class BenchItem:
    """One part on the bench. ``id`` is the number on its label.

    ``asked`` is the question as typed; ``found`` says how it was found (side, position …).
    ``part_id`` None is undecided; ``odds`` are what they were when it was decided. ``outcome`` is
    "" until it was tried.
    """

    id: int
    at: str
    place: str
    machine: str
    assembly: str
    asked: Mapping[str, Any]
    found: Mapping[str, str]
    note: str
    part_id: int | None
    odds: float | None
    outcome: str
    why: str
    photos: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Wanted:
    """Something to get. ``price`` is one piece's, as text; ``done_at`` "" while it is wanted;
    ``machine`` the name of the machine it is for, "" for none."""

    id: int
    part_id: int | None
    number: str
    maker: str
    need: str
    quantity: float
    supplier: str
    price: str
    currency: str
    seen: str
    note: str
    done_at: str
    machine: str = ""


def items(
    conn: Connection,
    undecided: bool = False,
    assembly: str = "",
    ids: tuple[int, ...] = (),
    part_id: int | None = None,
) -> list[BenchItem]:
    """The items in order of their labels: of those that are asked for, or all."""
    b = bench_item.c
    query = (
        select(
            b.id,
            b.at,
            b.place,
            machine.c.name,
            b.assembly,
            b.asked,
            b.found,
            b.note,
            b.part_id,
            b.odds,
            b.outcome,
            b.why,
        )
        .outerjoin(machine, machine.c.id == b.machine_id)
        .order_by(b.id)
    )
    if undecided:
        query = query.where(b.part_id.is_(None))
    if assembly:
        query = query.where(b.assembly == assembly)
    if ids:
        query = query.where(b.id.in_(ids))
    if part_id is not None:
        query = query.where(b.part_id == part_id)
    rows = conn.execute(query).all()
    photos = _photos(conn, [row[0] for row in rows])
    return [
        BenchItem(
            row[0],
            row[1],
            row[2],
            row[3] or "",
            row[4],
            json.loads(row[5]),
            json.loads(row[6]),
            row[7],
            row[8],
            row[9],
            row[10],
            row[11],
            tuple(photos.get(row[0], ())),
        )
        for row in rows
    ]


def _photos(conn: Connection, ids: list[int]) -> dict[int, list[tuple[str, str]]]:
    p = bench_photo.c
    query = select(p.item_id, p.sha256, p.name).where(p.item_id.in_(ids)).order_by(p.id)
    found: dict[int, list[tuple[str, str]]] = {}
    for item, digest, name in conn.execute(query):
        found.setdefault(item, []).append((digest, name))
    return found


def item(conn: Connection, ident: int) -> BenchItem:
    """The item with this label. Raises NotFoundError where there is none."""
    found = items(conn, ids=(ident,))
    if not found:
        raise NotFoundError(f"nothing on the bench has label {ident}", "See xref bench list.")
    return found[0]


def add_item(unit: UnitOfWork, row: Mapping[str, Any]) -> int:
    """Add an item and return the number for its label."""
    texts = {
        "asked": json.dumps(row["asked"], ensure_ascii=False),
        "found": json.dumps(row["found"], ensure_ascii=False),
    }
    blank = {"decided_at": "", "outcome": "", "why": "", "outcome_at": ""}
    return unit.insert(bench_item, {**blank, **row, **texts, "at": now()})


def change_item(unit: UnitOfWork, ident: int, values: Mapping[str, Any]) -> None:
    """Change an item."""
    unit.update(bench_item, ident, values)


def add_photo(unit: UnitOfWork, item_id: int, digest: str, name: str) -> None:
    """Note a photo on an item; the same photo twice is one."""
    same = (bench_photo.c.item_id == item_id, bench_photo.c.sha256 == digest)
    if unit.conn.scalar(select(bench_photo.c.id).where(*same)) is None:
        unit.insert(bench_photo, {"item_id": item_id, "sha256": digest, "name": name})


def drop_photo(unit: UnitOfWork, item_id: int, name: str) -> None:
    """Forget the photo of an item that is called ``name``; its file stays beside the store."""
    p = bench_photo.c
    for ident in list(unit.conn.scalars(select(p.id).where(p.item_id == item_id, p.name == name))):
        unit.delete(bench_photo, ident)


def wants(
    conn: Connection, supplier: str = "", done: bool = False, part_id: int | None = None
) -> list[Wanted]:
    """What is wanted (with ``done``: also what was got), in the order it was written down."""
    query = _wants()
    if supplier:
        query = query.where(wanted.c.supplier == supplier)
    if part_id is not None:
        query = query.where(wanted.c.part_id == part_id)
    if not done:
        query = query.where(wanted.c.done_at == "")
    return [_wanted(row) for row in conn.execute(query.order_by(wanted.c.id))]


def _wanted(row: Sequence[Any]) -> Wanted:
    *held, for_machine = row
    return replace(Wanted(*held), machine=for_machine or "")


def _wants() -> Select[Any]:
    w = wanted.c
    return (
        select(
            w.id,
            w.part_id,
            part.c.number,
            maker.c.name,
            w.need,
            w.quantity,
            w.supplier,
            w.price,
            w.currency,
            w.seen,
            w.note,
            w.done_at,
            machine.c.name,
        )
        .outerjoin(part, part.c.id == w.part_id)
        .outerjoin(maker, maker.c.id == part.c.maker_id)
        .outerjoin(machine, machine.c.id == w.machine_id)
    )


def want(conn: Connection, ident: int) -> Wanted:
    """One thing wanted. Raises NotFoundError where there is none with this number."""
    row = conn.execute(_wants().where(wanted.c.id == ident)).first()
    if row is None:
        raise NotFoundError(f"nothing wanted has the number {ident}", "See xref wanted list.")
    return _wanted(row)


def add_want(unit: UnitOfWork, row: Mapping[str, Any]) -> int:
    """Write down something to get and return its number."""
    return unit.insert(wanted, {**row, "at": now(), "done_at": ""})


def done_want(unit: UnitOfWork, ident: int) -> None:
    """Note that it was got."""
    unit.update(wanted, ident, {"done_at": now()})
