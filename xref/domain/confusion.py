"""What misreading costs, in nats: −ln of how likely such a fault is on a worn mark.

There is no published table of misreading rates for stamped steel: every cost here is *judged*
from published lists of look-alike characters, and the lists are named in the data file.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import lru_cache

ALPHABET = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"


@dataclass(frozen=True, slots=True)
class FaultCosts:
    """The cost in nats of each kind of fault. All judged (see the module's note)."""

    substitution: float = 8.5
    lost: float = 4.8
    extra: float = 8.0
    transposition: float = 4.4
    end_lost: float = 3.0
    end_lost_each: float = 0.6
    upside_down_bits: float = 5.0
    unknown_tail_bits: float = 3.0
    pairs: Mapping[tuple[str, str], float] = field(default_factory=dict)

    def rows(self) -> dict[str, dict[str, float]]:
        """For each character read, the cost of every character that may truly stand there."""
        return {
            read: {
                true: 0.0 if true == read else self.pairs.get((true, read), self.substitution)
                for true in ALPHABET
            }
            for read in ALPHABET
        }

    def ends(self, count: int) -> float:
        """The cost of ``count`` characters gone from one end of the mark."""
        if count == 0:
            return 0.0
        return min(self.lost * count, self.end_lost + self.end_lost_each * count)

    def worn(self, longest: int) -> tuple[float, ...]:
        """``ends`` of 0 to ``longest`` characters."""
        return _worn(self.lost, self.end_lost, self.end_lost_each, longest)


@lru_cache(maxsize=512)
def _worn(lost: float, first: float, each: float, longest: int) -> tuple[float, ...]:
    costs = FaultCosts(lost=lost, end_lost=first, end_lost_each=each)
    return tuple(costs.ends(count) for count in range(longest + 1))


def pair_costs(rows: Iterable[Mapping[str, str]]) -> dict[tuple[str, str], float]:
    """Both directions of each look-alike pair from rows with char_a, char_b, cost_nats."""
    costs: dict[tuple[str, str], float] = {}
    for row in rows:
        cost = float(row["cost_nats"])
        costs[row["char_a"], row["char_b"]] = cost
        costs[row["char_b"], row["char_a"]] = cost
    return costs


def nats(bits: float) -> float:
    """Bits as nats."""
    return bits * math.log(2)
