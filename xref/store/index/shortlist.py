"""Which spellings are worth scoring for a mark: those within a few faults of it, then the nearest.

Two cuts, neither of which is the ranking: the scan takes every spelling within as few faults as
bring enough of them, then raw text and skeleton together say which of those the channel model
shall score.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import islice

from sqlalchemy import Connection

from xref.domain.mark import Mark
from xref.store.index import cut as scan_cut
from xref.store.index import scan
from xref.store.index.match import SHORTEST_BASE, Scan, planes_for, signs_of
from xref.store.index.planes import TAILED

MOST = 80
"""Spellings a mark brings to the channel model, and those that are no farther than the last."""
ENOUGH = 24
"""With so many found, no spelling of a higher cost is looked for."""
FIRST_CUT = 500
"""Spellings let through by the scan for one reading."""
COST_FIRST = 2
COST_MOST = 6
"""What is looked for at once, and at most where that brings too few: three misread characters."""
COST_BEHIND = 3
"""What lies so much farther than the nearest has next to no odds beside it."""
TAILS_MOST = 300
"""Designations before a suffix that are let through by the scan. Judged."""
MOST_TAILED = 20
"""Designations a mark with a suffix brings to the channel model."""
TAIL_COST = 2
"""Cost of a designation that a suffix follows: many faults and a suffix are seldom read at once."""


def nearest_spellings(conn: Connection, marks: Sequence[Mark]) -> list[int]:
    """Ids of the spellings that may have been read as one of ``marks``, unordered, no repeats."""
    done, planes = scan.laid_out(conn)
    fresh = scan.plain_rows(
        conn, f"SELECT id, folded, takes_suffix FROM spelling WHERE id > {int(done)}"
    )
    found: dict[int, None] = {}
    for mark in marks:
        whole, tailed = _scanned(conn, mark, planes)
        rows = [*_texts(conn, whole), *((ident, text) for ident, text, _ in fresh)]
        texts = [text for _, text in rows]
        found.update((rows[at][0], None) for at in scan_cut.nearest(mark, texts, MOST))
        bases = [*_texts(conn, tailed), *((ident, text) for ident, text, takes in fresh if takes)]
        found.update((ident, None) for ident in _before_tail(mark, bases))
    return list(found)


def _scanned(conn: Connection, mark: Mark, planes: scan.Planes) -> tuple[list[int], list[int]]:
    """Ids within the fewest faults that bring enough, and of designations a suffix may follow."""
    signs = signs_of(mark)
    planes.read(conn, planes_for(signs, COST_FIRST))
    scans = [(band, Scan(signs, band, at == TAILED)) for at, band in enumerate(planes.bands)]
    found: list[int] = []
    seen, last = [0] * len(scans), COST_MOST
    for cost in range(COST_MOST + 1):
        if cost > COST_FIRST:
            planes.read(conn, planes_for(signs, cost))
        hits = [one.one_more() for _, one in scans]
        if any(hits):
            last = min(last, cost + COST_BEHIND)
        for (band, _), before, now in zip(scans, seen, hits, strict=True):
            found += islice(band.ids(before ^ now), FIRST_CUT - len(found))
        seen = hits
        if cost >= last or (len(found) >= ENOUGH and cost >= COST_FIRST):
            break
    return found, _tailed(*scans[TAILED])


def _tailed(band: scan.Band, done: Scan) -> list[int]:
    """Ids of designations that the beginning of the mark may be, longest first."""
    found: dict[int, None] = {}
    for by_signs in done.tails[: TAIL_COST + 1]:
        for hits in reversed(by_signs):
            found.update(dict.fromkeys(band.ids(hits)))
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
    return [bases[at][0] for at in scan_cut.nearest_before_tail(mark, texts, MOST_TAILED)]
