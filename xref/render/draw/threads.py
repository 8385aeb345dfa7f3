"""Screw threads and the hexagons and squares on them."""

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
    Label,
    Point,
    Round,
    Shape,
    Sizes,
    arc,
    axis,
    box,
    less,
    line,
    loose,
    solid,
)
from xref.render.draw.fixings import cross, outline

FLANKS = (
    ("npt", 60.0),
    ("pipe", 55.0),
    ("whitworth", 55.0),
    ("ba thread", 47.5),
    ("acme", 29.0),
    ("trapezoidal", 30.0),
)
"""Flank angle by what a thread is called (BS 84, BS 93, ASME B1.5, ISO 2904); 60 for others
(ISO 68-1)."""


def flank_of(name: str) -> float:
    """The angle between a thread's flanks, in degrees."""
    low = name.lower()
    return next((angle for word, angle in FLANKS if word in low), 60.0)


def thread(sizes: Sizes, name: str) -> Figure:
    """Five crests of the thread cut along, with the angle between its flanks marked."""
    if "pitch" not in sizes.known:
        return _rod(sizes)
    p = sizes.known["pitch"]
    angle = flank_of(name)
    d = sizes.get("diameter", 8 * p)
    square = angle in (29.0, 30.0)
    deep = 0.5 * p if square else _depth(p, angle)
    less(2 * deep, "thread's depth", d, "diameter")
    crests: list[Point] = []
    turns = 4
    lean = deep * math.tan(math.radians(angle / 2))
    flat = (p - 2 * lean) / 2
    for i in range(turns):
        x = i * p
        crests += [(x, 0), (x + flat, 0), (x + flat + lean, -deep), (x + 2 * flat + lean, -deep)]
    crests.append((turns * p, 0.0))
    crests.append((turns * p + flat, 0.0))
    end, foot = crests[-1][0], -max(1.6 * deep, 0.9 * p) - deep * 0.5
    foot = max(foot, -d / 2)
    metal = [(0.0, foot), *crests, (end, foot)]
    items: list[Item] = [
        solid(metal, 1),
        *_angle_mark((p + flat + lean + flat / 2, -deep), angle, deep, flat),
    ]
    at = [flat / 2, p + flat / 2]
    dims = sizes.dims(Dim("pitch", (at[0], 0), (at[1], 0), ABOVE))
    return Figure(
        tuple(items),
        dims,
        (f"the flanks stand at {angle:g}°", "crests and roots are drawn flat"),
        "the thread's form cut along",
    )


def _depth(p: float, angle: float) -> float:
    """Depth of a V thread whose crest and root are an eighth of the pitch each."""
    return (p - p / 4) / 2 / math.tan(math.radians(angle / 2))


def _angle_mark(root: Point, angle: float, deep: float, flat: float) -> list[Item]:
    """The flanks carried on upwards from the root, and an arc between them."""
    half = angle / 2
    long = 2.1 * deep
    tangent = math.tan(math.radians(half))
    apex = (root[0], root[1] - flat / 2 / tangent)
    long += flat / 2 / tangent
    made: list[Item] = []
    for side in (-1, 1):
        dx = long * tangent * side
        start = (root[0] + flat / 2 * side, root[1])
        made.append(line(start, (apex[0] + dx, apex[1] + long), kind="narrow"))
    bow = arc(apex, long - 0.1 * deep, 90 - half, 90 + half)
    made.append(Shape(tuple(bow), kind="narrow", closed=False))
    made.append(Label((apex[0], apex[1] + long + 0.7 * deep), f"{angle:g}°"))
    return made


def _rod(sizes: Sizes) -> Figure:
    (d,) = sizes.fill(diameter=1)
    r = d / 2
    items: tuple[Item, ...] = (
        outline(box(0, -r, 2 * d, r)),
        line((0, 0.85 * r), (2 * d, 0.85 * r), kind="narrow"),
        line((0, -0.85 * r), (2 * d, -0.85 * r), kind="narrow"),
        axis(0, 2 * d),
    )
    return Figure(
        items,
        sizes.dims(Dim("diameter", (2 * d, -r), (2 * d, r), RIGHT)),
        ("the pitch is not on record",),
        "from the side",
    )


def hexagon(sizes: Sizes, nut: bool, count: int = 6) -> Figure:
    """A hexagon (or square) from above, with its thread, and from the side."""
    s, d = sizes.fill(across_flats=1.6, diameter=1)
    less(d, "diameter", s * 1.154, "width over the corners")
    corner = s / 2 / math.cos(math.pi / count)
    turns = [(i + (0.5 if count == 4 else 0)) * 2 * math.pi / count for i in range(count)]
    flats = [(corner * math.cos(t), corner * math.sin(t)) for t in turns]
    wide = s / 2 if count == 4 else corner
    r = d / 2
    tall = sizes.get("height", 0.8 * d if nut else 0.65 * d)
    x = corner * 1.35
    items: list[Item] = [
        outline(flats),
        Round((0, 0), s / 2, "narrow"),
        *cross(corner),
        outline(box(x, -wide, x + tall, wide)),
    ]
    if count == 6:
        items += [line((x, y), (x + tall, y)) for y in (corner / 2, -corner / 2)]
    items += (
        [Round((0, 0), r), Round((0, 0), 0.87 * r, "narrow")]
        if nut
        else [
            loose(box(x + tall, -r, x + tall + 1.2 * d, r)),
            line((x + tall, 0.85 * r), (x + tall + 1.2 * d, 0.85 * r), kind="narrow"),
            line((x + tall, -0.85 * r), (x + tall + 1.2 * d, -0.85 * r), kind="narrow"),
        ]
    )
    far = x + tall + (0 if nut else 1.2 * d)
    items.append(axis(x, far))
    dims = sizes.dims(
        Dim("across-flats", (-wide, -s / 2), (-wide, s / 2), LEFT),
        Dim("diameter", (far, -r), (far, r), RIGHT),
    )
    if "height" in sizes.known:
        dims += (Dim("height", (x, -wide), (x + tall, -wide), BELOW),)
    notes = () if "height" in sizes.known else ("its height is drawn by proportion",)
    return Figure(tuple(items), dims, notes, "from above and from the side")
