"""How one person misreads marks: counts of what was read for what, on top of the shipped costs.

For each true character the shipped costs are taken as ``PRIOR`` readings spread over what may be
read for it (a Dirichlet prior); decided readings are added, and the cost of reading one character
for another is −ln of how likely that has become beside reading it right.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from xref.domain.alignment import Step
from xref.domain.confusion import ALPHABET, FaultCosts

PRIOR = 40.0
"""How many readings of a character the shipped costs are worth. Judged."""
CHEAPEST = 0.7
"""No misreading becomes cheaper than this, in nats: one in two. Judged."""
TOLD_FROM = 2.0
"""Misreadings seen fewer times than this are not told as a habit. Judged."""

Counts = Mapping[tuple[str, str], float]
"""How often each (true, read) pair of characters was met, right readings included."""


@dataclass(frozen=True, slots=True)
class Habit:
    """One habit: ``read`` was read for ``true`` in ``times`` of the ``of`` times it was met.

    ``before`` and ``now`` are the cost of that misreading in nats, shipped and learned.
    """

    true: str
    read: str
    times: float
    of: float
    before: float
    now: float


def pairs_of(steps: Iterable[Step]) -> list[tuple[str, str]]:
    """The (true, read) pairs of one account that are single certain characters."""
    return [
        (step.true, step.read)
        for step in steps
        if len(step.true) == len(step.read) == 1 and step.true in ALPHABET and step.read in ALPHABET
    ]


def learned(costs: FaultCosts, counts: Counts) -> dict[tuple[str, str], float]:
    """The look-alike costs with the counts in them: a new mapping of (true, read) to nats.

    A pair that was never met and has no shipped cost keeps none (a plain substitution).
    """
    pairs = dict(costs.pairs)
    met: dict[str, dict[str, float]] = defaultdict(dict)
    for (true, read), count in counts.items():
        if count > 0:
            met[true][read] = count
    for true, reads in met.items():
        weights = {
            read: math.exp(-costs.pairs.get((true, read), costs.substitution))
            for read in ALPHABET
            if read != true
        }
        whole = 1.0 + math.fsum(weights.values())
        right = PRIOR / whole + reads.get(true, 0.0)
        for read, weight in weights.items():
            if (true, read) in costs.pairs or read in reads:
                share = PRIOR * weight / whole + reads.get(read, 0.0)
                pairs[true, read] = max(CHEAPEST, math.log(right / share))
    return pairs


def habits(costs: FaultCosts, counts: Counts) -> list[Habit]:
    """What was learned, the plainest habit first; () for nothing worth telling."""
    now = learned(costs, counts)
    of: dict[str, float] = defaultdict(float)
    for (true, _), count in counts.items():
        of[true] += count
    found = [
        Habit(
            true,
            read,
            count,
            of[true],
            costs.pairs.get((true, read), costs.substitution),
            now[true, read],
        )
        for (true, read), count in counts.items()
        if true != read and count >= TOLD_FROM
    ]
    return sorted(found, key=lambda h: (-h.times / h.of, -h.times, h.true, h.read))
