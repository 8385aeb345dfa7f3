"""Which parts are worth scoring for a mark: every spelling scanned, the nearest kept.

One small interface, ``nearest_spellings``, so that a faster index can take its place. The first
cut is plain edit distance on skeletons (a look-alike costs nothing there); the channel model then
ranks what the cut lets through, so the cut must be generous and is never the ranking.
"""

from __future__ import annotations

from collections.abc import Sequence

from rapidfuzz import fuzz, process
from rapidfuzz.distance import OSA
from sqlalchemy import Connection

from xref.domain.mark import Mark
from xref.domain.number import skeleton

FIRST_CUT = 600
"""Spellings let through to the channel model. Raising it to 2,000 changed no answer measured."""
SHORTEST_BASE = 3
TAIL_CUT = 2

_ALL = "SELECT id, skeleton FROM spelling"
_WITH_TAIL = "SELECT id, skeleton FROM spelling WHERE takes_suffix"


def nearest_spellings(conn: Connection, marks: Sequence[Mark]) -> list[int]:
    """Ids of the spellings that may have been read as one of ``marks``, unordered, no repeats."""
    found: dict[int, None] = {}
    ids, skeletons = _scan(conn, _ALL)
    for mark in marks:
        for at in _cut(mark, skeletons, FIRST_CUT):
            found[ids[at]] = None
    longest = max(len(mark.signs) for mark in marks)
    if longest > SHORTEST_BASE:
        ids, skeletons = _scan(conn, _WITH_TAIL)
        for mark in marks:
            for at in _cut_before_tail(mark, skeletons):
                found[ids[at]] = None
    return list(found)


def _scan(conn: Connection, sql: str) -> tuple[list[int], list[str]]:
    # The driver's own cursor: at 100,000 rows SQLAlchemy's row objects cost more than the search.
    cursor = conn.connection.cursor()
    try:
        cursor.execute(sql)
        rows = cursor.fetchall()
    finally:
        cursor.close()
    return [row[0] for row in rows], [row[1] for row in rows]


def _flat(mark: Mark) -> str:
    """The mark for the first cut: a look-alike class for each sign, ``?`` where it is open."""
    return "".join(_sign(sign.chars) for sign in mark.signs if not sign.lost)


def _sign(chars: str) -> str:
    classes = {skeleton(c) for c in chars}
    return classes.pop() if len(classes) == 1 else "?"


def _cut(mark: Mark, skeletons: list[str], most: int) -> list[int]:
    pieces = _pieces(mark)
    if len(pieces) == 1:
        return _by_distance(pieces[0], skeletons, most)
    head, tail = pieces[0], pieces[-1]
    if not head and not tail:
        longest = max(pieces, key=len)
        rows = process.extract(longest, skeletons, scorer=fuzz.partial_ratio, limit=most)
        return [at for _, _, at in rows]
    h, t = len(head), len(tail)
    ends = [text[:h] + (text[-t:] if t else "") for text in skeletons]
    return _by_distance(head + tail, ends, most)


def _pieces(mark: Mark) -> list[str]:
    """The stretches between lost ones, first and last "" where the mark begins or ends with one."""
    pieces: list[list[str]] = [[]]
    for sign in mark.signs:
        if sign.lost:
            pieces.append([])
        else:
            pieces[-1].append(_sign(sign.chars))
    return ["".join(piece) for piece in pieces]


def _by_distance(wanted: str, texts: list[str], most: int) -> list[int]:
    """Positions of the nearest texts: whole rings of distance, until ``most`` are in."""
    found: list[int] = []
    for cutoff in (2, 4, len(wanted) + 2):
        rows = process.extract(wanted, texts, scorer=OSA.distance, limit=most, score_cutoff=cutoff)
        found = [at for _, _, at in rows]
        if len(found) >= most:
            break
    return found


def _cut_before_tail(mark: Mark, skeletons: list[str]) -> list[int]:
    """Designations that the beginning of the mark may be, with a suffix after it."""
    flat = _flat(mark)
    found: list[int] = []
    for length in range(SHORTEST_BASE, len(flat)):
        rows = process.extract(
            flat[:length], skeletons, scorer=OSA.distance, limit=60, score_cutoff=TAIL_CUT
        )
        found.extend(at for _, _, at in rows)
    return found
