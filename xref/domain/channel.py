"""The channel model: how likely this reading is from that number.

A weighted edit distance in nats whose costs are −ln of how likely each fault is. Illegible signs
and lost stretches cost nothing; ends wear away cheaply; after a bearing's designation a known
suffix may follow.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from xref.domain.confusion import ALPHABET, FaultCosts, nats
from xref.domain.mark import Mark, Sign

_FREE = dict.fromkeys(ALPHABET, 0.0)
IMPOSSIBLE = math.inf


@dataclass(frozen=True, slots=True)
class Reading:
    """A mark made ready for scoring: one cost row a sign, and what each tail costs.

    ``rows[j]`` gives the cost of each true character under sign j, None for a lost stretch.
    ``skip[j]`` is the cost of sign j standing for nothing. ``tails[j]`` is the cost, in nats, of
    the signs from j on being a trade suffix or something unknown; ``tails[n]`` is 0.
    ``extra_cost`` (nats) is paid once by the whole reading (upside down).
    """

    mark: Mark
    rows: tuple[dict[str, float] | None, ...]
    skip: tuple[float, ...]
    tails: tuple[float, ...]
    tail_names: tuple[str, ...]
    extra_cost: float
    costs: FaultCosts


@dataclass(frozen=True, slots=True)
class Tails:
    """What may follow a designation: each suffix with the share of bearings that carry it.

    ``scale`` is the fitted factor λ on costs: tails are given in bits and must not be scaled by it.
    """

    shares: Mapping[str, float]
    scale: float


def prepare(
    mark: Mark, costs: FaultCosts, tails: Tails | None, sign_bits: Sequence[float]
) -> Reading:
    """Make ``mark`` ready; ``sign_bits`` is each sign's information in bits, 0 if not legible."""
    table = costs.rows()
    rows = tuple(_row(sign, table) for sign in mark.signs)
    skip = tuple(
        0.0 if sign.lost else costs.lost if not sign.legible else costs.extra for sign in mark.signs
    )
    extra = nats(costs.upside_down_bits) / (tails.scale if tails else 1.0) if mark.turned else 0.0
    bare = Reading(mark, rows, skip, (), (), extra, costs)
    if tails is None:
        return bare
    priced = [_tail(bare, at, tails, sum(sign_bits[at:])) for at in range(len(rows))]
    priced.append((0.0, ""))
    return Reading(
        mark,
        rows,
        skip,
        tuple(cost for cost, _ in priced),
        tuple(name for _, name in priced),
        extra,
        costs,
    )


def _row(sign: Sign, table: Mapping[str, dict[str, float]]) -> dict[str, float] | None:
    if sign.lost:
        return None
    if not sign.legible:
        return _FREE
    if len(sign.chars) == 1:
        return table[sign.chars]
    return {true: min(table[c][true] for c in sign.chars) for true in ALPHABET}


def _tail(reading: Reading, at: int, tails: Tails, info_bits: float) -> tuple[float, str]:
    """The cheapest account of the signs from ``at`` on: a known suffix, or an unknown tail."""
    costs = reading.costs
    best = nats(costs.unknown_tail_bits + info_bits) / tails.scale
    name = "?"
    rest = Reading(reading.mark, reading.rows[at:], reading.skip[at:], (), (), 0.0, costs)
    longest = len(rest.rows)
    has_lost = any(row is None for row in rest.rows)
    for suffix, share in tails.shares.items():
        if not has_lost and abs(len(suffix) - longest) > 1:
            continue
        cost = nats(-math.log2(share)) / tails.scale + distance(rest, suffix)
        if cost < best:
            best, name = cost, suffix
    return best, name


def distance(reading: Reading, number: str, takes_suffix: bool = False) -> float:
    """The cost in nats of having read ``reading`` where ``number`` (folded) was struck.

    0 means that every legible sign agrees. ``takes_suffix`` lets a trade suffix follow.
    """
    last = cost_table(reading, number)[-1]
    if takes_suffix and reading.tails:
        return min(map(float.__add__, last, reading.tails)) + reading.extra_cost
    return last[-1] + reading.extra_cost


def cost_table(reading: Reading, number: str) -> list[list[float]]:
    """Rows i (characters of the number used) by columns j (signs used), worn end folded in.

    The last row also holds, in its last column, the cheapest way for the number's end to be lost.
    """
    costs = reading.costs
    lost, swap = costs.lost, costs.transposition
    rows, skip = reading.rows, reading.skip
    width = len(rows)
    first = [0.0] * (width + 1)
    for j in range(width):
        first[j + 1] = first[j] + skip[j]
    grid = [first]
    before = ""
    for i, char in enumerate(number, 1):
        above = grid[-1]
        start = costs.ends(i)
        line = [start]
        left = start
        for j in range(width):
            row = rows[j]
            if row is None:
                left = min(left, above[j + 1])
            else:
                diagonal = above[j] + row.get(char, costs.substitution)
                up = above[j + 1] + lost
                left += skip[j]
                if up < left:
                    left = up
                if diagonal < left:
                    left = diagonal
                if i > 1 and j:
                    other = rows[j - 1]
                    if (
                        other is not None
                        and before != char
                        and row.get(before, 1.0) == 0.0
                        and other.get(char, 1.0) == 0.0
                    ):
                        swapped = grid[i - 2][j - 1] + swap
                        if swapped < left:
                            left = swapped
            line.append(left)
        grid.append(line)
        before = char
    size = len(number)
    grid[-1][-1] = min(grid[i][-1] + costs.ends(size - i) for i in range(size + 1))
    return grid
