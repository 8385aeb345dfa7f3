"""Put the standards' tables into a store, and bring them up to date in an older one."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from importlib import metadata as package

from sqlalchemy import Connection, bindparam, delete, func, insert, select, update

from xref.domain.number import folded, key
from xref.domain.part import BOUNDARY, Part
from xref.domain.weights import ORIGIN_STANDARD
from xref.standards.families import standard_parts
from xref.standards.version import TABLES_VERSION
from xref.store.index.scan import lay_out_all
from xref.store.index.tally import add_tally, groups_tally, population, rewrite_tally, tally_of
from xref.store.read.linked import linked_parts
from xref.store.read.load import every_part, pieces
from xref.store.read.unused import unused_boundaries
from xref.store.tables.tables import boundary, maker, mark, part, size, spelling, store_info
from xref.store.write.unit import part_row, size_row, spelling_row

STATUS_GONE = "mentioned"


def seed(conn: Connection) -> None:
    """Fill a new, empty store. One bulk insert a table; ids are given out here."""
    parts = standard_parts()
    conn.execute(insert(maker), {"id": 1, "name": "", "key": "", "is_standard": False})
    _insert_whole(conn, parts, _makers(conn, parts), 1)
    _move_counters(conn)
    rewrite_tally(conn, tally_of(parts))
    lay_out_all(conn)
    _note_versions(conn)


def refresh(conn: Connection) -> None:
    """Bring the standard rows up to date; the user's own rows and links stay untouched.

    A row that is still there keeps its id. A row that is gone is removed, unless the user noted
    something on it: then it stays, as *mentioned*.
    """
    parts = standard_parts()
    groups = {p.group for p in parts} | _standard_groups(conn)
    counted = population(conn).things == _parts(conn)
    before = groups_tally(conn, groups)
    _replace_rows(conn, parts)
    for some in pieces(unused_boundaries(conn)):
        conn.execute(delete(boundary).where(boundary.c.id.in_(some)))
    if counted:
        moved = groups_tally(conn, groups)
        moved.subtract(before)
        add_tally(conn, moved)
    else:
        # Figures that cannot be right are made anew, which takes a minute for a million parts.
        rewrite_tally(conn, tally_of(every_part(conn)))
    lay_out_all(conn)
    _note_versions(conn)


def _replace_rows(conn: Connection, parts: Sequence[Part]) -> None:
    """Write the standard rows over those that are there, add the new ones, retire the rest."""
    makers = _makers(conn, parts)
    query = select(part.c.maker_id, part.c.key, part.c.id, part.c.origin)
    there: dict[tuple[int, str], int] = {}
    own = set()
    for maker_id, number, ident, origin in conn.execute(query):
        if origin == ORIGIN_STANDARD:
            there[maker_id, number] = ident
        else:
            own.add((maker_id, number))
    fresh: list[Part] = []
    kept: dict[int, Part] = {}
    for record in parts:
        identity = (makers[record.maker], key(record.number))
        if identity in there:
            kept[there.pop(identity)] = record
        elif identity not in own:
            # Where the user wrote the number down under that very name, the user's row stands.
            fresh.append(record)
    _rewrite(conn, kept, makers)
    if fresh:
        first = (conn.scalar(select(func.max(part.c.id))) or 0) + 1
        _insert_whole(conn, fresh, makers, first)
    _move_counters(conn)
    _retire(conn, list(there.values()))


def _standard_groups(conn: Connection) -> set[str]:
    """The groups that hold a standard row."""
    of = select(part.c.group_key).where(part.c.origin == ORIGIN_STANDARD)
    return set(conn.scalars(of))


def _parts(conn: Connection) -> int:
    return int(conn.scalar(select(func.count()).select_from(part)) or 0)


def _makers(conn: Connection, parts: Iterable[Part]) -> dict[str, int]:
    """Ids of the standards the rows follow, each a maker of its own."""
    held = {known: ident for ident, known in conn.execute(select(maker.c.id, maker.c.key))}
    following = max(held.values(), default=0) + 1
    ids = {}
    rows = []
    for name in dict.fromkeys(p.maker for p in parts):
        name_key = key(name)
        if name_key not in held:
            held[name_key] = following
            rows.append({"id": following, "name": name, "key": name_key, "is_standard": True})
            following += 1
        ids[name] = held[name_key]
    if rows:
        conn.execute(insert(maker), rows)
    return ids


def _boundaries(conn: Connection, parts: Sequence[Part]) -> dict[tuple[int, ...], int]:
    table = boundary.c
    held: dict[tuple[int, ...], int] = {
        (bore, outside, width): ident
        for ident, bore, outside, width in conn.execute(
            select(table.id, table.bore, table.outside, table.width)
        )
    }
    following = max(held.values(), default=0) + 1
    rows = []
    for record in parts:
        values = _dimensions(record)
        if any(values) and values not in held:
            held[values] = following
            rows.append({"id": following, **dict(zip(BOUNDARY, values, strict=True))})
            following += 1
    if rows:
        conn.execute(insert(boundary), rows)
    return held


def _dimensions(record: Part) -> tuple[int, ...]:
    return tuple(record.sizes[n].value if n in record.sizes else 0 for n in BOUNDARY)


def _insert_whole(
    conn: Connection, parts: Sequence[Part], makers: dict[str, int], first_id: int
) -> None:
    held = _boundaries(conn, parts)
    given = dict(enumerate(parts, first_id))
    rows = [
        {"id": ident, **part_row(p, makers[p.maker], held.get(_dimensions(p)))}
        for ident, p in given.items()
    ]
    conn.execute(insert(part), rows)
    _insert_texts(conn, given)


def _insert_texts(conn: Connection, parts: Mapping[int, Part]) -> None:
    """The spellings and sizes of parts by their ids."""
    spelled = [spelling_row(i, s) for i, p in parts.items() for s in p.spellings if folded(s.text)]
    sizes = [
        size_row(i, name, held)
        for i, p in parts.items()
        for name, held in p.sizes.items()
        if name not in BOUNDARY
    ]
    conn.execute(insert(spelling), spelled)
    if sizes:
        conn.execute(insert(size), sizes)


def _rewrite(conn: Connection, kept: Mapping[int, Part], makers: dict[str, int]) -> None:
    """Put the new figures in place of the old under the same ids, one bulk statement a table."""
    if not kept:
        return
    held = _boundaries(conn, list(kept.values()))
    rows = [
        {"row_id": ident, **part_row(p, makers[p.maker], held.get(_dimensions(p)))}
        for ident, p in kept.items()
    ]
    for some in pieces(list(kept)):
        noted = spelling.c.role == "mark"
        conn.execute(delete(spelling).where(spelling.c.part_id.in_(some), ~noted))
        conn.execute(delete(size).where(size.c.part_id.in_(some)))
    conn.execute(update(part).where(part.c.id == bindparam("row_id")), rows)
    _insert_texts(conn, kept)


def _retire(conn: Connection, gone: Sequence[int]) -> None:
    for some in pieces(gone):
        noted = set(conn.scalars(select(mark.c.part_id).where(mark.c.part_id.in_(some))))
        noted |= linked_parts(conn, some)
        kept = list(noted)
        if kept:
            conn.execute(update(part).where(part.c.id.in_(kept)).values(status=STATUS_GONE))
        dropped = [ident for ident in some if ident not in noted]
        if dropped:
            conn.execute(delete(part).where(part.c.id.in_(dropped)))


def _move_counters(conn: Connection) -> None:
    """Tell PostgreSQL which ids were given out here; SQLite looks for itself."""
    if conn.dialect.name != "postgresql":
        return
    for table in (maker, boundary, part):
        counter = func.pg_get_serial_sequence(table.name, "id")
        conn.execute(select(func.setval(counter, select(func.max(table.c.id)).scalar_subquery())))


def _note_versions(conn: Connection) -> None:
    noted = {"tables_version": TABLES_VERSION, "written_by": package.version("xref")}
    conn.execute(delete(store_info).where(store_info.c.key.in_(list(noted))))
    conn.execute(insert(store_info), [{"key": k, "value": v} for k, v in noted.items()])
