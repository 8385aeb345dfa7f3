"""How far stated odds are from how often they come true, with what chance alone would show."""

from __future__ import annotations

import math
import random
from collections.abc import Sequence
from dataclasses import dataclass

from scripts.benches.intervals import wilson

BINS = 10
RESAMPLES = 200


@dataclass(frozen=True, slots=True)
class Bin:
    """One tenth of the odds: the mean stated, the share that came true, and how many."""

    stated: float
    true: float
    n: int

    @property
    def interval(self) -> tuple[float, float]:
        """Wilson 95 % of the share that came true."""
        return wilson(self.true * self.n, self.n)


Told = Sequence[tuple[float, float]]
"""Pairs of the odds stated and 1 or 0 for true or not (a fraction where equals share it)."""


def bins(told: Told) -> list[Bin]:
    """The tenths that are not empty, lowest first."""
    held: list[list[tuple[float, float]]] = [[] for _ in range(BINS)]
    for stated, true in told:
        held[min(BINS - 1, int(stated * BINS))].append((stated, true))
    return [
        Bin(
            math.fsum(s for s, _ in some) / len(some),
            math.fsum(t for _, t in some) / len(some),
            len(some),
        )
        for some in held
        if some
    ]


def calibration_error(told: Told) -> float:
    """The expected calibration error: mean gap between stated and true, by tenths of the odds."""
    return math.fsum(one.n * abs(one.stated - one.true) for one in bins(told)) / max(1, len(told))


def error_interval(told: Told, chance: random.Random) -> tuple[float, float]:
    """A bootstrap 95 % interval of the calibration error. It is never below 0, so it leans up."""
    if not told:
        return 0.0, 1.0
    drawn = sorted(calibration_error(chance.choices(told, k=len(told))) for _ in range(RESAMPLES))
    return drawn[round(0.025 * (RESAMPLES - 1))], drawn[round(0.975 * (RESAMPLES - 1))]


def error_by_chance(told: Told, chance: random.Random) -> float:
    """The calibration error that odds which are exactly right would show with so many cases."""
    drawn = [
        calibration_error([(stated, float(chance.random() < stated)) for stated, _ in told])
        for _ in range(RESAMPLES)
    ]
    return math.fsum(drawn) / RESAMPLES
