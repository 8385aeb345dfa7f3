"""How common sizes are together, beside how common each is by itself.

Sizes are not independent: most bearings of 20 mm bore and 47 mm outside are 14 mm wide. The single
backgrounds multiplied would make such a triple look like a miracle, and every part that has it a
certainty. So the background of several sizes is taken over things: those of nearly these sizes, and
the neighbourhood of each, since a thing that is not on record is like those that are.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

REACH = 0.35
"""Sizes that lie apart by less than this, as a difference of natural logarithms, are neighbours:
29 % less to 42 % more. A flat kernel as wide as a normal one of 0.2, with which 0.1 to 0.3 were as
good."""
EVEN = 1e-5
"""How much of everything is of any sizes whatever. Judged."""
LEAST_SHARE = 1e-3
"""Below this share of parts near a reading the share says nothing. Judged."""
KNOWN_SINGLE, KNOWN_DOUBLE = 20.0, 2.0
"""Sets of sizes that one thing and that two have, as if so many were known beside those that lie
near: Good and Turing's estimate of 0.8 from the standards' tables. """


@dataclass(frozen=True, slots=True)
class Alike:
    """Things of one set of sizes: their weight times how much likelier what else was said is of
    such things, how many things share these sizes, and the bits of the readings for them."""

    weight: float
    sharing: int
    bits: float


@dataclass(frozen=True, slots=True)
class Around:
    """What lies around the readings: Σ weight/sharing over the sets of sizes in reach (each weight
    as in ``Alike``), how many sets one thing alone has and how many two have."""

    mass: float
    single: float
    double: float


def unseen_share(around: Around) -> float:
    """d (0..1): how much of a set of sizes that one thing has speaks for its neighbourhood only.

    1 − 2·N₂/N₁ by Good and Turing, near the readings.
    """
    single = around.single + KNOWN_SINGLE
    double = around.double + KNOWN_DOUBLE
    return min(0.98, max(0.3, 1 - 2 * double / single))


def together_bits(
    alike: Iterable[Alike], around: Around, shares: Iterable[float], whole: float
) -> float:
    """−log2(B/G): what is taken off, or added, where sizes are more or less common together.

    ``shares`` are, for each size, the share (0..1) of the things with such a size that lie near
    the reading; ``whole`` is the weight of everything that has sizes. 0 where nothing has.
    """
    if whole <= 0:
        return 0.0
    near = math.prod(max(share, LEAST_SHARE) for share in shares)
    unseen = unseen_share(around)
    same = math.fsum(a.weight * (1 - unseen / a.sharing) * 2.0**a.bits for a in alike)
    ratio = (same + unseen * around.mass / near) / whole + EVEN / near
    return -math.log2(ratio)
