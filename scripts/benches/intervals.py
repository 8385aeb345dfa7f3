"""Shares with their intervals, and the place of the right answer among equals."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

Z95 = 1.959963984540054
"""The 97.5 % point of the normal distribution (a mathematical constant, from memory)."""


@dataclass(frozen=True, slots=True)
class Place:
    """Where the truth came: ``better`` stand before it, ``equals`` (itself counted) beside it.

    ``equals`` is 0 where the truth was not among the answers at all.
    """

    better: int
    equals: int

    @property
    def rank(self) -> float:
        """The expected rank, equals standing in random order; infinite where it is missing."""
        return self.better + (self.equals + 1) / 2 if self.equals else math.inf

    def within(self, most: int) -> float:
        """The chance of being among the first ``most``, equals standing in random order."""
        if not self.equals:
            return 0.0
        return min(1.0, max(0.0, (most - self.better) / self.equals))


def wilson(hits: float, n: int) -> tuple[float, float]:
    """The Wilson score interval (95 %) of a share; (0, 1) where nothing was counted.

    ``hits`` may be a fraction, where equals share a hit.
    """
    if n == 0:
        return 0.0, 1.0
    share, square = hits / n, Z95 * Z95
    middle = (share + square / (2 * n)) / (1 + square / n)
    half = Z95 / (1 + square / n) * math.sqrt(share * (1 - share) / n + square / (4 * n * n))
    return max(0.0, middle - half), min(1.0, middle + half)


def percent(hits: float, n: int, places: int = 0) -> str:
    """``"85 (79–89)"``: the share in per cent with its interval, to so many decimals."""
    low, high = wilson(hits, n)
    share = hits / n if n else 0.0
    told = (f"{100 * one:.{places}f}" for one in (share, low, high))
    return "{} ({}–{})".format(*told)


def counted(places: Sequence[Place], most: int) -> str:
    """The share of ``places`` within the first ``most``, with its interval."""
    return percent(math.fsum(place.within(most) for place in places), len(places))


def lead(ours: Sequence[Place], theirs: Sequence[Place]) -> str:
    """``"+12 (+7 to +17)"``: by how many points of a hundred we are oftener right first.

    The same marks were given to both, so the interval is that of the mean of the differences (95 %,
    normal).
    """
    gaps = [a.within(1) - b.within(1) for a, b in zip(ours, theirs, strict=True)]
    mean = math.fsum(gaps) / len(gaps)
    spread = math.fsum((gap - mean) ** 2 for gap in gaps) / max(1, len(gaps) - 1)
    half = Z95 * math.sqrt(spread / len(gaps))
    return f"{100 * mean:+.0f} ({100 * (mean - half):+.0f} to {100 * (mean + half):+.0f})"
