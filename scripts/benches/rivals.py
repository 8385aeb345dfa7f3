"""The three ways to rank: xref itself, and two plain text distances over every number."""

from __future__ import annotations

import math
import time
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field

from rapidfuzz import fuzz, process
from rapidfuzz.distance import OSA
from sqlalchemy import Connection, select

from scripts.benches.intervals import Place
from xref.domain.weights import ORIGIN_STORE
from xref.services.identify.gather import BY_MARK
from xref.services.identify.run import identify
from xref.services.question import Asked, understand
from xref.store.tables.tables import part, spelling

TIE = 1e-9
BELOW = 0.01
"""How far under the truth's own score to cut: at the very score RapidFuzz drops it by rounding."""


@dataclass(frozen=True, slots=True)
class Answer:
    """The place of the truth, how long the search took, and the number that came first."""

    place: Place
    seconds: float
    first: str


@dataclass(frozen=True)
class Numbers:
    """Every spelling in the store beside the physical thing it belongs to."""

    texts: list[str]
    groups: list[str]
    owners: dict[str, set[str]] = field(default_factory=dict)
    """The groups that each folded text stands for."""
    spelled: dict[str, list[str]] = field(default_factory=dict)
    """The texts of each group."""


def read_numbers(conn: Connection, own_only: bool) -> Numbers:
    """The numbers that the plain distances search, each text of a group once.

    ``own_only`` leaves the standards' rows out: their many short numbers lie inside other numbers,
    which ``WRatio`` takes for a near match.
    """
    query = (
        select(spelling.c.folded, part.c.group_key)
        .join(part, part.c.id == spelling.c.part_id)
        .distinct()
    )
    if own_only:
        query = query.where(part.c.origin == ORIGIN_STORE)
    rows = [(text, group) for text, group in conn.execute(query)]
    numbers = Numbers([text for text, _ in rows], [group for _, group in rows])
    for text, group in rows:
        numbers.owners.setdefault(text, set()).add(group)
        numbers.spelled.setdefault(group, []).append(text)
    return numbers


Way = Callable[[str, str], Answer]


def by_xref(conn: Connection) -> Way:
    """``identify`` with the mark alone, as the command calls it."""

    def answer(mark: str, group: str) -> Answer:
        query = understand(Asked(marks=[mark]))
        start = time.perf_counter()
        found = identify(conn, query, limit=BY_MARK)
        took = time.perf_counter() - start
        bits = {c.part.group: c.scored.total_bits for c in found.candidates}
        own = bits.get(group, -math.inf)
        place = Place(
            sum(b > own + TIE for b in bits.values()),
            sum(abs(b - own) <= TIE for b in bits.values()) if group in bits else 0,
        )
        return Answer(place, took, found.candidates[0].part.number if found.candidates else "")

    return answer


def by_wratio(numbers: Numbers) -> Way:
    """RapidFuzz's ``WRatio`` over every number; ``*`` left out, ``?`` left in."""
    return _by(fuzz.WRatio, numbers, sign=1, below=BELOW)


def by_distance(numbers: Numbers) -> Way:
    """Plain edit distance (neighbours swapped count once) over every number; ``?`` left in."""
    return _by(OSA.distance, numbers, sign=-1, below=0)


def _by(scorer: Callable[..., float], numbers: Numbers, sign: int, below: float) -> Way:
    """By one of RapidFuzz's scorers; ``sign`` is 1 where more is nearer, −1 where less is."""

    def answer(mark: str, group: str) -> Answer:
        wanted = mark.replace("*", "")
        start = time.perf_counter()
        best = process.extract(wanted, numbers.texts, scorer=scorer, limit=10)
        took = time.perf_counter() - start
        own = max(sign * scorer(wanted, text) for text in numbers.spelled[group])
        rows = process.extract(
            wanted, numbers.texts, scorer=scorer, limit=None, score_cutoff=sign * (own - below)
        )
        place = _place(numbers, ((sign * score, at) for _, score, at in rows), group, own)
        return Answer(place, took, best[0][0])

    return answer


def _place(numbers: Numbers, rows: Iterable[tuple[float, int]], group: str, own: float) -> Place:
    """The truth's place among things, each thing by its best spelling."""
    best: dict[str, float] = {}
    for score, at in rows:
        held = numbers.groups[at]
        best[held] = max(score, best.get(held, -math.inf))
    if group not in best:
        raise RuntimeError(f"the search over every number left out {group}")
    better = sum(score > own + TIE for score in best.values())
    equals = sum(abs(score - own) <= TIE for score in best.values())
    return Place(better, equals)
