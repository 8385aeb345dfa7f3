"""Which spellings are worth scoring for a mark: those within a few faults of it, then the nearest.

Two cuts, neither of which is the ranking: the scan takes every spelling within as few faults as
bring enough of them, then raw text and skeleton together say which of those the channel model
shall score.
"""

from __future__ import annotations

from collections.abc import Sequence

from sqlalchemy import Connection

from xref.domain.mark import Mark
from xref.store import scan, scan_cut
from xref.store.scan_match import SHORTEST_BASE, Scan, planes_for, signs_of
from xref.store.scan_planes import SLOTS, slots

MOST = 120
"""Spellings a mark brings to the channel model."""
ENOUGH = 200
"""With so many found, no spelling of more faults is looked for."""
FIRST_CUT = 1200
"""Spellings let through by the scan for one reading."""
FAULTS = (2, 4)
"""Faults looked for at first, and where those bring too few."""
TAILS_MOST = 300
TAIL_FAULTS = 1
"""Faults in a designation that a suffix follows: both together are seldom read."""


def nearest_spellings(conn: Connection, marks: Sequence[Mark]) -> list[int]:
    """Ids of the spellings that may have been read as one of ``marks``, unordered, no repeats."""
    laid_out = scan.blocks(conn)
    done = max((upto for _, upto, _ in laid_out), default=0)
    fresh = scan.plain_rows(
        conn, f"SELECT id, folded, takes_suffix FROM spelling WHERE id > {int(done)}"
    )
    found: dict[int, None] = {}
    for mark in marks:
        whole, tailed = _scanned(conn, mark, laid_out)
        rows = [*_texts(conn, whole), *((ident, text) for ident, text, _ in fresh)]
        texts = [text for _, text in rows]
        found.update((rows[at][0], None) for at in scan_cut.nearest(mark, texts, MOST))
        bases = [*_texts(conn, tailed), *((ident, text) for ident, text, takes in fresh if takes)]
        found.update((ident, None) for ident in _before_tail(mark, bases))
    return list(found)


def _scanned(
    conn: Connection, mark: Mark, laid_out: Sequence[tuple[int, int, str]]
) -> tuple[list[int], list[int]]:
    """Ids within the fewest faults that bring enough, and of designations a suffix may follow."""
    signs = signs_of(mark)
    found: list[int] = []
    tailed: list[int] = []
    for faults in FAULTS:
        codes = planes_for(signs, faults)
        scans = []
        for block, _, stamp in laid_out:
            held = scan.planes(conn, block, stamp, codes)
            run = Scan(signs, held.__getitem__, faults)
            scans.append((block, run.run(), run.tails))
        found = _fewest(scans, faults)
        tailed = tailed or _tailed(scans)
        if len(found) >= ENOUGH:
            break
    return found, tailed


Scanned = tuple[int, list[int], list[list[int]]]


def _fewest(scans: Sequence[Scanned], faults: int) -> list[int]:
    """Ids fault by fault, until enough are found."""
    found: dict[int, None] = {}
    for fault in range(faults + 1):
        for block, hits, _ in scans:
            less = hits[fault - 1] if fault else 0
            for slot in slots(hits[fault] ^ less):
                found[block * SLOTS + slot] = None
                if len(found) >= FIRST_CUT:
                    return list(found)
        if len(found) >= ENOUGH:
            break
    return list(found)


def _tailed(scans: Sequence[Scanned]) -> list[int]:
    """Ids of designations that the beginning of the mark may be, longest first."""
    found: dict[int, None] = {}
    for fault in range(TAIL_FAULTS + 1):
        for block, _, tails in scans:
            for hits in reversed(tails):
                found.update((block * SLOTS + slot, None) for slot in slots(hits[fault]))
    return list(found)[:TAILS_MOST]


def _texts(conn: Connection, ids: Sequence[int]) -> list[tuple[int, str]]:
    if not ids:
        return []
    numbers = ",".join(map(str, ids))
    return scan.plain_rows(conn, f"SELECT id, folded FROM spelling WHERE id IN ({numbers})")


def _before_tail(mark: Mark, bases: Sequence[tuple[int, str]]) -> list[int]:
    """Ids of the designations nearest to the beginning of the mark, those that explain most."""
    if len(mark.signs) <= SHORTEST_BASE:
        return []
    texts = [text for _, text in bases]
    return [bases[at][0] for at in scan_cut.nearest_before_tail(mark, texts, MOST // 2)]
