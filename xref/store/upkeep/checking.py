"""What must be true of every store, looked at row by row: faults are found here, never raised."""

from __future__ import annotations

import zlib
from array import array
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Column, Connection, Table, delete, exists, func, insert, select, update

from xref.domain.number import folded, key
from xref.domain.steps import Steps
from xref.errors import InputError
from xref.store.file.seal import seal_fits
from xref.store.index.planes import ORDER, SLOTS, lay_out, slotted, unpacked
from xref.store.index.scan import TAIL_MOST, lay_out_all
from xref.store.index.tally import rewrite_tally, stored_tally, tally_of
from xref.store.read.load import every_part, pieces
from xref.store.read.unused import unused_boundaries
from xref.store.tables.layout import metadata
from xref.store.tables.links import machine, model
from xref.store.tables.tables import boundary, maker, mark, part, scan_block, scan_plane, spelling
from xref.store.write.history import key_column

MOST_NAMED = 3
"""Rows named in one line."""
NEARLY = 1e-6
"""Weights are sums of floats in any order: so much may they differ, of 1 or of themselves."""

REBUILT = "xref check --mend makes it anew from the parts."
COPY = "Put back a copy with xref restore, or take back what wrote it with xref undo."


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing that is not as it must be, and how to mend it."""

    check: str
    message: str
    mend: str


def file_faults(conn: Connection) -> Iterator[Fault]:
    """Pages, trees and indexes, as SQLite itself checks them; a server does so for its own."""
    if conn.dialect.name != "sqlite":
        return
    for (said,) in conn.exec_driver_sql("PRAGMA integrity_check(5)").all():
        if said != "ok":
            line = " ".join(str(said).split())[:160]
            yield Fault(
                "file",
                f"the file is damaged: {line}",
                "Do not write to it; put back a copy with xref restore.",
            )


def seal_faults(conn: Connection) -> Iterator[Fault]:
    """A file that is not as this program left it, whether SQLite can read it or not."""
    if conn.dialect.name == "sqlite" and seal_fits(conn.connection.driver_connection) is False:
        yield Fault(
            "file",
            "the file is not as xref left it: damaged, or written to by another program",
            "Put back a copy with xref restore, or keep it as it is with xref check --mend.",
        )


def link_faults(conn: Connection) -> Iterator[Fault]:
    """Links that lead nowhere, orphan sizes and spellings among them."""
    for table in metadata.sorted_tables:
        for link in table.foreign_keys:
            there = link.column.table.alias()
            lost = link.parent.is_not(None) & ~exists().where(
                there.c[link.column.name] == link.parent
            )
            ids = conn.scalars(select(key_column(table)).where(lost)).all()
            if ids:
                yield Fault(
                    "links",
                    f"{_rows(table, ids)} of {_words(table)} belong to "
                    f"a {_words(link.column.table)} that is not there",
                    COPY,
                )


def _rows(table: Table, ids: Sequence[Any]) -> str:
    named = ", ".join(map(str, ids[:MOST_NAMED])) + (" …" if len(ids) > MOST_NAMED else "")
    return f"{len(ids)} row{'s' if len(ids) > 1 else ''} ({key_column(table).name} {named})"


def _words(table: Table) -> str:
    return table.name.replace("_", " ")


def _key(text: str) -> str:
    return key(text) if text else ""


Computed = tuple[Table, Column[str], Column[str], Callable[[str], str]]
COMPUTED: tuple[Computed, ...] = (
    (part, part.c.number, part.c.key, key),
    (part, part.c.number, part.c.folded, folded),
    (spelling, spelling.c.text, spelling.c.folded, folded),
    (mark, mark.c.text, mark.c.folded, folded),
    (maker, maker.c.name, maker.c.key, _key),
    (model, model.c.name, model.c.key, _key),
    (machine, machine.c.name, machine.c.key, _key),
)
"""Columns that follow from another: the table, the text, what follows, and how."""


def key_faults(conn: Connection) -> Iterator[Fault]:
    """Keys that are not what their text makes of them."""
    for table, text, held, made in COMPUTED:
        wrong = [ident for ident, _ in _wrong(conn, table, text, held, made)]
        if wrong:
            yield Fault(
                "keys",
                f"{_rows(table, wrong)} of {_words(table)} have a wrong {held.name}: "
                "they are not found by their text",
                REBUILT,
            )


def _wrong(
    conn: Connection, table: Table, text: Column[str], held: Column[str], made: Callable[[str], str]
) -> Iterator[tuple[int, str | None]]:
    """Ids of the rows whose ``held`` is wrong, and what it must be; None where nothing can be."""
    for ident, written, there in conn.execute(select(key_column(table), text, held)):
        try:
            right: str | None = made(written)
        except InputError:
            right = None
        if right != there:
            yield ident, right


def scan_faults(conn: Connection) -> Iterator[Fault]:
    """Spellings that a search by mark would miss."""
    done = conn.scalar(select(func.max(scan_block.c.upto))) or 0
    last = conn.scalar(select(func.max(spelling.c.id))) or 0
    for block in range(done // SLOTS + 1 if done else 0):
        try:
            lost = _lost(conn, block, done)
        except (zlib.error, ValueError):
            yield Fault("search", f"block {block} of the search index cannot be read", REBUILT)
            continue
        if lost:
            yield Fault(
                "search", f"{lost} spellings of block {block} are not in the search index", REBUILT
            )
    waiting = conn.scalar(select(func.count()).where(spelling.c.id > done)) or 0
    if last - done > TAIL_MOST:
        yield Fault("search", f"{waiting} spellings wait for their place in the index", REBUILT)
    spelt = exists().where(spelling.c.part_id == part.c.id)
    mute = conn.execute(select(part.c.id, part.c.number).where(~spelt)).all()
    unfound = [ident for ident, number in mute if folded(number)]
    if unfound:
        yield Fault("search", f"{_rows(part, unfound)} of part have no spelling", REBUILT)


def _lost(conn: Connection, block: int, done: int) -> int:
    """Spellings laid out in the block that are not in every plane they belong in."""
    first = block * SLOTS
    until = min(first + SLOTS - 1, done)
    texts = {
        ident - first: text
        for ident, text in conn.execute(
            select(spelling.c.id, spelling.c.folded).where(spelling.c.id.between(first, until))
        )
    }
    held = {
        code: unpacked(bytes(bits))
        for code, bits in conn.execute(
            select(scan_plane.c.plane, scan_plane.c.bits).where(scan_plane.c.block == block)
        )
    }
    order = array("H", held.get(ORDER, b""))
    slotless = len(texts.keys() - set(order))
    missing = 0
    for code, bits in lay_out(slotted(order, texts)):
        missing |= bits & ~int.from_bytes(held.get(code, b""), "little")
    return slotless + missing.bit_count()


def tally_faults(conn: Connection) -> Iterator[Fault]:
    """Figures of the population that are not what the parts add up to."""
    right = _figures(conn)
    there = stored_tally(conn)
    wrong = [
        f"{what} {value}".strip()
        for what, value in sorted(right.keys() | there.keys())
        if _differ(right.get((what, value), 0.0), there.get((what, value), 0.0))
    ]
    if wrong:
        yield Fault(
            "figures",
            f"{len(wrong)} figures of the population are wrong ({', '.join(wrong[:MOST_NAMED])}): "
            "odds are off",
            REBUILT,
        )


def _figures(conn: Connection) -> Any:
    return tally_of(every_part(conn))


def _differ(right: float, there: float) -> bool:
    return abs(right - there) > NEARLY * max(1.0, abs(right))


def boundary_faults(conn: Connection) -> Iterator[Fault]:
    """Boundary dimensions that no part has, and that no undo would bring back."""
    unused = unused_boundaries(conn)
    if unused:
        yield Fault("sizes", f"{_rows(boundary, unused)} of boundary serve no part", REBUILT)
    c = boundary.c
    empty = conn.scalars(select(c.id).where(c.bore == 0, c.outside == 0, c.width == 0)).all()
    if empty:
        yield Fault("sizes", f"{_rows(boundary, empty)} of boundary hold no size", COPY)


CHECKS: Mapping[str, Callable[[Connection], Iterator[Fault]]] = {
    "links": link_faults,
    "keys": key_faults,
    "search index": scan_faults,
    "figures": tally_faults,
    "boundary dimensions": boundary_faults,
}
"""What is looked at, in a word or two, and how."""


def mend(conn: Connection, steps: Steps) -> None:
    """Make anew whatever follows from the rest: keys, figures, search index, spare sizes."""
    steps("making the keys anew")
    for table, text, held, made in COMPUTED:
        for ident, right in list(_wrong(conn, table, text, held, made)):
            if right is not None:
                conn.execute(
                    update(table).where(key_column(table) == ident).values({held.name: right})
                )
    _spell(conn)
    for some in pieces(unused_boundaries(conn)):
        conn.execute(delete(boundary).where(boundary.c.id.in_(some)))
    steps("making the figures anew")
    rewrite_tally(conn, _figures(conn))
    steps("making the search index anew")
    lay_out_all(conn)


def _spell(conn: Connection) -> None:
    """Give every part that has no spelling its own number as one."""
    spelt = exists().where(spelling.c.part_id == part.c.id)
    for ident, number in conn.execute(select(part.c.id, part.c.number).where(~spelt)).all():
        if folded(number):
            row = {
                "part_id": ident,
                "text": number,
                "folded": folded(number),
                "weight": 1.0,
                "role": "number",
                "takes_suffix": False,
            }
            conn.execute(insert(spelling), row)


def number_of(conn: Connection, part_id: int) -> str:
    """The number of a part, for a message."""
    return str(conn.scalar(select(part.c.number).where(part.c.id == part_id)) or f"part {part_id}")
