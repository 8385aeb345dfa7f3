"""Sections of roller bearings, each as its type shows."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from xref.render.draw.figure import (
    ABOVE,
    BELOW,
    LEFT,
    RIGHT,
    Dim,
    Figure,
    Item,
    Point,
    Sizes,
    arc,
    axis,
    box,
    edges,
    less,
    line,
    loose,
    mirrored,
    solid,
    turned,
)
from xref.render.draw.rings import PROPORTION, Wall, bearing_figure, wall

RIB = 0.17
"""Width of a rib, in widths of the bearing. By proportion."""
RIBS = {"N": (2, 0), "NU": (0, 2), "NJ": (1, 2), "NUP": (2, 2)}
"""How many ribs the inner and the outer ring have (DIN 5412-1); NUP's second inner one is loose."""


def cylindrical(sizes: Sizes, letters: str) -> Figure:
    """Rollers held by the ribs that the letters say."""
    w = wall(sizes)
    tall = 0.42 * w.high
    low, high = w.middle - tall / 2, w.middle + tall / 2
    inner, outer = RIBS.get(letters, RIBS["NU"])
    rib = RIB * 2 * w.half
    lift = 0.28 * tall
    half: list[Item] = [
        solid(_ribbed(w, w.inner, low, lift, (inner > 0, inner > 1 and letters != "NUP")), 1),
        solid(_ribbed(w, w.outer, high, -lift, (outer > 0, outer > 1)), 2),
        *_roller(box(rib - w.half, low, w.half - rib, high)),
    ]
    if letters == "NUP":
        half.append(solid(box(w.half - rib, w.inner, w.half, low + lift), 2))
        half[0] = solid(_ribbed(w, w.inner, low, lift, (True, False), w.half - rib), 1)
    notes = () if letters in RIBS else ("which ring has ribs is not on record: drawn as NU",)
    return bearing_figure(sizes, half, w, notes)


def _ribbed(
    w: Wall,
    back: float,
    race: float,
    lift: float,
    ribs: tuple[bool, bool],
    end: float | None = None,
) -> list[Point]:
    right = w.half if end is None else end
    rib = RIB * 2 * w.half
    points: list[Point] = [(-w.half, back)]
    if ribs[0]:
        points += [(-w.half, race + lift), (rib - w.half, race + lift), (rib - w.half, race)]
    else:
        points.append((-w.half, race))
    if ribs[1]:
        points += [(right - rib, race), (right - rib, race + lift), (right, race + lift)]
    else:
        points.append((right, race))
    return [*points, (right, back)]


def _roller(points: Sequence[Point]) -> list[Item]:
    """A roller with its own centre line; points as of a box along its axis."""
    (ax, ay), (bx, by), (cx, cy), (dx, dy) = points
    start, end = ((ax + dx) / 2, (ay + dy) / 2), ((bx + cx) / 2, (by + cy) / 2)
    return [loose(points), line(start, end, kind="centre")]


TILT = 14
"""Degrees that a taper's rollers lean, by proportion: its own angle is not on record."""


def tapered(sizes: Sizes) -> Figure:
    """A cone with its rollers, and a cup that lifts off; widths over all, of cone and of cup."""
    d, big = sizes.fill(bore=1, outside=2)
    over = sizes.get("width", sizes.known.get("cone-width", 0.32 * d + 0.3 * (big - d)))
    cone = sizes.get("cone-width", 0.94 * over)
    cup = sizes.get("cup-width", 0.78 * over)
    less(d, "bore", big, "outside")
    less(cup, "cup width", over * 3, "width")
    inner, outer = d / 2, big / 2
    high = outer - inner
    start, end = max(over - cone, 0.0), min(cup, over)
    if end - start < 0.25 * over:
        start, end = 0.0, over
    long = (end - start) * 0.8
    tilt = min(TILT, math.degrees(math.atan(0.22 * high / long)))
    thick = 0.3 * high
    mid = ((start + end) / 2 + 0.02 * over, (inner + outer) / 2)
    slope = math.tan(math.radians(tilt))
    roller = turned(
        (
            (mid[0] - long / 2, mid[1] - thick * 0.44),
            (mid[0] + long / 2, mid[1] - thick * 0.56),
            (mid[0] + long / 2, mid[1] + thick * 0.56),
            (mid[0] - long / 2, mid[1] + thick * 0.44),
        ),
        mid,
        tilt,
    )
    up = _slope(roller[3], roller[2])
    down = _slope(roller[0], roller[1])
    cup_points = [(0.0, outer), (0.0, up(0.0)), (cup, up(cup)), (cup, outer)]
    x0, x1 = over - cone, over
    ra, rb = roller[0], roller[1]
    rib = 0.35 * thick
    cone_points = [
        (x0, inner),
        (x0, max(down(ra[0]) + rib * 0.5, inner + 0.05 * high)),
        (ra[0], ra[1] + rib * 0.5),
        ra,
        rb,
        (rb[0] - rib * slope, rb[1] + rib),
        (x1, rb[1] + rib),
        (x1, inner),
    ]
    half: list[Item] = [solid(cone_points, 1), solid(cup_points, 2), *_roller(roller)]
    items = (*mirrored(half), *edges((x0, x1), inner), axis(min(0.0, x0), max(over, cup)))
    dims = sizes.dims(
        Dim("bore", (x0, -inner), (x0, inner), LEFT),
        Dim("outside", (cup, -outer), (cup, outer), RIGHT),
        Dim("cone-width", (x0, -inner), (x1, -inner), BELOW),
        Dim("width", (0, -outer), (x1, -inner), BELOW),
        Dim("cup-width", (0, outer), (cup, outer), ABOVE),
    )
    notes = (PROPORTION, "the rollers' angle is not on record")
    return Figure(items, dims, notes, detail=(min(0.0, x0), inner, max(over, cup), outer))


def _slope(a: Point, b: Point) -> Callable[[float], float]:
    rise = (b[1] - a[1]) / (b[0] - a[0])
    return lambda x: a[1] + rise * (x - a[0])


def barrel(x: float, y: float, long: float, thick: float, lean: float) -> list[Point]:
    """A barrel roller about its middle: its sides are arcs."""
    bulge = 0.16 * thick
    steps = [i / 8 for i in range(-8, 9)]
    top = [(x + t * long / 2, y + thick / 2 - bulge * t * t) for t in steps]
    foot = [(x + t * long / 2, y - thick / 2 + bulge * t * t) for t in reversed(steps)]
    return list(turned([*top, *foot], (x, y), lean))


def spherical(sizes: Sizes) -> Figure:
    """Two rows of barrel rollers that lean, in an outer ring hollowed about the centre."""
    w = wall(sizes)
    thick = min(0.42 * w.high, 0.8 * w.half)
    long = min(0.72 * w.half, 1.6 * thick)
    x = 0.5 * w.half
    reach = math.hypot(x, w.middle) + thick / 2
    reach = min(reach, w.outer - 0.1 * w.high)
    y = math.sqrt(max((reach - thick / 2) ** 2 - x * x, w.inner**2))
    lean = math.degrees(math.atan2(x, y))
    side = math.degrees(math.asin(min(w.half / reach, 0.9)))
    hollow = arc((0, 0), reach, 90 + side, 90 - side)
    low = y - thick * 0.36
    race = [barrel(s * x, y, long, thick, -s * lean) for s in (-1, 1)]
    feet = [sorted(r[17:], key=lambda p: p[0]) for r in race]
    inner: list[Point] = [(-w.half, w.inner), (-w.half, low), *feet[0]]
    inner += [*feet[1], (w.half, low), (w.half, w.inner)]
    half: list[Item] = [
        solid(inner, 1),
        solid([(-w.half, w.outer), *hollow, (w.half, w.outer)], 2),
        *(loose(r) for r in race),
    ]
    return bearing_figure(sizes, half, w)


def roller_thrust(sizes: Sizes) -> Figure:
    """Two washers with a cylinder between, its axis across the shaft."""
    w = wall(sizes)
    wide, thick = 0.7 * w.high, min(0.5 * w.half, 0.2 * w.high)
    low, high = w.middle - wide / 2, w.middle + wide / 2
    half: list[Item] = [
        solid(box(-w.half, w.inner, -thick, w.outer), 1),
        solid(box(thick, w.inner, w.half, w.outer), 2),
        loose(box(-thick, low, thick, high)),
        line((0, low), (0, high), kind="centre"),
    ]
    return bearing_figure(sizes, half, w)


def spherical_thrust(sizes: Sizes) -> Figure:
    """Barrel rollers that lean steeply between a washer on the shaft and a hollow one outside."""
    w = wall(sizes)
    long, thick = min(0.55 * w.high, 1.1 * w.half), min(0.36 * w.high, 0.75 * w.half)
    lean = -45.0
    roll = barrel(0, w.middle, long, thick, lean)
    top, foot = roll[:17], roll[17:]
    outer: list[Point] = [
        (w.half, w.outer),
        (min(-0.1 * w.half, top[0][0]), w.outer),
        *top,
        (w.half, top[-1][1]),
    ]
    inner: list[Point] = [
        (-w.half, w.inner),
        (-w.half, foot[-1][1]),
        *reversed(foot),
        (max(foot[0][0], 0.3 * w.half), w.inner),
    ]
    half: list[Item] = [solid(inner, 1), solid(outer, 2), loose(roll)]
    return bearing_figure(sizes, half, w)


def drawn_cup(sizes: Sizes, closed_end: bool = False) -> Figure:
    """A thin pressed cup, turned in at its ends, with needles and no inner ring."""
    w = wall(sizes)
    shell = 0.26 * w.high
    lip = 0.5 * (w.high - shell)
    t = min(shell, 0.12 * w.half)
    cup: list[Point] = [
        (-w.half, w.outer),
        (-w.half, w.outer - shell - lip),
        (t - w.half, w.outer - shell - lip),
        (t - w.half, w.outer - shell),
        (w.half - t, w.outer - shell),
        (w.half - t, w.outer - shell - lip),
        (w.half, w.outer - shell - lip),
        (w.half, w.outer),
    ]
    gap = 2.2 * t
    half: list[Item] = [*_roller(box(gap - w.half, w.inner, w.half - gap, w.outer - shell))]
    if closed_end:
        cup = [
            *cup[:4],
            (w.half - t, w.outer - shell),
            (w.half - t, 0),
            (w.half, 0),
            (w.half, w.outer),
        ]
    half.insert(0, solid(cup, 1))
    return bearing_figure(sizes, half, w, ("d is across the needles",))


def needle(sizes: Sizes, inner_ring: bool) -> Figure:
    """A turned outer ring with ribs and needles, with or without an inner ring."""
    w = wall(sizes)
    inner = 0.3 * w.high if inner_ring else 0.0
    low = w.inner + inner
    high = low + (w.outer - low) * 0.5
    rib = 0.12 * 2 * w.half
    lift = 0.55 * (high - low)
    outer: list[Point] = [
        (-w.half, w.outer),
        (-w.half, high - lift),
        (rib - w.half, high - lift),
        (rib - w.half, high),
        (w.half - rib, high),
        (w.half - rib, high - lift),
        (w.half, high - lift),
        (w.half, w.outer),
    ]
    gap = rib * 1.15
    half: list[Item] = [solid(outer, 2), *_roller(box(gap - w.half, low, w.half - gap, high))]
    if inner_ring:
        half.append(solid(box(-w.half, w.inner, w.half, low), 1))
    notes = () if inner_ring else ("d is across the needles",)
    return bearing_figure(sizes, half, w, notes)


def needle_cage(sizes: Sizes) -> Figure:
    """Needles in their cage and no ring at all."""
    w = wall(sizes)
    rib = 0.14 * 2 * w.half
    low, high = w.inner + 0.2 * w.high, w.outer - 0.2 * w.high
    half: list[Item] = [
        solid(box(-w.half, low, rib - w.half, high), 1),
        solid(box(w.half - rib, low, w.half, high), 1),
        *_roller(box(rib * 1.15 - w.half, w.inner, w.half - rib * 1.15, w.outer)),
    ]
    return bearing_figure(sizes, half, w, ("d and D are across the needles",))


def thrust_needle(sizes: Sizes) -> Figure:
    """Needles in a flat cage, their axes across the shaft."""
    w = wall(sizes)
    end = 0.2 * w.high
    thin = 0.7 * w.half
    half: list[Item] = [
        solid(box(-thin, w.inner, thin, w.inner + end), 1),
        solid(box(-thin, w.outer - end, thin, w.outer), 1),
        loose(box(-w.half, w.inner + end, w.half, w.outer - end)),
        line((0, w.inner + end), (0, w.outer - end), kind="centre"),
    ]
    return bearing_figure(sizes, half, w)
