"""Sections of ball bearings, each as its type shows."""

from __future__ import annotations

import math
from dataclasses import replace

from xref.render.draw.figure import (
    BELOW,
    CENTRE,
    LEFT,
    RIGHT,
    Dim,
    Figure,
    Item,
    Point,
    Shape,
    Sizes,
    arc,
    axis,
    edges,
    less,
    line,
    loose,
    mirrored,
    solid,
)
from xref.render.draw.rings import (
    PROPORTION,
    Wall,
    ball,
    bearing_figure,
    boundary,
    closures,
    grooved,
    wall,
)

CONTACT = 40
"""Degrees of the contact line drawn through an angular contact ball: common practice, no
published source; a bearing's own angle is not on record."""


CLOSED = {
    "shield": ("shields on both sides are shown",),
    "shield1": ("a shield on one side is shown",),
    "seal": ("seals on both sides are shown",),
    "seal1": ("a seal on one side is shown",),
}
"""What is said of each closure; for none nothing, since a number often leaves them out."""


def _ball_radius(w: Wall, rows: int = 1) -> float:
    return min(0.31 * w.high, 0.86 * w.half / rows)


def _lands(w: Wall, radius: float) -> tuple[float, float]:
    """Radii of the inner ring's land and the outer's."""
    off = 0.5 * radius
    return w.middle - off, w.middle + off


def deep_groove(sizes: Sizes, closed: str = "", rows: int = 1) -> Figure:
    """Equal lands on both sides of the groove in both rings."""
    w = wall(sizes)
    radius = _ball_radius(w, rows)
    low, high = _lands(w, radius)
    xs = [0.0] if rows == 1 else [-0.47 * w.half, 0.47 * w.half]
    at = [(x, w.middle, radius) for x in xs]
    half: list[Item] = [
        solid(grooved(-w.half, w.half, w.inner, low, at), 1),
        solid(grooved(-w.half, w.half, w.outer, high, at), 2),
    ]
    for x in xs:
        half += ball(x, w.middle, radius)
    half += closures(w, closed, w.high / 2 - 0.5 * radius)
    return bearing_figure(sizes, half, w, CLOSED.get(closed, ()))


def _contact_line(x: float, y: float, long: float, lean: int) -> Item:
    dx, dy = long * math.sin(math.radians(CONTACT)) * lean, long * math.cos(math.radians(CONTACT))
    return line((x - dx, y - dy), (x + dx, y + dy), kind=CENTRE)


def angular(sizes: Sizes) -> Figure:
    """One shoulder of the outer ring is cut away, and the contact line leans."""
    w = wall(sizes)
    radius = _ball_radius(w)
    low, high = _lands(w, radius)
    at = [(0.0, w.middle, radius)]
    bottom = w.middle + radius
    outer = [
        (-w.half, w.outer),
        (-w.half, high),
        *arc((0, w.middle), radius, 180 - _down(w, high, radius), 90),
        (w.half, bottom - 0.02 * w.high),
        (w.half, w.outer),
    ]
    half: list[Item] = [
        solid(grooved(-w.half, w.half, w.inner, low, at), 1),
        solid(outer, 2),
        *ball(0, w.middle, radius),
        _contact_line(0, w.middle, 0.48 * w.high / math.cos(math.radians(CONTACT)), -1),
    ]
    return bearing_figure(sizes, half, w, ("the contact line is drawn at 40°",))


def _down(w: Wall, land: float, radius: float) -> float:
    return math.degrees(math.asin((land - w.middle) / radius))


def angular_double(sizes: Sizes) -> Figure:
    """Two rows whose contact lines meet outside the ring."""
    w = wall(sizes)
    radius = _ball_radius(w, 2)
    low, high = _lands(w, radius)
    x = 0.48 * w.half
    at = [(-x, w.middle, radius), (x, w.middle, radius)]
    half: list[Item] = [
        solid(grooved(-w.half, w.half, w.inner, low, at), 1),
        solid(grooved(-w.half, w.half, w.outer, high, at), 2),
    ]
    for side in (-1, 1):
        half += ball(side * x, w.middle, radius)
        half.append(_contact_line(side * x, w.middle, 0.45 * w.high, -side))
    return bearing_figure(sizes, half, w, ("the contact lines are drawn at 40°",))


def four_point(sizes: Sizes) -> Figure:
    """A split inner ring and four contacts: two contact lines cross in the ball."""
    w = wall(sizes)
    radius = _ball_radius(w)
    low, high = _lands(w, radius)
    at = [(0.0, w.middle, radius)]
    half: list[Item] = [
        solid(grooved(-w.half, w.half, w.inner, low, at), 1),
        solid(grooved(-w.half, w.half, w.outer, high, at), 2),
        line((0, w.inner), (0, w.middle - radius)),
        *ball(0, w.middle, radius),
        _contact_line(0, w.middle, 0.45 * w.high, 1),
        _contact_line(0, w.middle, 0.45 * w.high, -1),
    ]
    return bearing_figure(sizes, half, w, ("the contact lines are drawn at 40°",))


def magneto(sizes: Sizes) -> Figure:
    """The outer ring has a shoulder on one side only and comes off."""
    w = wall(sizes)
    radius = _ball_radius(w)
    low, high = _lands(w, radius)
    at = [(0.0, w.middle, radius)]
    outer = [
        (-w.half, w.outer),
        (-w.half, high),
        *arc((0, w.middle), radius, 180 - _down(w, high, radius), 90),
        (w.half, w.middle + radius),
        (w.half, w.outer),
    ]
    half: list[Item] = [
        solid(grooved(-w.half, w.half, w.inner, low, at), 1),
        solid(outer, 2),
        *ball(0, w.middle, radius),
    ]
    return bearing_figure(sizes, half, w, ("the outer ring comes off on the open side",))


def self_aligning(sizes: Sizes) -> Figure:
    """Two rows of balls in an outer ring that is hollowed as a ball about the centre."""
    w = wall(sizes)
    radius = min(0.27 * w.high, 0.42 * w.half)
    x = 0.5 * w.half
    hollow = w.middle + radius * 1.05
    reach = math.hypot(x, hollow - radius) + radius
    y = hollow - radius
    side = math.degrees(math.asin(min(w.half / reach, 0.95)))
    curve = arc((0, 0), reach, 90 + side, 90 - side)
    outer: list[Point] = [(-w.half, w.outer), *curve, (w.half, w.outer)]
    if max(p[1] for p in curve) >= w.outer:
        reach = w.outer - 0.12 * w.high
        side = math.degrees(math.asin(min(w.half / reach, 0.9)))
        curve = arc((0, 0), reach, 90 + side, 90 - side)
        outer = [(-w.half, w.outer), *curve, (w.half, w.outer)]
        y = math.sqrt(max((reach - radius) ** 2 - x * x, w.inner**2))
    at = [(-x, y, radius), (x, y, radius)]
    half: list[Item] = [
        solid(grooved(-w.half, w.half, w.inner, y - 0.55 * radius, at), 1),
        solid(outer, 2),
        *ball(-x, y, radius),
        *ball(x, y, radius),
    ]
    return bearing_figure(sizes, half, w)


def insert(sizes: Sizes) -> Figure:
    """A ball-shaped outside, and an inner ring that stands out for its set screw."""
    d, big, wide = sizes.fill(bore=1, outside=2, width=1.1)
    less(d, "bore", big, "outside")
    ring = sizes.get("ring-width", 0.55 * wide)
    less(ring, "ring width", big, "outside")
    inner, outer = d / 2, big / 2
    short = min(0.4 * wide, wide - ring / 2)
    x0, x1 = -short, wide - short
    w = Wall(inner, outer, ring / 2)
    radius = min(0.27 * w.high, 0.4 * ring)
    low, high = _lands(w, radius)
    at = [(0.0, w.middle, radius)]
    ends = math.degrees(math.asin(w.half / outer))
    crown = arc((0, 0), outer, 90 + ends, 90 - ends)
    raceway = grooved(-w.half, w.half, w.outer, high, at)[1:-1]
    x = (x1 + w.half) / 2
    t = min(0.35 * (x1 - w.half), 0.2 * w.high) / 2
    half: list[Item] = [
        solid(grooved(x0, x1, inner, low, at), 1),
        solid([*crown, *reversed(raceway)], 2),
        *ball(0, w.middle, radius),
    ]
    if t > 0:
        half.append(loose([(x - t, inner), (x + t, inner), (x + t, low), (x - t, low)]))
    items = (*mirrored(half), *edges((x0, x1), inner), axis(x0, x1))
    dims = sizes.dims(
        Dim("bore", (x0, -inner), (x0, inner), LEFT),
        Dim("outside", (0, -outer), (0, outer), RIGHT),
        Dim("ring-width", (-w.half, -w.middle), (w.half, -w.middle), BELOW),
        Dim("width", (x0, -inner), (x1, -inner), BELOW),
    )
    return Figure(
        items, dims, (PROPORTION, "the housing is not drawn"), detail=(x0, inner, x1, outer)
    )


def thrust(sizes: Sizes) -> Figure:
    """Two washers with a ball between."""
    w = wall(sizes)
    radius = min(0.36 * w.high, 0.62 * w.half)
    land = 0.55 * radius
    left = _washer(w, -w.half, -land, radius)
    right = replace(left, points=tuple((-x, y) for x, y in left.points), hatch=2)
    half: list[Item] = [left, right, *ball(0, w.middle, radius)]
    return bearing_figure(sizes, half, w)


def _washer(w: Wall, back: float, face: float, radius: float) -> Shape:
    """A thrust washer whose face has a groove for balls about the middle of the wall at x 0."""
    turn = math.degrees(math.acos(min(abs(face) / radius, 1.0)))
    groove = arc((0, w.middle), radius, 180 - turn, 180 + turn)
    return solid([(back, w.inner), (back, w.outer), (face, w.outer), *groove, (face, w.inner)], 1)


def thrust_double(sizes: Sizes) -> Figure:
    """A washer on the shaft between two rows of balls, and one in the housing on each side."""
    w = wall(sizes)
    radius = min(0.3 * w.high, 0.3 * w.half)
    x = w.half - 0.35 * w.half - 0.55 * radius
    face, land = x + 0.55 * radius, x - 0.55 * radius
    clear = w.inner + 0.12 * w.high
    turn = math.degrees(math.acos(0.55))
    housing = solid(
        [
            (w.half, clear),
            (w.half, w.outer),
            (face, w.outer),
            *arc((x, w.middle), radius, turn, -turn),
            (face, clear),
        ],
        2,
    )
    top = w.outer - 0.08 * w.high
    middle = solid(
        [
            (-land, w.inner),
            *reversed(arc((-x, w.middle), radius, turn, -turn)),
            (-land, top),
            (land, top),
            *arc((x, w.middle), radius, 180 - turn, 180 + turn),
            (land, w.inner),
        ],
        1,
    )
    half: list[Item] = [middle, housing, *mirrored([housing], along=False)[1:]]
    for side in (-1, 1):
        half += ball(side * x, w.middle, radius)
    return bearing_figure(sizes, half, w, ("the middle washer sits on the shaft",))


def spherical_plain(sizes: Sizes) -> Figure:
    """A ball-shaped inner ring that slides in a hollow outer one; nothing rolls."""
    d, big, wide = sizes.fill(bore=1, outside=1.6, width=0.8)
    less(d, "bore", big, "outside")
    ring = sizes.get("ring-width", 0.8 * wide)
    inner, outer = d / 2, big / 2
    least = math.hypot(inner, wide / 2)
    reach = max((inner + outer) / 2 + 0.1 * (outer - inner), least * 1.001)
    if reach >= outer:
        reach = (inner + outer) / 2
    side = math.degrees(math.asin(min(wide / 2 / reach, 0.95)))
    turn = math.degrees(math.asin(min(ring / 2 / reach, 0.95)))
    crown = [p for p in arc((0, 0), reach, 90 + side, 90 - side) if p[1] >= inner]
    hollow = arc((0, 0), reach, 90 + turn, 90 - turn)
    half: list[Item] = [
        solid([(-wide / 2, inner), *crown, (wide / 2, inner)], 1),
        solid([(-ring / 2, outer), *hollow, (ring / 2, outer)], 2),
    ]
    w = Wall(inner, outer, wide / 2)
    items = (*mirrored(half), *edges((-w.half, w.half), inner), axis(-w.half, w.half))
    dims = (
        *(dim for dim in boundary(sizes, w) if dim.size != "width"),
        *sizes.dims(
            Dim("ring-width", (-ring / 2, -outer), (ring / 2, -outer), BELOW),
            Dim("width", (-w.half, -inner), (w.half, -inner), BELOW),
        ),
    )
    dims = tuple(
        Dim(d_.size, (ring / 2, d_.a[1]), (ring / 2, d_.b[1]), RIGHT)
        if d_.size == "outside"
        else d_
        for d_ in dims
    )
    return Figure(
        items,
        dims,
        ("the sliding surface is drawn by proportion",),
        detail=(-w.half, inner, w.half, outer),
    )
