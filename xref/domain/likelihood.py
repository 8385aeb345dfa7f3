"""How likely a measured size is from a part of a given nominal size.

A normal error (instrument, hand, manufacture) convolved with one-sided wear that falls off
exponentially, so that a worn bush reads large and never small.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

_ROOT3 = math.sqrt(3.0)
_ROOT12 = math.sqrt(12.0)
_WIDEST = 2000.0
"""A size nobody has stored may be anything over three decades: density 1/(x ln 2000). Judged."""
CARELESS = 0.08
"""The share of readings rounded to whole millimetres, or taken askew. Judged."""
_OTHERWISE = 0.05
"""The share of sizes on the bench that are no stored size. Judged."""


@dataclass(frozen=True, slots=True)
class Spread:
    """What stands between a nominal size and its reading, all in millimetres.

    ``error`` is the instrument's permissible error, ``hand`` the user's (one of the two must be
    more than 0: nothing is measured exactly), ``tolerance`` the width of
    the standard tolerance (0 where none is published). ``wear_share`` q of parts have worn by a
    mean of ``wear`` in ``direction`` (+1 grows, −1 shrinks; 0 no wear). ``askew`` is how far a
    careless reading lies off (one standard deviation; 0: none is careless).
    """

    error: float
    hand: float
    tolerance: float = 0.0
    wear_share: float = 0.0
    wear: float = 0.0
    direction: int = 0
    askew: float = 0.0

    @property
    def sigma(self) -> float:
        """s: permissible error and tolerance as rectangular distributions, the hand as normal."""
        return math.sqrt(
            (self.error / _ROOT3) ** 2 + self.hand**2 + (self.tolerance / _ROOT12) ** 2
        )

    def density(self, deviation: float) -> float:
        """p(reading | nominal) per mm for a reading ``deviation`` mm above mid-tolerance."""
        careful = self._careful(deviation)
        if not self.askew:
            return careful
        return (1 - CARELESS) * careful + CARELESS * _normal(deviation, self.askew)

    def _careful(self, deviation: float) -> float:
        s = self.sigma
        if not self.direction or self.wear_share <= 0 or self.wear <= 0:
            return _normal(deviation, s)
        y = deviation * self.direction
        w = self.wear
        worn = _exponential_tail(y, s, w)
        return (1 - self.wear_share) * _normal(y, s) + self.wear_share * worn


def _normal(y: float, s: float) -> float:
    return math.exp(-0.5 * (y / s) ** 2) / (s * math.sqrt(2 * math.pi))


def _exponential_tail(y: float, s: float, w: float) -> float:
    """Normal(0, s) plus Exponential(mean w): exp((s²/w − 2y)/2w)·Φ((y − s²/w)/s)/w, kept finite."""
    exponent = (s * s / w - 2 * y) / (2 * w)
    z = (y - s * s / w) / s
    if z > -8.0:
        return math.exp(min(exponent, 700.0)) * 0.5 * math.erfc(-z / math.sqrt(2)) / w
    # Far below nominal the product is 0·∞: use the tail's own asymptotic form.
    return _normal(y, s) * s / (w * -z)


def background(x: float, stored: Iterable[tuple[float, float]], whole: float) -> float:
    """b(x): how likely the reading is from the store at large, per mm.

    ``stored`` are (how likely x is of a part, per mm; its weight) for those near x, ``whole`` the
    weight of every part with this size.
    Never 0: a twentieth of sizes is expected to be nowhere in the store.
    """
    near = 0.0
    if whole > 0:
        near = math.fsum(w / whole * density for density, w in stored)
    return (1 - _OTHERWISE) * near + _OTHERWISE / (x * math.log(_WIDEST))


def size_bits(density: float, behind: float, floor: float) -> float:
    """log2(f/b), not below ``floor`` bits."""
    if density <= 0:
        return floor
    return max(floor, math.log2(density / behind))
