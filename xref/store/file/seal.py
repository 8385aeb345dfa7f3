"""A seal over every page of a SQLite store, put on with each commit.

Where it does not fit, something else than this program wrote to the file, or the disk failed: of
the damage that SQLite's own check cannot see (a letter within a note) this is the only sign.
"""

from __future__ import annotations

import sqlite3
import zlib
from collections.abc import Iterator
from typing import Any

SEALED_MOST = 64_000_000
"""Bytes of the largest store that is sealed and looked through before it is written: each write
reads it twice, 0.15 s a time at that size. Of a larger one SQLite checks the pages it comes by."""

_KEY = "seal"
_PASSING = ((18, 20), (24, 28), (40, 44), (92, 100))
"""Bytes of the header that SQLite changes by itself: the log's mode, counters, and the layout's
cookie, which stands in the seal beside the sum (SQLite file format, section 1.3)."""
_LEAF = 0x0D
_RENEWED = ("tables_version", "written_by", _KEY)
"""What is noted in store_info and made anew where it is lost."""


def put_seal(driver: Any) -> None:
    """Seal what is written so far, as the last write of a transaction.

    ``driver`` is SQLite's own connection. A store over ``SEALED_MOST`` bytes keeps no seal.
    """
    driver.execute("INSERT OR IGNORE INTO store_info (key, value) VALUES (?, '')", (_KEY,))
    said = _seal(driver)
    if said is None:
        driver.execute("DELETE FROM store_info WHERE key = ?", (_KEY,))
    else:
        driver.execute("UPDATE store_info SET value = ? WHERE key = ?", (said, _KEY))


def seal_fits(driver: Any) -> bool | None:
    """Whether the store is as it was sealed; None where there is no seal that could tell.

    A seal counts for nothing once the layout was changed (a migration, VACUUM). Ask within a
    transaction, or of a file at rest. Raises sqlite3.Error where the file cannot be read.
    """
    there = driver.execute("SELECT value FROM store_info WHERE key = ?", (_KEY,)).fetchone()
    if there is None or not str(there[0]).startswith(f"{_cookie(driver)}:"):
        return None
    if not hasattr(driver, "serialize"):
        return None  # a Python whose SQLite was built without it
    return bool(_seal(driver) == there[0])


def _cookie(driver: Any) -> int:
    (cookie,) = driver.execute("PRAGMA schema_version").fetchone()
    return int(cookie)


def _seal(driver: Any) -> str | None:
    """What the seal must say; None for a store that is too large or that cannot be sealed."""
    (pages,) = driver.execute("PRAGMA page_count").fetchone()
    (size,) = driver.execute("PRAGMA page_size").fetchone()
    if pages * size > SEALED_MOST or not hasattr(driver, "serialize"):
        return None
    found = driver.execute("SELECT rootpage FROM sqlite_master WHERE name = 'store_info'")
    (own,) = found.fetchone()
    image = memoryview(driver.serialize())
    if image[(own - 1) * size] != _LEAF:
        return None
    noted = driver.execute("SELECT key, value FROM store_info ORDER BY key").fetchall()
    kept = repr([row for row in noted if row[0] not in _RENEWED])
    total = zlib.crc32(kept.encode(errors="surrogateescape"), _sum(image, size, own))
    return f"{_cookie(driver)}:{pages}:{total:08x}"


def _sum(image: memoryview, size: int, own: int) -> int:
    """The sum of every page but the one the seal is on and those that hold nothing."""
    head = bytearray(image[:100])
    for start, end in _PASSING:
        head[start:end] = bytes(end - start)
    total, at = zlib.crc32(head), 100
    for page in sorted({own, *_unused(image, size)}):
        total = zlib.crc32(image[at : (page - 1) * size], total)
        at = page * size
    return zlib.crc32(image[at:], total)


def _unused(image: memoryview, size: int) -> Iterator[int]:
    """Pages of the free list that SQLite need not write out (section 1.5: the leaves)."""

    def word(at: int) -> int:
        return int.from_bytes(image[at : at + 4], "big")

    pages = len(image) // size
    trunk, seen = word(32), 0
    while 0 < trunk <= pages and seen <= pages:
        seen += 1
        start = (trunk - 1) * size
        for leaf in range(min(word(start + 4), size // 4 - 2)):
            page = word(start + 8 + 4 * leaf)
            if 1 < page <= pages:
                yield page
        trunk = word(start)


def copy_pages(source: sqlite3.Connection, target: sqlite3.Connection) -> None:
    """SQLite's online backup of one state of ``source``, with its seal still good.

    In one step: a reader, who in WAL neither waits nor is waited for.
    """
    own = not source.in_transaction
    if own:
        source.execute("BEGIN")
    try:
        cookie = _cookie(source)
        source.backup(target)
    finally:
        if own:
            source.rollback()
    target.execute(f"PRAGMA schema_version={cookie}")
