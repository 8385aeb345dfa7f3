"""Evidence as a list that adds up: start + bits of each item = total, and odds from the totals."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from xref.domain.part import Part


@dataclass(frozen=True, slots=True)
class Evidence:
    """One thing that was seen, what this part would show, and what that is worth in bits.

    Positive bits speak for the part, negative against it; 0 bits is "says nothing".
    """

    about: str
    seen: str
    expected: str
    bits: float
    reason: str


@dataclass(frozen=True, slots=True)
class Scored:
    """One physical thing with its evidence. ``part`` is its best-agreeing record.

    ``also`` are the other numbers of the same thing; ``not_compared`` names what was given or
    known on one side only, and so counts for nothing.
    """

    part: Part
    also: tuple[str, ...]
    start_bits: float
    evidence: tuple[Evidence, ...]
    not_compared: tuple[str, ...] = ()

    @property
    def total_bits(self) -> float:
        """start + Σ bits, in bits against "none of these" at 0."""
        return self.start_bits + math.fsum(item.bits for item in self.evidence)

    def bits_about(self, *topics: str) -> float:
        """The bits of the items whose ``about`` begins with one of ``topics``."""
        return math.fsum(e.bits for e in self.evidence if e.about.startswith(topics))


@dataclass(frozen=True, slots=True)
class Odds:
    """Probabilities over the scored things, the rest of the store, and none of these; sum 1."""

    probabilities: tuple[float, ...]
    rest: float
    none: float


def odds(totals: Sequence[float], rest_bits: float) -> Odds:
    """The posterior: 2^total each, 2^rest_bits for all parts not scored, 1 for "none of these".

    ``rest_bits`` is −inf where every part was scored. Computed from the largest exponent down, so
    that neither a thousand bits nor none at all overflows.
    """
    top = max([0.0, rest_bits, *totals])
    none = 2.0 ** (0.0 - top)
    rest = 2.0 ** (rest_bits - top) if rest_bits > -math.inf else 0.0
    each = [2.0 ** (total - top) for total in totals]
    whole = math.fsum([none, rest, *each])
    return Odds(tuple(e / whole for e in each), rest / whole, none / whole)
