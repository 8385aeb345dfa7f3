"""What was said of many marks of one store, and by how much that misses the targets."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field

from scripts.benches.reliability import Told, calibration_error
from xref.domain.verdict import ONE_AT_LEAST, ONE_OVER_NEXT

TARGETED = (1, 2, 3)
"""The fault counts that have a target of their own; a mark read right has none."""
LEAST_GIVEN = 1e-4
"""What a truth that was not listed is taken to have been given."""
TOP_ERROR, COUNT_ERROR, SURE_WRONG, ONE_WRONG, NONE_OFF, NONE_ERROR = (
    0.05,
    0.08,
    0.03,
    0.02,
    0.05,
    0.10,
)
"""The targets, in the order in which ``_oversteps`` takes them."""


@dataclass(frozen=True, slots=True)
class Said:
    """What was said of one mark: the two best odds, whether the first was right (a fraction where
    equals share it), what the truth was given, and the odds of none."""

    faults: int
    absent: bool
    best: float
    second: float
    right: float
    given: float
    none: float
    capped: bool = False

    @property
    def is_one(self) -> bool:
        """Whether the verdict is *one*."""
        clear = self.best >= ONE_AT_LEAST and self.best >= ONE_OVER_NEXT * self.second
        return clear and not self.capped


@dataclass
class Judged:
    """Everything said about the marks of one store."""

    size: int
    said: list[Said] = field(default_factory=list)

    def top(self, faults: int | None = None) -> Told:
        """The first answer's odds and whether it was right, of all marks or of a fault count."""
        return [(s.best, s.right) for s in self.said if faults in (None, s.faults)]

    def none(self) -> Told:
        """The odds of none of these, and whether the truth was absent."""
        return [(s.none, float(s.absent)) for s in self.said]

    def sure(self) -> list[float]:
        """Right or not where the first answer holds 95 % or more."""
        return [s.right for s in self.said if s.best >= 0.95]

    def ones(self) -> list[float]:
        """Right or not where the verdict is *one*."""
        return [s.right for s in self.said if s.is_one]

    def surprise(self) -> float:
        """Mean −ln of what the truth was given."""
        given = [-math.log(max(LEAST_GIVEN, s.given)) for s in self.said]
        return math.fsum(given) / len(given)

    def oversteps(self) -> float:
        """By how much the targets are missed, added up."""
        off = abs(mean([s.none for s in self.said]) - mean([t for _, t in self.none()]))
        missed = [
            calibration_error(self.top()) - TOP_ERROR,
            *(calibration_error(self.top(count)) - COUNT_ERROR for count in TARGETED),
            1 - mean(self.sure(), 1.0) - SURE_WRONG,
            1 - mean(self.ones(), 1.0) - ONE_WRONG,
            off - NONE_OFF,
            calibration_error(self.none()) - NONE_ERROR,
        ]
        return math.fsum(max(0.0, by) for by in missed)


def mean(values: Sequence[float], empty: float = 0.0) -> float:
    return math.fsum(values) / len(values) if values else empty
