"""Where an odd assembly came from: the serial ranges that its part numbers share.

An item (a bench item, or a number) may be one of several parts, each with a weight: how sure it is
that this is the part. A part speaks for a stretch of serials where one of its ranges covers it, and
against it where it has ranges for the same model and component and none of them does. With no range
there it is silent.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from xref.domain.serial_range import Serial, SerialRange, SerialSet

OPEN_LOW, OPEN_HIGH = -math.inf, math.inf
PREFIX_APART = 10**13
"""Places from one prefix to the next: serials have at most 12 digits, and floats hold 15."""
SLACK = 1e-9
"""Weights closer than this are equal: they come and go along the sweep."""


@dataclass(frozen=True, slots=True)
class Axis:
    """What serials are counted along: one model, one component, one prefix.

    Several ``prefixes`` are those of a model that lists them in order of build: the numbers of the
    second come after all of the first.
    """

    model: str
    component: str
    prefixes: tuple[str, ...]

    def place(self, serial: Serial) -> float | None:
        """Where a serial stands, its suffix left aside; None where it cannot be compared."""
        if serial.prefix not in self.prefixes:
            return None
        return float(self.prefixes.index(serial.prefix) * PREFIX_APART + serial.number)

    def serial(self, place: float) -> str | None:
        """The serial at a place of this axis; None where it is open."""
        if math.isinf(place):
            return None
        prefix, number = divmod(int(place), PREFIX_APART)
        return f"{self.prefixes[prefix]}{number}"


@dataclass(frozen=True, slots=True)
class Claim:
    """One item with one range of one part that it may be. ``weight`` of that part is 0..1.

    ``order`` holds the prefixes in order of build, () where the model lists none.
    """

    item: str
    weight: float
    model: str
    component: str
    serials: SerialSet
    part: str = ""
    order: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class DonorRange:
    """A stretch of serials with the items for and against it, each in the order given.

    ``low`` and ``high`` are whole numbers, or −inf and inf where open. ``score`` is the weight for
    it less the weight against it. An item that may be several parts is for it where
    those that cover it are together at least as likely as the likeliest of them all.
    """

    axis: Axis
    low: float
    high: float
    supported_by: tuple[str, ...]
    against: tuple[str, ...]
    score: float


Interval = tuple[float, float]


def intervals(serials: SerialSet, axis: Axis) -> list[Interval]:
    """The stretches that ``serials`` covers along ``axis``, in order."""
    covered = [_ends(r, axis) for r in serials.ranges if _concerns(r, axis)]
    for gap in (_whole(r, axis) for r in serials.exceptions if _concerns(r, axis)):
        covered = [left for held in covered for left in _less(held, gap)]
    return merged(covered)


def _concerns(held: SerialRange, axis: Axis) -> bool:
    return (held.low is None and held.high is None) or held.prefix in axis.prefixes


def _ends(held: SerialRange, axis: Axis) -> Interval:
    low = axis.place(held.low) if held.low else None
    high = axis.place(held.high) if held.high else None
    return (OPEN_LOW if low is None else low, OPEN_HIGH if high is None else high)


def _whole(held: SerialRange, axis: Axis) -> Interval:
    """The numbers an exception takes whole: 230A alone leaves 230 where it is."""
    low, high = _ends(held, axis)
    return (
        low + 1 if held.low and held.low.suffix else low,
        high - 1 if held.high and held.high.suffix else high,
    )


def _less(held: Interval, gap: Interval) -> list[Interval]:
    left = (held[0], min(held[1], gap[0] - 1))
    right = (max(held[0], gap[1] + 1), held[1])
    if gap[0] > gap[1] or gap[1] < held[0] or gap[0] > held[1]:
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

    A sweep along every axis; neighbouring stretches that the same items support equally are one.
    At most ``most`` are returned; of equals the one with more items for it, then the shorter.
    """
    order = {item: at for at, item in enumerate(dict.fromkeys(c.item for c in claims))}
    by_axis: dict[Axis, dict[str, list[Claim]]] = defaultdict(lambda: defaultdict(list))
    for axis in dict.fromkeys(axis for claim in claims for axis in _axes(claim)):
        for claim in claims:
            if (claim.model, claim.component) == (axis.model, axis.component):
                by_axis[axis][claim.item].append(claim)
    found: list[DonorRange] = []
    for axis, items in by_axis.items():
        found += _sweep(axis, items, order)
    found.sort(key=lambda r: (-r.score, -len(r.supported_by), r.high - r.low, r.low))
    return tuple(found[:most])


def _axes(claim: Claim) -> Iterable[Axis]:
    for prefix in sorted({held.prefix for held in claim.serials.ranges}):
        along = claim.order if prefix in claim.order else (prefix,)
        yield Axis(claim.model, claim.component, along)


Change = tuple[str, float]


def _sweep(axis: Axis, items: dict[str, list[Claim]], order: dict[str, int]) -> list[DonorRange]:
    """From the low end up, keeping account of who covers the place reached."""
    total = {item: _total(claims) for item, claims in items.items()}
    top = {item: max(claim.weight for claim in claims) for item, claims in items.items()}
    changes = _changes(axis, items)
    cover: dict[str, float] = dict.fromkeys(items, 0.0)
    bounds = sorted(changes)
    rows: list[DonorRange] = []
    for at, low in enumerate(bounds):
        for item, by in changes[low]:
            cover[item] += by
        high = bounds[at + 1] - 1 if at + 1 < len(bounds) else OPEN_HIGH
        inside = [item for item, held in cover.items() if held > top[item] - SLACK]
        if not inside:
            continue
        outside = [item for item in cover if cover[item] <= top[item] - SLACK]
        score = math.fsum(2 * cover[item] - total[item] for item in cover)
        row = DonorRange(axis, low, high, _ordered(inside, order), _ordered(outside, order), score)
        last = rows[-1] if rows else None
        if last and _alike(last, row):
            rows[-1] = replace(last, high=high)
        else:
            rows.append(row)
    return rows


def _total(claims: Iterable[Claim]) -> float:
    return math.fsum({claim.part: claim.weight for claim in claims}.values())


def _changes(axis: Axis, items: dict[str, list[Claim]]) -> dict[float, list[Change]]:
    """Where along the axis an item begins or ceases to be covered, and by how much."""
    found: dict[float, list[Change]] = defaultdict(list)
    for item, claims in items.items():
        by_part: dict[str, list[Claim]] = defaultdict(list)
        for claim in claims:
            by_part[claim.part].append(claim)
        for held in by_part.values():
            weight = held[0].weight
            for low, high in merged(s for c in held for s in intervals(c.serials, axis)):
                found[low].append((item, weight))
                if high != OPEN_HIGH:
                    found[high + 1].append((item, -weight))
    return found


def _alike(last: DonorRange, row: DonorRange) -> bool:
    return (
        last.high + 1 == row.low
        and last.supported_by == row.supported_by
        and abs(last.score - row.score) < SLACK
    )


def _ordered(items: Iterable[str], order: dict[str, int]) -> tuple[str, ...]:
    return tuple(sorted(items, key=order.__getitem__))
