"""Retaining rings, keys, pins, hexagons and screw threads."""

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
    Shape,
    Sizes,
    arc,
    axis,
    box,
    less,
    line,
    solid,
)

NO_SIZE = "no size of its shape is on record"
LONGEST = 5
"""Lengths over so many thicknesses are shortened by a break."""


def outline(points: list[Point] | tuple[Point, ...]) -> Shape:
    """An outline that is seen, not cut, and laid over another."""
    return Shape(tuple(points), main=True)


def shortened(long: float, thick: float) -> tuple[float, bool]:
    """The length to draw, and whether it is shortened."""
    return (long, False) if long <= LONGEST * thick else (LONGEST * thick, True)


def break_marks(x: float, half: float, y: float = 0.0) -> list[Item]:
    """Two lines in a zigzag about (x, y) where a length is shortened."""
    made: list[Item] = []
    for off in (-0.12 * half, 0.12 * half):
        at = x + off
        zig = 0.25 * half
        made.append(
            line(
                (at, y - 1.25 * half),
                (at, y - 0.2 * half),
                (at - zig, y - 0.1 * half),
                (at + zig, y + 0.1 * half),
                (at, y + 0.2 * half),
                (at, y + 1.25 * half),
                kind="narrow",
            )
        )
    return made


def cross(radius: float) -> list[Item]:
    """The centre lines of something round."""
    return [axis(-radius, radius), line((0, -1.12 * radius), (0, 1.12 * radius), kind="centre")]


def _side(x: float, thick: float, radius: float) -> Shape:
    return outline(box(x, -radius, x + thick, radius))


def circlip_shaft(sizes: Sizes) -> Figure:
    """A ring that opens at the top with two eyes outwards, on its shaft."""
    shaft = sizes.known.get("shaft") or sizes.known.get("groove")
    bore = sizes.get("bore", 0.93 * shaft if shaft else 0) or 0
    if not bore:
        (bore,) = sizes.fill(bore=1)
    thick = sizes.get("thickness", 0.06 * bore)
    wall_ = 0.13 * bore
    inner, outer = bore / 2, bore / 2 + wall_
    eye = 0.09 * bore
    gap = 14.0
    ring = [
        *arc((0, 0), outer, 90 + gap, 450 - gap),
        *reversed(arc((0, 0), inner, 90 + gap * 0.7, 450 - gap * 0.7)),
    ]
    items: list[Item] = [outline(ring), *cross(outer)]
    items += _eyes(inner + eye * 1.1, 90 - gap * 1.15, 90 + gap * 1.15, eye)
    x = outer * 1.3
    items.append(_side(x, thick, outer))
    dims = sizes.dims(
        Dim("bore", (-inner, 0), (inner, 0), BELOW),
        Dim("thickness", (x, -outer), (x + thick, -outer), BELOW),
    )
    items, dims = _with_groove(sizes, items, dims, "shaft")
    return Figure(
        tuple(items),
        dims,
        ("width and eyes are drawn by proportion",),
        "from the front and from the side",
    )


def _eyes(radius: float, one: float, two: float, eye: float) -> list[Item]:
    made: list[Item] = []
    for turn in (one, two):
        c, s = math.cos(math.radians(turn)), math.sin(math.radians(turn))
        at = (radius * c, radius * s)
        made += [Round(at, eye), Round(at, eye * 0.45)]
    return made


def circlip_bore(sizes: Sizes) -> Figure:
    """A ring that opens at the top with two eyes inwards, in its bore."""
    housing = sizes.known.get("housing") or sizes.known.get("groove")
    big = sizes.get("outside", 1.07 * housing if housing else 0) or 0
    if not big:
        (big,) = sizes.fill(outside=1)
    thick = sizes.get("thickness", 0.05 * big)
    outer = big / 2
    inner = outer - 0.1 * big
    eye = 0.065 * big
    gap = 13.0
    ring = [
        *arc((0, 0), outer, 90 + gap, 450 - gap),
        *reversed(arc((0, 0), inner, 90 + gap, 450 - gap)),
    ]
    items: list[Item] = [outline(ring), *cross(outer)]
    items += _eyes(outer - eye * 1.6, 90 - gap * 1.5, 90 + gap * 1.5, eye)
    x = outer * 1.3
    items.append(_side(x, thick, outer))
    dims = sizes.dims(
        Dim("outside", (-outer, 0), (outer, 0), BELOW),
        Dim("thickness", (x, -outer), (x + thick, -outer), BELOW),
    )
    items, dims = _with_groove(sizes, items, dims, "housing")
    return Figure(
        tuple(items),
        dims,
        ("width and eyes are drawn by proportion",),
        "from the front and from the side",
    )


def _with_groove(
    sizes: Sizes, items: list[Item], dims: tuple[Dim, ...], seat: str
) -> tuple[list[Item], tuple[Dim, ...]]:
    """The shaft or bore as a thin circle, and the groove's bottom dashed, where they are known."""
    for name, kind, side in ((seat, "narrow", ABOVE), ("groove", "hidden", ABOVE)):
        if name in sizes.known:
            r = sizes.known[name] / 2
            items.append(Round((0, 0), r, kind))
            dims += (Dim(name, (-r, 0), (r, 0), side),)
    return items, dims


def e_clip(sizes: Sizes) -> Figure:
    """Three lips on the groove, open at one side."""
    groove = (
        sizes.known.get("bore") or sizes.known.get("groove") or 0.8 * sizes.known.get("shaft", 0)
    )
    if not groove:
        raise NotDrawable(NO_SIZE)
    big = sizes.get("outside", 2.1 * groove)
    less(groove, "groove", big, "outside")
    thick = sizes.get("thickness", 0.12 * groove)
    inner, outer = groove / 2, big / 2
    mid = inner + 0.42 * (outer - inner)
    hug = 62.0
    points: list[Point] = [
        *arc((0, 0), outer, -90 + 24, 270 - 24),
        *arc((0, 0), inner, 270 - hug, 270 - hug - 22),
        *arc((0, 0), mid, 180 - 12, 90 + 26),
        *arc((0, 0), inner, 90 + 20, 90 - 20),
        *arc((0, 0), mid, 90 - 26, 12),
        *arc((0, 0), inner, -90 + hug + 22, -90 + hug),
    ]
    x = outer * 1.3
    items: list[Item] = [outline(points), *cross(outer), _side(x, thick, outer)]
    dims = sizes.dims(
        Dim("bore", (-inner, 0), (inner, 0), ABOVE),
        Dim("outside", (-outer, 0), (outer, 0), BELOW),
        Dim("thickness", (x, -outer), (x + thick, -outer), BELOW),
    )
    items, dims = _with_groove(sizes, items, dims, "shaft")
    return Figure(
        tuple(items),
        dims,
        ("the lips are drawn by proportion",),
        "from the front and from the side",
    )


def crescent(sizes: Sizes) -> Figure:
    """A half ring pushed on from the side."""
    (bore,) = sizes.fill(bore=1)
    thick = sizes.get("thickness", 0.08 * bore)
    inner = bore / 2
    outer = 1.3 * inner
    ring = [*arc((0, 0), outer, -20, 200), *reversed(arc((0, 0), inner, -20, 200))]
    x = outer * 1.3
    items: list[Item] = [outline(ring), *cross(outer), _side(x, thick, outer)]
    dims = sizes.dims(
        Dim("bore", (-inner, 0), (inner, 0), BELOW),
        Dim("thickness", (x, -outer), (x + thick, -outer), BELOW),
    )
    items, dims = _with_groove(sizes, items, dims, "shaft")
    return Figure(
        tuple(items),
        dims,
        ("its width is drawn by proportion",),
        "from the front and from the side",
    )


def parallel_key(sizes: Sizes, taper: bool = False) -> Figure:
    """The end of a key, cut across, and its side; a taper key's top leans 1 in 100."""
    b, h = sizes.fill(width=1, height=1)
    long = sizes.get("length", 3 * max(b, h))
    shown, broken = shortened(long, max(b, h))
    x = b * 1.6
    drop = 0.06 * h if taper else 0.0
    side = [(x, 0.0), (x + shown, 0.0), (x + shown, h - drop), (x, h)]
    items: list[Item] = [solid(box(0, 0, b, h), 1), outline(side)]
    if broken:
        items += break_marks(x + shown / 2, h / 2, h / 2)
    dims = sizes.dims(
        Dim("width", (0, 0), (b, 0), BELOW),
        Dim("height", (0, 0), (0, h), LEFT),
        Dim("length", (x, 0), (x + shown, 0), BELOW, broken),
    )
    notes = ("the taper is drawn steeper than it is",) if taper else ()
    return Figure(tuple(items), dims, notes, "cut across and from the side")


def woodruff(sizes: Sizes) -> Figure:
    """Part of a disc from the side, and its width."""
    b, h, d = sizes.fill(width=1, height=2, diameter=5)
    less(h * 0.5, "half height", d, "diameter")
    r = d / 2
    top = min(h - r, r * 0.98)
    half = math.degrees(math.asin(max(-1.0, min(1.0, top / r))))
    disc = arc((0, 0), r, 180 - half, 360 + half)
    x = r * 1.35
    items: tuple[Item, ...] = (
        outline(disc),
        Round((0, 0), r, "hidden"),
        *cross(r),
        solid(box(x, -r, x + b, top), 1),
    )
    dims = sizes.dims(
        Dim("diameter", (-r, 0), (r, 0), BELOW),
        Dim("height", (-r, -r), (-r, top), LEFT),
        Dim("width", (x, -r), (x + b, -r), BELOW),
    )
    return Figure(items, dims, (), "from the side and cut across")


def pin(sizes: Sizes, name: str) -> Figure:
    """A parallel, clevis, spring or split pin, or a loose roller, along its length."""
    d = sizes.known.get("diameter") or sizes.known.get("hole")
    if not d:
        (d,) = sizes.fill(diameter=1)
    d = sizes.get("diameter", d)
    long = sizes.get("length", 3.5 * d)
    shown, broken = shortened(long, d)
    r, c = d / 2, min(0.12 * d, shown / 4)
    body: list[Point] = [(0, -r + c), (c, -r), (shown - c, -r), (shown, -r + c)]
    body += [(shown, r - c), (shown - c, r), (c, r), (0, r - c)]
    items: list[Item] = [outline(body), axis(0, shown)]
    dims = [
        Dim("diameter", (shown, -r), (shown, r), RIGHT),
        Dim("length", (0, -r), (shown, -r), BELOW, broken),
    ]
    if broken:
        items += break_marks(shown / 2, r)
    items, extra = _pin_more(sizes, name, items, (shown, r))
    return Figure(tuple(items), sizes.dims(*dims, *extra), _pin_notes(sizes), "from the side")


def _pin_notes(sizes: Sizes) -> tuple[str, ...]:
    return () if "length" in sizes.known else ("its length is not on record",)


def _pin_more(
    sizes: Sizes, name: str, items: list[Item], end: tuple[float, float]
) -> tuple[list[Item], list[Dim]]:
    shown, r = end
    extra: list[Dim] = []
    head = sizes.known.get("head")
    if head and "clevis" in name:
        t = 0.35 * r * 2
        items.append(outline(box(-t, -head / 2, 0, head / 2)))
        extra.append(Dim("head", (-t, -head / 2), (-t, head / 2), LEFT))
    hole = sizes.known.get("cross-hole")
    if hole and hole < 2 * r:
        x = shown - 0.35 * shown if hole > 0.4 * shown else shown - max(hole, 0.2 * shown)
        items += [Round((x, 0), hole / 2), line((x, -r * 0.9), (x, r * 0.9), kind="centre")]
        extra.append(Dim("cross-hole", (x - hole / 2, r), (x + hole / 2, r), ABOVE))
    if "spring" in name:
        items.append(line((0, 0.25 * r), (shown, 0.25 * r)))
        items.append(line((0, -0.25 * r), (shown, -0.25 * r)))
    return items, extra


def split_pin(sizes: Sizes) -> Figure:
    """Two half-round legs with an eye, one leg longer."""
    d = sizes.known.get("diameter") or 0.9 * sizes.known.get("hole", 0)
    if not d:
        (d,) = sizes.fill(diameter=1)
    head = sizes.get("head", 1.9 * d)
    long = sizes.get("length", 6 * d)
    shown, broken = shortened(long, 1.4 * d)
    r, e = d / 2, head / 2
    less(d, "diameter", head, "eye")
    turn = math.degrees(math.asin(min(r / e, 0.99)))
    eye = arc((0, 0), e, turn, 360 - turn)
    start = eye[-1][0]
    tip = shown * 0.12
    points: list[Point] = [
        *eye,
        (start + shown - tip, -r),
        (start + shown - tip, 0),
        (start + shown, 0),
        (start + shown, r),
    ]
    inner = max(e - r, 0.2 * e)
    hole = arc((0, 0), inner, 12, 348)
    items: list[Item] = [
        outline(points),
        Shape(tuple(hole), closed=False),
        line((hole[0][0], 0), (start + shown - tip, 0)),
    ]
    if broken:
        items += break_marks(start + shown / 2, r)
    dims = sizes.dims(
        Dim("diameter", (start + shown, -r), (start + shown, r), RIGHT),
        Dim("head", (0, -e), (0, e), LEFT),
        Dim("length", (start, -r), (start + shown, -r), BELOW, broken),
    )
    return Figure(tuple(items), dims, _pin_notes(sizes), "from the side")


def taper_pin(sizes: Sizes, most: float = LONGEST) -> Figure:
    """A taper of which one or both ends are known; what is missing is drawn by 1 in 50."""
    small, large = sizes.known.get("small-end"), sizes.known.get("large-end")
    some = small or large or sizes.known.get("diameter")
    if not some:
        raise NotDrawable(NO_SIZE)
    long = sizes.get("length", 4 * some)
    shown, broken = (long, False) if long <= most * some else (most * some, True)
    a = small or (large - min(long / 50, 0.4 * large) if large else some)
    b = large or a + long / 50
    less(a, "small end", b * (1 + 1e-9), "large end")
    body = [(0.0, -b / 2), (shown, -a / 2), (shown, a / 2), (0.0, b / 2)]
    items: list[Item] = [outline(body), axis(0, shown)]
    if broken:
        items += break_marks(shown / 2, (a + b) / 4)
    dims = sizes.dims(
        Dim("large-end", (0, -b / 2), (0, b / 2), LEFT),
        Dim("small-end", (shown, -a / 2), (shown, a / 2), RIGHT),
        Dim("length", (0, -b / 2), (shown, -a / 2), BELOW, broken),
    )
    return Figure(tuple(items), dims, _pin_notes(sizes), "from the side")
