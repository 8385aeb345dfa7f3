"""The scan's planes in the store: read where a search looks at them, made anew as spellings come.

The last spellings to come, at most ``TAIL_MOST``, are not laid out yet and are scanned plainly.
Ids of spellings are never given out twice, so a spelling that is gone leaves only a bit behind
that leads nowhere, until its block is laid out again.
"""

from __future__ import annotations

import secrets
from array import array
from bisect import bisect_right
from collections.abc import Iterable, Iterator
from itertools import pairwise
from typing import Any

from sqlalchemy import Connection, delete, func, insert, select

from xref.store.index.planes import (
    BANDS,
    ORDER,
    SLOTS,
    STARTS,
    arrange,
    as_bytes,
    lay_out,
    packed,
    slots,
    slotted,
    unpacked,
)
from xref.store.tables.tables import scan_block, scan_plane, spelling

TAIL_MOST = 2048
"""Spellings scanned plainly before they are laid out: about what a search takes anyway."""
HELD_STORES = 4
"""States of stores whose planes are kept in memory: about 40 MB for a million spellings."""

_held: dict[tuple[str, ...], Planes] = {}
"""Planes by the stamps of their blocks. A stamp is drawn afresh each time a block is laid out, so
what is held under them can never be out of date."""


def fold_in(conn: Connection, most: int = TAIL_MOST) -> None:
    """Lay out the spellings that came since the last time, if there are more than ``most``."""
    done = conn.scalar(select(func.max(scan_block.c.upto))) or 0
    last = conn.scalar(select(func.max(spelling.c.id))) or 0
    if last - done > most:
        for block in range((done + 1) // SLOTS, last // SLOTS + 1):
            _lay_out(conn, block)


def lay_out_again(conn: Connection, spelling_ids: Iterable[int]) -> None:
    """Lay out the blocks of spellings that came back under their old ids."""
    done = conn.scalar(select(func.max(scan_block.c.upto))) or 0
    for block in sorted({ident // SLOTS for ident in spelling_ids if ident <= done}):
        _lay_out(conn, block)


def lay_out_all(conn: Connection) -> None:
    """Lay out every block anew."""
    conn.execute(delete(scan_plane))
    conn.execute(delete(scan_block))
    fold_in(conn, 0)


def _lay_out(conn: Connection, block: int) -> None:
    first = block * SLOTS
    rows = [
        (ident - first, text, takes_suffix)
        for ident, text, takes_suffix in conn.execute(
            select(spelling.c.id, spelling.c.folded, spelling.c.takes_suffix).where(
                spelling.c.id >= first, spelling.c.id < first + SLOTS
            )
        )
    ]
    for table in (scan_plane, scan_block):
        conn.execute(delete(table).where(table.c.block == block))
    if not rows:
        return
    starts, order = arrange(rows)
    texts = {offset: text for offset, text, _ in rows}
    planes = [(code, as_bytes(bits)) for code, bits in lay_out(slotted(order, texts))]
    planes += [(STARTS, starts.tobytes()), (ORDER, order.tobytes())]
    conn.execute(
        insert(scan_plane),
        [{"block": block, "plane": code, "bits": packed(raw)} for code, raw in planes],
    )
    upto = first + max(texts)
    conn.execute(insert(scan_block), {"block": block, "upto": upto, "stamp": secrets.token_hex(8)})


def laid_out(conn: Connection) -> tuple[int, Planes]:
    """The highest id laid out, and the planes, none of them read yet."""
    rows = conn.execute(
        select(scan_block.c.block, scan_block.c.upto, scan_block.c.stamp).order_by(
            scan_block.c.block
        )
    ).all()
    stamps = tuple(row[2] for row in rows)
    if stamps not in _held:
        if len(_held) >= HELD_STORES:
            _held.clear()
        _held[stamps] = Planes(conn)
    return max((row[1] for row in rows), default=0), _held[stamps]


class Band(dict[int, int]):
    """Planes over one band of all blocks, by their code; one that is not here is empty."""

    def __init__(self) -> None:
        super().__init__()
        self.starts: list[int] = []
        self._pieces: list[tuple[int, array[int]]] = []
        self.size = 0

    def append(self, first_id: int, offsets: array[int]) -> None:
        """Put the slots of one more block behind those that are here."""
        self.starts.append(self.size)
        self._pieces.append((first_id, offsets))
        self.size += len(offsets)

    def ids(self, bits: int) -> Iterator[int]:
        """Ids of the spellings whose bits are set."""
        for slot in slots(bits):
            at = bisect_right(self.starts, slot) - 1
            first, offsets = self._pieces[at]
            yield first + offsets[slot - self.starts[at]]


class Planes:
    """The planes of a store, as far as they have been looked at."""

    def __init__(self, conn: Connection) -> None:
        self.bands = [Band() for _ in range(BANDS)]
        self._cuts: dict[int, list[slice]] = {}
        self._read: set[int] = set()
        kept = {
            (code, block): unpacked(bytes(data))
            for code, block, data in _rows(conn, [STARTS, ORDER])
        }
        for block in sorted(block for code, block in kept if code == ORDER):
            order = array("H", kept[ORDER, block])
            between = list(pairwise(array("I", kept[STARTS, block])))
            for band, (start, end) in zip(self.bands, between, strict=True):
                band.append(block * SLOTS, order[start:end])
            self._cuts[block] = [slice(start // 8, end // 8) for start, end in between]

    def read(self, conn: Connection, codes: Iterable[int]) -> None:
        """Have the planes of these codes here."""
        wanted = [code for code in codes if code not in self._read]
        if not wanted:
            return
        whole: dict[tuple[int, int], bytearray] = {}
        places = {block: at for at, block in enumerate(self._cuts)}
        for code, block, data in _rows(conn, wanted):
            bits = unpacked(bytes(data))
            for at, cut in enumerate(self._cuts[block]):
                piece = bits[cut]
                if piece.strip(b"\0"):
                    start = self.bands[at].starts[places[block]] // 8
                    into = whole.setdefault((at, code), bytearray(self.bands[at].size // 8))
                    into[start : start + len(piece)] = piece
        for (at, code), raw in whole.items():
            self.bands[at][code] = int.from_bytes(raw, "little")
        self._read.update(wanted)


def _rows(conn: Connection, codes: Iterable[int]) -> list[Any]:
    numbers = ",".join(map(str, codes))
    return plain_rows(conn, f"SELECT plane, block, bits FROM scan_plane WHERE plane IN ({numbers})")


def plain_rows(conn: Connection, sql: str) -> list[Any]:
    """All rows by the driver's own cursor: SQLAlchemy's row objects cost more than the search.

    ``sql`` may hold whole numbers of ours and nothing that anybody typed.
    """
    cursor = conn.connection.cursor()
    try:
        cursor.execute(sql)
        return list(cursor.fetchall())
    finally:
        cursor.close()
