"""Sections of seals, O-rings, bushes, strips and flat rings."""

from __future__ import annotations

from dataclasses import replace

from xref.render.draw.figure import (
    ABOVE,
    BELOW,
    LEFT,
    RIGHT,
    Dim,
    Figure,
    Item,
    Label,
    Round,
    Shape,
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
)
from xref.render.draw.rings import Wall, boundary, wall

GROOVE_WIDTH, GROOVE_DEPTH = 1.35, 0.8
"""Of a groove, in sections of the ring: common practice, no published source."""


def shaft_seal(sizes: Sizes) -> Figure:
    """A rubber lip with its garter spring, on an angled stiffening ring; the shaft runs in it."""
    known = dict(sizes.known)
    if "bore" not in known and "shaft" in known:
        known["bore"] = known["shaft"]
    held = Sizes(known, sizes.assumed)
    d, big, wide = held.fill(bore=1, outside=1.5, width=0.2)
    less(d, "shaft", big, "outside")
    w = Wall(d / 2, big / 2, wide / 2)
    t = min(0.2 * w.high, 0.24 * wide)
    x0, x1 = -w.half, w.half
    r, top = w.inner, w.outer
    lip = x1 - 0.3 * wide
    body = [
        (x0, top),
        (x0, r + 0.35 * w.high),
        (x0 + t, r + 0.3 * w.high),
        (lip - 0.14 * wide, r + 0.14 * w.high),
        (lip, r),
        (x1 - 0.06 * wide, r + 0.2 * w.high),
        (x1 - 0.06 * wide, r + 0.46 * w.high),
        (lip - 0.06 * wide, r + 0.46 * w.high),
        (x0 + 2 * t, r + 0.5 * w.high),
        (x0 + 2 * t, top - 2 * t),
        (x1 - 0.04 * wide, top - 2 * t),
        (x1, top - 1.2 * t),
        (x1, top),
    ]
    shell = [
        (x0 + 0.7 * t, top - 0.7 * t),
        (x1 - t, top - 0.7 * t),
        (x1 - t, top - 1.3 * t),
        (x0 + 1.4 * t, top - 1.3 * t),
        (x0 + 1.4 * t, r + 0.45 * w.high),
        (x0 + 0.7 * t, r + 0.45 * w.high),
    ]
    spring = Round(
        (lip + 0.08 * wide, r + 0.46 * w.high + 0.085 * min(w.high, wide)),
        0.085 * min(w.high, wide) + 0.02 * min(w.high, wide),
    )
    half: list[Item] = [solid(body, 1), loose(shell), spring]
    items = (
        *mirrored(half),
        *edges((x0, x1), r + 0.05 * w.high),
        line((x0 - 0.3 * wide, r), (x1 + 0.3 * wide, r), kind="hidden"),
        line((x0 - 0.3 * wide, -r), (x1 + 0.3 * wide, -r), kind="hidden"),
        axis(x0 - 0.3 * wide, x1 + 0.3 * wide),
    )
    dims = boundary(held, w)
    if "bore" not in sizes.known:
        kept = (dim for dim in dims if dim.size != "bore")
        dims = (*kept, Dim("shaft", (x0, -r), (x0, r), LEFT))
    return Figure(
        items, dims, ("lip, spring and shell are drawn by proportion",), detail=(x0, r, x1, top)
    )


def o_ring(sizes: Sizes) -> Figure:
    """The ring cut through, in the groove of a piston."""
    inside, section = sizes.fill(inside=1, section=0.12)
    less(section, "section", inside * 50, "inside")
    r = section / 2
    middle = inside / 2 + r
    outer = inside / 2 + section
    items: list[Item] = [
        *_round_cut(middle, r),
        line((-r, -inside / 2), (-r, inside / 2), kind="narrow"),
        line((r, -inside / 2), (r, inside / 2), kind="narrow"),
        axis(-r * 2.2, r * 2.2),
        *mirrored(_groove(inside / 2, section)),
    ]
    dims = sizes.dims(
        Dim("inside", (-r, -inside / 2), (-r, inside / 2), LEFT),
        Dim("section", (-r, -outer), (r, -outer), BELOW),
    )
    if "outside" in sizes.known:
        dims += (Dim("outside", (r, -outer), (r, outer), RIGHT),)
    return Figure(
        tuple(items),
        dims,
        ("the groove is drawn by proportion and the ring unsqueezed",),
        detail=(-section * 1.15, inside / 2 - 0.55 * section, section * 1.15, outer),
    )


def _round_cut(middle: float, r: float) -> list[Item]:
    return [solid(arc((0, side * middle), r, 0, 360)[:-1], 1) for side in (1, -1)]


def _groove(inner: float, section: float) -> list[Item]:
    """The piston's groove around the upper section; the ring stands out of it."""
    half = section * GROOVE_WIDTH / 2
    edge, far = inner + section * GROOVE_DEPTH, section * 1.15
    floor = inner
    deep = max(inner - 0.55 * section, 0.0)
    return [
        Shape(
            (
                (-far, deep),
                (-far, edge),
                (-half, edge),
                (-half, floor),
                (half, floor),
                (half, edge),
                (far, edge),
                (far, deep),
            ),
            2,
            "narrow",
        )
    ]


def bush(sizes: Sizes, flange: float = 0.0, slit: bool = False) -> Figure:
    """A plain sleeve; with a flange where its diameter is known (thickness then by proportion)."""
    w = wall(sizes) if not _unlike(sizes) else wall(_plain(sizes))
    x0, x1 = -w.half, w.half
    points = list(box(x0, w.inner, x1, w.outer))
    if flange > 2 * w.outer:
        t = min(w.high, 0.3 * (x1 - x0))
        points = [
            (x0, w.inner),
            (x1, w.inner),
            (x1, w.outer),
            (x0 + t, w.outer),
            (x0 + t, flange / 2),
            (x0, flange / 2),
        ]
    items: list[Item] = [*mirrored([solid(points, 1)]), *edges((x0, x1), w.inner), axis(x0, x1)]
    if slit:
        y = 0.12 * w.inner
        items += [
            line((x0, y), (x1, y * 0.7), kind="narrow"),
            line((x0, y * 1.6), (x1, y * 1.3), kind="narrow"),
        ]
    notes = ("the flange's thickness is drawn by proportion",) if flange > 2 * w.outer else ()
    return Figure(tuple(items), boundary(sizes, w), notes)


def _unlike(sizes: Sizes) -> bool:
    return "length" in sizes.known and "width" not in sizes.known


def _plain(sizes: Sizes) -> Sizes:
    return Sizes({**sizes.known, "width": sizes.known["length"]}, sizes.assumed)


def felt(sizes: Sizes) -> Figure:
    """A felt ring between shaft and groove."""
    w = wall(sizes)
    items = (
        *mirrored([solid(box(-w.half, w.inner, w.half, w.outer), 1)]),
        *edges((-w.half, w.half), w.inner),
        axis(-w.half, w.half),
    )
    return Figure(items, boundary(sizes, w))


def strip(sizes: Sizes, name: str) -> Figure:
    """Cord and strip cut across."""
    if "diameter" in sizes.known or "round" in name:
        (d,) = sizes.fill(diameter=1)
        items: tuple[Item, ...] = (solid(arc((0, 0), d / 2, 0, 360)[:-1], 1), axis(-d / 2, d / 2))
        return Figure(items, sizes.dims(Dim("diameter", (-d / 2, 0), (d / 2, 0), BELOW)))
    wide, thick = sizes.fill(width=2, thickness=1)
    items = (solid(box(0, 0, wide, thick), 1),)
    return Figure(
        items,
        sizes.dims(
            Dim("width", (0, 0), (wide, 0), BELOW), Dim("thickness", (0, 0), (0, thick), LEFT)
        ),
    )


def flat_ring(sizes: Sizes) -> Figure:
    """A washer cut through, lying on its axis across the sheet."""
    d, big, thick = sizes.fill(bore=1, outside=2, thickness=0.15)
    less(d, "bore", big, "outside")
    w = Wall(d / 2, big / 2, thick / 2)
    return _washer(sizes, w, [solid(box(-w.half, w.inner, w.half, w.outer), 1)], thick)


def _washer(
    sizes: Sizes, w: Wall, half: list[Item], thick: float, notes: tuple[str, ...] = ()
) -> Figure:
    upright = [_over(item) for item in mirrored(half)]
    items = (
        *upright,
        *(_over(e) for e in edges((-w.half, w.half), w.inner)),
        _over(axis(-w.half, w.half)),
    )
    dims = sizes.dims(
        Dim("bore", (-w.inner, w.half), (w.inner, w.half), ABOVE),
        Dim("outside", (-w.outer, -w.half), (w.outer, -w.half), BELOW),
        Dim("thickness", (w.outer, -thick / 2), (w.outer, thick / 2), RIGHT),
    )
    return Figure(tuple(items), dims, notes)


def _over(item: Item) -> Item:
    """The item with its axis upright: a washer lies flat on the bench."""
    if isinstance(item, Round):
        return replace(item, centre=(item.centre[1], item.centre[0]))
    if isinstance(item, Label):
        return item
    return replace(item, points=tuple((y, x) for x, y in item.points))


def disc_spring(sizes: Sizes) -> Figure:
    """A coned disc: its free height is from the bench to its inner edge."""
    d, big, thick = sizes.fill(bore=1, outside=2, thickness=0.12)
    less(d, "bore", big, "outside")
    height = sizes.get("height", 1.4 * thick)
    less(thick * 0.999, "thickness", height, "height")
    rise = height - thick
    outer, inner = big / 2, d / 2
    cone = [(outer, 0.0), (outer, thick), (inner, height), (inner, rise)]
    items = (
        solid(cone, 1),
        solid([(-x, y) for x, y in cone], 1),
        line((-inner, height), (inner, height)),
        line((-inner, rise), (inner, rise)),
        line((0, -0.3 * height - 0.02 * big), (0, height * 1.3 + 0.02 * big), kind="centre"),
    )
    dims = sizes.dims(
        Dim("bore", (-inner, height), (inner, height), ABOVE),
        Dim("outside", (-outer, 0), (outer, 0), BELOW),
        Dim("thickness", (outer, 0), (outer, thick), RIGHT),
        Dim("height", (-outer, 0), (-inner, height), LEFT),
    )
    return Figure(items, dims)


def spring_washer(sizes: Sizes) -> Figure:
    """From above, slit; and its thickness beside."""
    d, big = sizes.fill(bore=1, outside=1.7)
    less(d, "bore", big, "outside")
    thick = sizes.get("thickness", (big - d) / 4)
    inner, outer = d / 2, big / 2
    ring = [*arc((0, 0), outer, 4, 354), *reversed(arc((0, 0), inner, 8, 350))]
    x = outer * 1.35
    side = [
        (x, -outer),
        (x + thick, -outer),
        (x + thick, outer * 0.02),
        (x + thick * 1.5, outer * 0.1),
    ]
    side += [
        (x + thick * 1.5, outer),
        (x + thick * 0.5, outer),
        (x + thick * 0.5, outer * 0.05),
        (x, -outer * 0.03),
    ]
    items: tuple[Item, ...] = (
        Shape(tuple(ring), main=True),
        Shape(tuple(side), main=True),
        axis(-outer, outer),
        line((0, -outer * 1.1), (0, outer * 1.1), kind="centre"),
    )
    dims = sizes.dims(
        Dim("bore", (-inner, 0), (inner, 0), ABOVE),
        Dim("outside", (-outer, 0), (outer, 0), BELOW),
        Dim("thickness", (x, -outer), (x + thick, -outer), BELOW),
    )
    return Figure(items, dims, ("the slit is drawn by proportion",), "from above and from the side")
