"""Chains, belts, wheels, splines, and the plain box for what has no shape on record."""

from __future__ import annotations

import math

from xref.render.draw.figure import (
    ABOVE,
    BELOW,
    LEFT,
    RIGHT,
    Dim,
    Figure,
    Item,
    NotDrawable,
    Point,
    Round,
    Sizes,
    arc,
    axis,
    box,
    less,
    line,
    solid,
)
from xref.render.draw.fixings import break_marks, outline, shortened

WEDGE = 40.0
"""Degrees between a V-belt's sides (ISO 4184, from memory)."""


def chain(sizes: Sizes) -> Figure:
    """Two links from the side, and one strand from above beneath."""
    p, roller = sizes.fill(pitch=1, roller=0.6)
    less(roller, "roller", p, "pitch")
    tall = sizes.get("height", 0.9 * p)
    pin = sizes.get("pin", 0.5 * roller)
    less(pin, "pin", roller, "roller")
    h = tall / 2
    items: list[Item] = []
    for i in range(2):
        items.append(_plate(i * p, p, h * (1.0 if i == 0 else 0.88)))
    for i in range(3):
        items += [Round((i * p, 0), roller / 2, main=True), Round((i * p, 0), pin / 2)]
    items.append(axis(-h, 2 * p + h))
    items += [line((x, -1.15 * h), (x, 1.15 * h), kind="centre") for x in (0, p, 2 * p)]
    dims = [
        Dim("pitch", (0, 0), (p, 0), ABOVE),
        Dim("roller", (2 * p, -roller / 2), (2 * p, roller / 2), RIGHT),
        Dim("height", (0, -h), (0, h), LEFT),
        Dim("pin", (2 * p - pin / 2, 0), (2 * p + pin / 2, 0), ABOVE),
    ]
    wide = sizes.known.get("inner-width")
    if wide:
        above, more = _from_above(sizes, p, roller, wide, -h)
        items += above
        dims += more
    return Figure(
        tuple(items),
        sizes.dims(*dims),
        ("plates are drawn by proportion",),
        "from the side and cut along",
    )


def _plate(x: float, p: float, h: float) -> Item:
    left, right = arc((x, 0), h, 90, 270), arc((x + p, 0), h, -90, 90)
    waist = 0.72 * h
    return outline([*left, (x + p / 2, -waist), *right, (x + p / 2, waist)])


def _from_above(
    sizes: Sizes, p: float, roller: float, wide: float, top: float
) -> tuple[list[Item], list[Dim]]:
    """An inner link cut along: rollers between its plates, once a strand."""
    t = 0.13 * p
    strand = sizes.known.get("strand-pitch", 0.0)
    rows = max(1, min(int(sizes.known.get("rows", 1)), 4)) if strand > wide + 2 * t else 1
    items: list[Item] = []
    y = top - 0.5 * p - t
    first = y - wide / 2
    for row in range(rows):
        mid = first - row * strand
        for side in (1, -1):
            base = mid + side * wide / 2
            items.append(solid(box(-0.45 * p, base, 1.45 * p, base + side * t), 1))
        for x in (0.0, p):
            items.append(
                outline(box(x - roller / 2, mid - wide / 2, x + roller / 2, mid + wide / 2))
            )
            items.append(
                line((x, mid - wide / 2 - 1.5 * t), (x, mid + wide / 2 + 1.5 * t), kind="centre")
            )
    dims = [Dim("inner-width", (-0.45 * p, first - wide / 2), (-0.45 * p, first + wide / 2), LEFT)]
    if rows > 1:
        dims.append(Dim("strand-pitch", (1.45 * p, first - strand), (1.45 * p, first), RIGHT))
    return items, dims


def belt(sizes: Sizes) -> Figure:
    """A V-belt cut across, with its cords."""
    b, h = sizes.fill(top_width=1, height=0.62)
    half = math.radians(WEDGE / 2)
    foot = b - 2 * h * math.tan(half)
    less(0, "foot", foot, "top")
    body = [(-b / 2, 0.0), (b / 2, 0.0), (foot / 2, -h), (-foot / 2, -h)]
    items: list[Item] = [solid(body, 1)]
    cord = 0.05 * b
    items += [Round((x * b, -0.27 * h), cord) for x in (-0.32, -0.16, 0.0, 0.16, 0.32)]
    items.append(line((0, 0.15 * h), (0, -1.15 * h), kind="centre"))
    dims = sizes.dims(
        Dim("top-width", (-b / 2, 0), (b / 2, 0), ABOVE),
        Dim("height", (-foot / 2, -h), (-b / 2, 0), LEFT),
    )
    return Figure(tuple(items), dims, ("the sides lean by 40° between them, cords by proportion",))


def wheel(sizes: Sizes) -> Figure:
    """A toothed wheel from the front, its tooth form only hinted at."""
    big = sizes.known.get("outside")
    teeth = int(sizes.known.get("teeth", 0))
    if not big:
        if "bore" not in sizes.known:
            raise NotDrawable("no size of its shape is on record")
        big = sizes.get("outside", 4 * sizes.known["bore"])
    bore = sizes.known.get("bore")
    if bore:
        less(bore, "bore", big, "outside")
    r = big / 2
    root = r - min(0.12 * r, 2.2 * r / max(teeth, 1))
    if bore and root <= bore / 2:
        root = (r + bore / 2) / 2
    points = _toothed(r, root, teeth) if 3 <= teeth <= 150 else arc((0, 0), r, 0, 360)[:-1]
    items: list[Item] = [
        outline(points),
        axis(-r, r),
        line((0, -1.12 * r), (0, 1.12 * r), kind="centre"),
    ]
    dims = [Dim("outside", (-r, 0), (r, 0), BELOW)]
    if bore:
        items.append(Round((0, 0), bore / 2, main=True))
        dims.append(Dim("bore", (-bore / 2, 0), (bore / 2, 0), ABOVE))
    wide = sizes.known.get("width")
    if wide and wide < 1.2 * big:
        x = r * 1.3
        items.append(outline(box(x, -r, x + wide, r)))
        dims.append(Dim("width", (x, -r), (x + wide, -r), BELOW))
    return Figure(
        tuple(items),
        sizes.dims(*dims),
        ("the form of the teeth is not on record",),
        "from the front",
    )


def _toothed(r: float, root: float, teeth: int) -> list[Point]:
    points: list[Point] = []
    for i in range(teeth):
        for share, radius in ((0.0, root), (0.22, root), (0.37, r), (0.63, r), (0.78, root)):
            turn = 2 * math.pi * (i + share) / teeth
            points.append((radius * math.cos(turn), radius * math.sin(turn)))
    return points


def spline(sizes: Sizes) -> Figure:
    """A splined shaft cut across."""
    small, large = sizes.fill(minor=1, major=1.2)
    less(small, "smaller diameter", large, "larger diameter")
    count = int(sizes.known.get("splines", 6))
    if not 3 <= count <= 60:
        raise NotDrawable("so many splines cannot be drawn")
    wide = sizes.get("width", math.pi * small / count / 2)
    r, top = small / 2, large / 2
    less(wide, "spline's width", 2 * math.pi * r / count, "distance from spline to spline")
    outer, inner = math.asin(min(wide / 2 / top, 1)), math.asin(min(wide / 2 / r, 1))
    points: list[Point] = []
    for i in range(count):
        mid = math.pi / 2 + 2 * math.pi * i / count
        for turn, radius in ((-inner, r), (-outer, top), (outer, top), (inner, r)):
            points.append((radius * math.cos(mid + turn), radius * math.sin(mid + turn)))
        nxt = mid + 2 * math.pi / count
        points += [(r * math.cos(t), r * math.sin(t)) for t in _between(mid + inner, nxt - inner)]
    items: tuple[Item, ...] = (
        solid(points, 1),
        axis(-top, top),
        line((0, -1.1 * top), (0, 1.1 * top), kind="centre"),
    )
    dims = sizes.dims(
        Dim("major", (-top, 0), (top, 0), BELOW),
        Dim("minor", (0, -r), (0, r), LEFT),
        Dim("width", (-wide / 2, top), (wide / 2, top), ABOVE),
    )
    return Figure(items, dims, (), "cut across")


def _between(start: float, end: float) -> list[float]:
    return [start + (end - start) * i / 6 for i in range(1, 6)]


def ball(sizes: Sizes) -> Figure:
    """A loose ball."""
    (d,) = sizes.fill(diameter=1)
    r = d / 2
    items: tuple[Item, ...] = (
        Round((0, 0), r, main=True),
        axis(-r, r),
        line((0, -1.1 * r), (0, 1.1 * r), kind="centre"),
    )
    return Figure(
        items, sizes.dims(Dim("diameter", (-r, 0), (r, 0), BELOW)), (), "seen from any side"
    )


ALONG = (
    "length",
    "laid-out",
    "width",
    "outside",
    "diameter",
    "bore",
    "across-flats",
    "shaft",
    "large-end",
    "seat",
    "inside",
    "top-width",
)
UPRIGHT = (
    "height",
    "thickness",
    "centre-height",
    "section",
    "outside",
    "diameter",
    "width",
    "bore",
    "small-end",
)
NOT_DRAWN = "the shape is not drawn, only its sizes"


def plain(sizes: Sizes) -> Figure:
    """A box with two of the sizes there are, for what has no shape on record."""
    along = next((n for n in ALONG if n in sizes.known), "")
    up = next((n for n in UPRIGHT if n in sizes.known and n != along), "")
    x = sizes.known.get(along) or sizes.known.get(up) or 1.0
    y = sizes.known.get(up) or 0.6 * x
    shown, broken = shortened(x, y)
    if not broken and y > 5 * x:
        y_shown, tall = 5 * x, True
    else:
        y_shown, tall = y, False
    items: list[Item] = [outline(box(0, 0, shown, y_shown))]
    items += [
        line((0, 0), (shown, y_shown), kind="narrow"),
        line((0, y_shown), (shown, 0), kind="narrow"),
    ]
    if broken:
        items += break_marks(shown / 2, y_shown / 2, y_shown / 2)
    dims = sizes.dims(
        Dim(along, (0, 0), (shown, 0), BELOW, broken), Dim(up, (0, 0), (0, y_shown), LEFT, tall)
    )
    return Figure(tuple(items), dims, (NOT_DRAWN,), "a plain box")
