"""The scan's planes in the store: read where a search looks at them, made anew as spellings come.

The last spellings to come, at most ``TAIL_MOST``, are not laid out yet and are scanned plainly.
Ids of spellings are never given out twice, so a spelling that is gone leaves only a bit behind
that leads nowhere, until its block is laid out again.
"""

from __future__ import annotations

import secrets
from collections.abc import Sequence
from typing import Any

from sqlalchemy import Connection, delete, func, insert, select

from xref.store.scan_planes import SLOTS, lay_out, packed, unpacked
from xref.store.tables import scan_block, scan_plane, spelling

TAIL_MOST = 2048
"""Spellings scanned plainly before they are laid out: about what a search takes anyway."""
HELD_MOST = 12_000
"""Planes kept in memory between searches: about 100 MB, enough for a million spellings."""

_held: dict[str, dict[int, int]] = {}
"""Planes by the stamp of their block. A stamp is drawn afresh each time a block is laid out, so
what is held under it can never be out of date."""


def fold_in(conn: Connection, most: int = TAIL_MOST) -> None:
    """Lay out the spellings that came since the last time, if there are more than ``most``."""
    done = conn.scalar(select(func.max(scan_block.c.upto))) or 0
    last = conn.scalar(select(func.max(spelling.c.id))) or 0
    if last - done > most:
        for block in range((done + 1) // SLOTS, last // SLOTS + 1):
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


def blocks(conn: Connection) -> list[tuple[int, int, str]]:
    """Number, highest id laid out, and stamp of every block."""
    rows = conn.execute(
        select(scan_block.c.block, scan_block.c.upto, scan_block.c.stamp)
        .order_by(scan_block.c.block)
    )  # fmt: skip
    return [(row[0], row[1], row[2]) for row in rows]


def planes(conn: Connection, block: int, stamp: str, codes: Sequence[int]) -> dict[int, int]:
    """At least the planes of these codes; one that is not there is 0."""
    held = _held.get(stamp)
    if held is None:
        if sum(map(len, _held.values())) > HELD_MOST:
            _held.clear()
        held = _held[stamp] = {}
    wanted = [code for code in codes if code not in held]
    if wanted:
        held.update(dict.fromkeys(wanted, 0))
        numbers = ",".join(map(str, wanted))
        for code, bits in plain_rows(
            conn,
            f"SELECT plane, bits FROM scan_plane WHERE block = {block} AND plane IN ({numbers})",
        ):
            held[code] = unpacked(bytes(bits))
    return held


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
