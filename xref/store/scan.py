"""The scan's planes in the store: read where a search looks at them, made anew as spellings come.

The last spellings to come, at most ``TAIL_MOST``, are not laid out yet and are scanned plainly.
Ids of spellings are never given out twice, so a spelling that is gone leaves only a bit behind
that leads nowhere, until its block is laid out again.
"""

from __future__ import annotations

import secrets
from collections.abc import Iterable, Sequence
from typing import Any

from sqlalchemy import Connection, delete, func, insert, select

from xref.store.scan_planes import SLOTS, lay_out, packed, unpacked
from xref.store.tables import scan_block, scan_plane, spelling

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
    rows = conn.execute(
        select(spelling.c.id, spelling.c.folded, spelling.c.takes_suffix)
        .where(spelling.c.id >= first, spelling.c.id < first + SLOTS)
    ).all()  # fmt: skip
    for table in (scan_plane, scan_block):
        conn.execute(delete(table).where(table.c.block == block))
    if not rows:
        return
    planes = [
        {"block": block, "plane": code, "bits": packed(bits)}
        for code, bits in lay_out((row[0] - first, row[1], row[2]) for row in rows)
    ]
    conn.execute(insert(scan_plane), planes)
    upto = max(row[0] for row in rows)
    conn.execute(insert(scan_block), {"block": block, "upto": upto, "stamp": secrets.token_hex(8)})


def laid_out(conn: Connection) -> tuple[int, Planes]:
    """The highest id laid out, and the planes, none of them read yet."""
    rows = conn.execute(
        select(scan_block.c.block, scan_block.c.upto, scan_block.c.stamp)
        .order_by(scan_block.c.block)
    ).all()  # fmt: skip
    stamps = tuple(row[2] for row in rows)
    if stamps not in _held:
        if len(_held) >= HELD_STORES:
            _held.clear()
        size = (rows[-1][0] + 1) * SLOTS // 8 if rows else 0
        _held[stamps] = Planes(size)
    return max((row[1] for row in rows), default=0), _held[stamps]


class Planes(dict[int, int]):
    """Planes over all blocks by their code; bit ``i`` speaks of the spelling whose id is ``i``."""

    def __init__(self, size: int) -> None:
        super().__init__()
        self.size = size

    def read(self, conn: Connection, codes: Sequence[int]) -> None:
        """Have the planes of these codes here; one that is not in the store is 0."""
        wanted = [code for code in codes if code not in self]
        if not wanted:
            return
        whole: dict[int, bytearray] = {}
        numbers = ",".join(map(str, wanted))
        for code, block, data in plain_rows(
            conn, f"SELECT plane, block, bits FROM scan_plane WHERE plane IN ({numbers})"
        ):
            bits = unpacked(bytes(data))
            start = block * SLOTS // 8
            whole.setdefault(code, bytearray(self.size))[start : start + len(bits)] = bits
        for code in wanted:
            self[code] = int.from_bytes(whole.get(code, b""), "little")


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
