"""What a check asks about links, serials, photos and tables: all of it, as it stands."""

from __future__ import annotations

from collections.abc import Iterator

from sqlalchemy import Connection, exists, select

from xref.store.tables.bench import bench_photo
from xref.store.tables.links import (
    NEW,
    applicability,
    machine,
    machine_serial,
    supersession,
    supersession_part,
)
from xref.store.tables.tables import part, store_info


def ranges(conn: Connection) -> Iterator[tuple[str, str]]:
    """Every set of serials as the store keeps it, with what it is said of."""
    a, s = applicability.c, supersession.c
    query = select(part.c.number, a.serials).join(part, part.c.id == a.part_id)
    for number, text in conn.execute(query):
        yield f"{number} applies", text
    query = select(part.c.number, s.serials).join(part, part.c.id == s.old_id)
    for number, text in conn.execute(query):
        yield f"{number} is superseded", text


def serials(conn: Connection) -> list[tuple[str, str]]:
    """Every serial of a machine, with the machine's name."""
    m = machine_serial.c
    query = select(machine.c.name, m.serial).join(machine, machine.c.id == m.machine_id)
    return [(row[0], row[1]) for row in conn.execute(query)]


def followers(conn: Connection) -> dict[int, list[int]]:
    """Which parts come after which, by id."""
    s, p = supersession.c, supersession_part.c
    query = (
        select(s.old_id, p.part_id)
        .join(supersession_part, p.supersession_id == s.id)
        .where(p.role == NEW)
        .order_by(s.id, p.id)
    )
    found: dict[int, list[int]] = {}
    for old, new in conn.execute(query):
        found.setdefault(old, []).append(new)
    return found


def empty_steps(conn: Connection) -> list[str]:
    """Numbers with a supersession that names no new number."""
    s, p = supersession.c, supersession_part.c
    named = exists().where(p.supersession_id == s.id, p.role == NEW)
    query = select(part.c.number).join(supersession, s.old_id == part.c.id).where(~named)
    return list(conn.scalars(query))


def photos(conn: Connection) -> list[tuple[int, str, str]]:
    """Label of the item, hash and name of every photo."""
    p = bench_photo.c
    rows = conn.execute(select(p.item_id, p.sha256, p.name).order_by(p.id))
    return [(row[0], row[1], row[2]) for row in rows]


def tables_version(conn: Connection) -> str:
    """Of which version of the standards' tables the store's standard rows are; "" for none."""
    query = select(store_info.c.value).where(store_info.c.key == "tables_version")
    return str(conn.scalar(query) or "")
