"""Where an odd assembly came from: the serial ranges that its part numbers share.

Every number stands for an item with a weight (how sure it is that this is the number). An item
supports a stretch of serials where one of its ranges covers it, and speaks against it where it has
ranges for the same model and component and none of them does. An item with no range there is
silent.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from xref.domain.serial import SerialRange, SerialSet

OPEN_LOW, OPEN_HIGH = -math.inf, math.inf


@dataclass(frozen=True, slots=True)
class Axis:
    """What serials are counted along: one model, one component, one prefix."""

    model: str
    component: str
    prefix: str


@dataclass(frozen=True, slots=True)
class Claim:
    """One item (a bench item or a number) with one of its ranges. ``weight`` is 0..1."""

    item: str
    weight: float
    model: str
    component: str
    serials: SerialSet


@dataclass(frozen=True, slots=True)
class DonorRange:
    """A stretch of serials with the items for and against it, each in the order given.

    ``low`` and ``high`` are whole numbers, or −inf and inf where open. ``score`` is the weight for
    it less the weight against it.
    """

    axis: Axis
    low: float
    high: float
    supported_by: tuple[str, ...]
    against: tuple[str, ...]
    score: float


Interval = tuple[float, float]


def intervals(serials: SerialSet, prefix: str) -> list[Interval]:
    """The stretches of whole numbers that ``serials`` covers under ``prefix``, in order."""
    covered = [_ends(r) for r in serials.ranges if _concerns(r, prefix)]
    for gap in (_ends(r) for r in serials.exceptions if _concerns(r, prefix)):
        covered = [left for held in covered for left in _less(held, gap)]
    return merged(covered)


def _concerns(held: SerialRange, prefix: str) -> bool:
    return (held.low is None and held.high is None) or held.prefix == prefix


def _ends(held: SerialRange) -> Interval:
    return (
        OPEN_LOW if held.low is None else float(held.low.number),
        OPEN_HIGH if held.high is None else float(held.high.number),
    )


def _less(held: Interval, gap: Interval) -> list[Interval]:
    left = (held[0], min(held[1], gap[0] - 1))
    right = (max(held[0], gap[1] + 1), held[1])
    if gap[1] < held[0] or gap[0] > held[1]:
        return [held]
    return [piece for piece in (left, right) if piece[0] <= piece[1]]


def merged(stretches: Iterable[Interval]) -> list[Interval]:
    """``stretches`` in order, those that touch or overlap made one."""
    joined: list[Interval] = []
    for low, high in sorted(stretches):
        if joined and low <= joined[-1][1] + 1:
            joined[-1] = (joined[-1][0], max(joined[-1][1], high))
        else:
            joined.append((low, high))
    return joined


def donor_ranges(claims: Sequence[Claim], most: int = 5) -> tuple[DonorRange, ...]:
    """The stretches of serials that explain the items best, best first; () where none is covered.

    A sweep along every axis; neighbouring stretches with the same items for them are one. At most
    ``most`` are returned, and none that a better one on the same axis covers with more support.
    """
    order = {item: at for at, item in enumerate(dict.fromkeys(c.item for c in claims))}
    by_axis: dict[Axis, dict[str, list[Claim]]] = defaultdict(lambda: defaultdict(list))
    for axis in _axes(claims):
        for claim in claims:
            if (claim.model, claim.component) == (axis.model, axis.component):
                by_axis[axis][claim.item].append(claim)
    found: list[DonorRange] = []
    for axis, items in by_axis.items():
        found += _sweep(axis, items, order)
    found.sort(key=lambda r: (-r.score, -len(r.supported_by), r.high - r.low, r.low))
    return tuple(found[:most])


def _axes(claims: Iterable[Claim]) -> list[Axis]:
    axes: dict[Axis, None] = {}
    for claim in claims:
        prefixes = {r.prefix for r in claim.serials.ranges}
        for prefix in sorted(prefixes):
            axes[Axis(claim.model, claim.component, prefix)] = None
    return list(axes)


def _sweep(axis: Axis, items: dict[str, list[Claim]], order: dict[str, int]) -> list[DonorRange]:
    held = {
        item: (
            max(c.weight for c in claims),
            merged(s for c in claims for s in intervals(c.serials, axis.prefix)),
        )
        for item, claims in items.items()
    }
    cuts = {OPEN_LOW}
    for _, stretches in held.values():
        for low, high in stretches:
            cuts |= {low, high + 1}
    bounds = sorted(cuts - {OPEN_HIGH})
    rows: list[DonorRange] = []
    for at, low in enumerate(bounds):
        high = bounds[at + 1] - 1 if at + 1 < len(bounds) else OPEN_HIGH
        inside = [i for i, (_, ss) in held.items() if any(a <= low and high <= b for a, b in ss)]
        if not inside:
            continue
        outside = [i for i in held if i not in inside]
        score = math.fsum(held[i][0] for i in inside) - math.fsum(held[i][0] for i in outside)
        row = DonorRange(axis, low, high, _ordered(inside, order), _ordered(outside, order), score)
        if rows and rows[-1].supported_by == row.supported_by and rows[-1].high + 1 == low:
            rows[-1] = DonorRange(
                axis, rows[-1].low, high, row.supported_by, row.against, row.score
            )
        else:
            rows.append(row)
    return rows


def _ordered(items: Iterable[str], order: dict[str, int]) -> tuple[str, ...]:
    return tuple(sorted(items, key=order.__getitem__))
