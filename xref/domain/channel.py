"""The channel model: how likely this reading is from that number.

A weighted edit distance in nats whose costs are −ln of how likely each fault is. Illegible signs
and lost stretches cost nothing; ends wear away cheaply; after a bearing's designation a known
suffix may follow.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from itertools import accumulate

from xref.domain.confusion import ALPHABET, FaultCosts, nats
from xref.domain.mark import Mark, Sign

_FREE = dict.fromkeys(ALPHABET, 0.0)
IMPOSSIBLE = math.inf


Column = tuple[tuple[float, ...], frozenset[int]]
"""What one true character costs under each sign (a lost stretch: infinite, it takes characters at
no cost but none in its place), and the signs that agree with it."""


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
    columns: dict[str, Column] = field(default_factory=dict, compare=False)
    """The rows turned over, made for each true character when it is first met."""


@dataclass(frozen=True)
class Tails:
    """What may follow a designation: each suffix with the share of bearings that carry it.

    ``scale`` is the fitted factor λ on costs: tails are given in bits and must not be scaled by it.
    """

    shares: Mapping[str, float]
    scale: float

    @cached_property
    def commonest_first(self) -> tuple[tuple[str, float], ...]:
        """Each suffix with what its rarity alone costs, in nats."""
        priced = ((code, nats(-math.log2(s)) / self.scale) for code, s in self.shares.items())
        return tuple(sorted(priced, key=lambda pair: pair[1]))


def prepare(
    mark: Mark, costs: FaultCosts, tails: Tails | None, sign_bits: Sequence[float]
) -> Reading:
    """Make ``mark`` ready; ``sign_bits`` is each sign's information in bits, 0 if not legible."""
    rows = tuple(_row(sign, costs) for sign in mark.signs)
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


def _row(sign: Sign, costs: FaultCosts) -> dict[str, float] | None:
    if sign.lost:
        return None
    if not sign.legible:
        return _FREE
    each = [costs.row(char) for char in sign.chars]
    return {true: min(row[true] for row in each) for true in ALPHABET}


def _tail(reading: Reading, at: int, tails: Tails, info_bits: float) -> tuple[float, str]:
    """The cheapest account of the signs from ``at`` on: a known suffix, or an unknown tail."""
    costs = reading.costs
    best = nats(costs.unknown_tail_bits + info_bits) / tails.scale
    name = "?"
    rest = Reading(reading.mark, reading.rows[at:], reading.skip[at:], (), (), 0.0, costs)
    longest = len(rest.rows)
    has_lost = any(row is None for row in rest.rows)
    least = min(costs.extra, costs.lost, costs.ends(1))
    for suffix, rarity in tails.commonest_first:
        if rarity >= best:
            break
        apart = 0 if has_lost else abs(len(suffix) - longest)
        if apart > 1 or (apart and rarity + least >= best):
            continue
        cost = rarity + distance(rest, suffix)
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


def _column(reading: Reading, char: str) -> Column:
    other = reading.costs.substitution
    column = tuple(IMPOSSIBLE if row is None else row.get(char, other) for row in reading.rows)
    agree = frozenset(j for j, cost in enumerate(column) if cost == 0.0)
    reading.columns[char] = column, agree
    return column, agree


def cost_table(reading: Reading, number: str) -> list[list[float]]:
    """Rows i (characters of the number used) by columns j (signs used), worn end folded in.

    The last row also holds, in its last column, the cheapest way for the number's end to be lost.
    """
    costs, columns, skip = reading.costs, reading.columns, reading.skip
    swap = costs.transposition
    pass_by = [0.0 if row is None else costs.lost for row in reading.rows]
    above = [0.0, *accumulate(skip)]
    grid = [above]
    before: frozenset[int] = frozenset()
    earlier = ""
    worn = costs.worn(len(number))
    for char, start in zip(number, worn[1:], strict=True):
        column, agree = columns.get(char) or _column(reading, char)
        if before and agree and char != earlier:
            for j in agree:
                # Sign j agrees with this character and sign j + 1 with the one before it.
                if j + 1 in before:
                    here = grid[-2][j] + swap - above[j + 1]
                    column = (*column[: j + 1], min(column[j + 1], here), *column[j + 2 :])
        left = start
        line = [start]
        steps = iter(above)
        diagonal = next(steps)
        for over, across, passed, extra in zip(steps, column, pass_by, skip, strict=True):
            left += extra
            across += diagonal
            if across < left:
                left = across
            passed += over
            if passed < left:
                left = passed
            line.append(left)
            diagonal = over
        grid.append(line)
        above, before, earlier = line, agree, char
    grid[-1][-1] = min([line[-1] + gone for line, gone in zip(grid, worn[::-1], strict=True)])
    return grid
