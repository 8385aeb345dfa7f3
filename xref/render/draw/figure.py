"""What is drawn, in millimetres: outlines, circles, lines and the sizes to dimension."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace

Point = tuple[float, float]
"""Millimetres; x to the right, y upwards."""

EDGE, NARROW, CENTRE, HIDDEN = "edge", "narrow", "centre", "hidden"
"""Line kinds of ISO 128-2: wide continuous, narrow continuous, chain, dashed narrow."""

LEFT, RIGHT, ABOVE, BELOW = "left", "right", "above", "below"

ARC_DEGREES = 6
"""Most degrees of an arc in one straight piece."""


class NotDrawable(Exception):
    """Sizes that no such part can have; the text says which. Never leaves the drawing room."""


@dataclass(frozen=True, slots=True)
class Shape:
    """An outline or a run of lines through ``points``.

    ``hatch`` 1 or 2 is the way its hatching leans, 0 none. ``main``: it is drawn again where
    another part or what was measured is laid over.
    """

    points: tuple[Point, ...]
    hatch: int = 0
    kind: str = EDGE
    closed: bool = True
    main: bool = False


@dataclass(frozen=True, slots=True)
class Round:
    """A circle; ``kind`` as of Shape."""

    centre: Point
    radius: float
    kind: str = EDGE
    main: bool = False


@dataclass(frozen=True, slots=True)
class Label:
    """A short text in the drawing, its middle at ``at``."""

    at: Point
    text: str
    main: bool = False


Item = Shape | Round | Label


@dataclass(frozen=True, slots=True)
class Dim:
    """One size to dimension, from ``a`` to ``b``: across for left and right, along for the others.

    ``broken``: what lies between is shortened, so the distance on paper is not the size.
    """

    size: str
    a: Point
    b: Point
    side: str
    broken: bool = False


@dataclass(frozen=True, slots=True)
class Figure:
    """A drawing before it is set on a sheet. ``notes`` say what is not to be taken from it.

    ``detail`` is the stretch (x0, y0, x1, y1) that is drawn again larger where it comes out small.
    """

    items: tuple[Item, ...]
    dims: tuple[Dim, ...] = ()
    notes: tuple[str, ...] = ()
    view: str = "section"
    detail: tuple[float, float, float, float] | None = None

    def bounds(self) -> tuple[float, float, float, float]:
        """Least and greatest x and y, in millimetres: x0, y0, x1, y1."""
        xs, ys = [], []
        for item in self.items:
            if isinstance(item, Round):
                (x, y), r = item.centre, item.radius
                xs += [x - r, x + r]
                ys += [y - r, y + r]
            elif isinstance(item, Label):
                xs.append(item.at[0])
                ys.append(item.at[1])
            else:
                xs += [x for x, _ in item.points]
                ys += [y for _, y in item.points]
        return min(xs), min(ys), max(xs), max(ys)


@dataclass(frozen=True, slots=True)
class Row:
    """A line of the table beside a drawing; lengths in mm (counts and hardness as they are).

    ``letter`` is "" for what is on record and not dimensioned. ``other`` is what was measured, or
    the size of the part laid over; None where there is none.
    """

    letter: str
    name: str
    nominal: float | None
    other: float | None = None
    plain: bool = False

    @property
    def difference(self) -> float | None:
        """``other`` less ``nominal``; None where one of them is missing."""
        if self.nominal is None or self.other is None:
            return None
        return round(self.other - self.nominal, 6)


@dataclass(frozen=True, slots=True)
class Drawing:
    """A drawing as SVG text, and what a page or a terminal prints beside it.

    ``scale`` is how often the paper shows the part's size at the sheet's own width; 0 where the
    drawing has no scale. ``cells`` is a table without sizes (ranges, chains): headings first.
    """

    svg: str
    title: str
    description: str
    rows: tuple[Row, ...] = ()
    scale: float = 0
    cells: tuple[tuple[str, ...], ...] = ()

    def file(self) -> str:
        """The SVG as a file of its own, with colours for light, dark and print."""
        head, rest = self.svg.split(">", 1)
        return f'<?xml version="1.0" encoding="UTF-8"?>\n{head}>{STYLE}{rest}\n'


STYLE = (
    "<style>svg{color:#111;background:#fff}.xd-over,.xd-own{color:#b00020}"
    "@media (prefers-color-scheme:dark){svg{color:#eee;background:#14171a}"
    ".xd-over,.xd-own{color:#ff9a8a}}"
    "@media print{svg{color:#000;background:#fff}.xd-over,.xd-own{color:#000}}</style>"
)


@dataclass(slots=True)
class Sizes:
    """The sizes on record, with those assumed for the shape's sake beside them."""

    known: Mapping[str, float]
    assumed: set[str] = field(default_factory=set)

    def fill(self, **proportions: float) -> tuple[float, ...]:
        """The sizes named, in order; one not on record is in proportion to the first that is.

        An underscore in a name stands for a dash. Raises NotDrawable where none is on record.
        """
        names = {name.replace("_", "-"): share for name, share in proportions.items()}
        base = next((n for n in names if n in self.known), None)
        if base is None:
            raise NotDrawable("no size of its shape is on record")
        one = self.known[base] / names[base]
        self.assumed |= {n for n in names if n not in self.known}
        return tuple(self.known.get(n, share * one) for n, share in names.items())

    def get(self, name: str, otherwise: float) -> float:
        """The size on record, else the one given, which counts as assumed."""
        if name not in self.known:
            self.assumed.add(name)
        return self.known.get(name, otherwise)

    def dims(self, *dims: Dim) -> tuple[Dim, ...]:
        """Those of the dimensions whose size is on record."""
        return tuple(dim for dim in dims if dim.size in self.known)


def less(small: float, small_name: str, large: float, large_name: str) -> None:
    """Raise NotDrawable unless ``small`` is less than ``large``."""
    if not small < large:
        raise NotDrawable(f"the {small_name} on record is not less than the {large_name}")


def arc(centre: Point, radius: float, start: float, end: float) -> list[Point]:
    """Points on an arc from ``start`` to ``end`` degrees, counted against the clock."""
    count = max(8, math.ceil(abs(end - start) / ARC_DEGREES))
    steps = [math.radians(start + (end - start) * i / count) for i in range(count + 1)]
    return [(centre[0] + radius * math.cos(t), centre[1] + radius * math.sin(t)) for t in steps]


def box(x0: float, y0: float, x1: float, y1: float) -> tuple[Point, ...]:
    """The corners of an upright box."""
    return ((x0, y0), (x1, y0), (x1, y1), (x0, y1))


def solid(points: Iterable[Point], hatch: int = 1) -> Shape:
    """A cut part: hatched, and drawn again where something is laid over."""
    return Shape(tuple(points), hatch, main=True)


def loose(points: Iterable[Point]) -> Shape:
    """A part that is not cut (a roller, a pin): its edge alone."""
    return Shape(tuple(points))


def line(*points: Point, kind: str = EDGE) -> Shape:
    """A run of straight lines."""
    return Shape(points, kind=kind, closed=False)


def turned(points: Iterable[Point], about: Point, degrees: float) -> tuple[Point, ...]:
    """The points turned against the clock about one of them."""
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    ax, ay = about
    return tuple(
        (ax + (x - ax) * c - (y - ay) * s, ay + (x - ax) * s + (y - ay) * c) for x, y in points
    )


def mirrored(items: Sequence[Item], along: bool = True) -> tuple[Item, ...]:
    """The items and their mirror images: about the x axis, or the y axis for ``along`` False."""

    def flip(p: Point) -> Point:
        return (p[0], -p[1]) if along else (-p[0], p[1])

    twins: list[Item] = []
    for item in items:
        if isinstance(item, Round):
            twins.append(replace(item, centre=flip(item.centre)))
        elif isinstance(item, Label):
            twins.append(replace(item, at=flip(item.at)))
        else:
            points = tuple(flip(p) for p in item.points)
            twins.append(replace(item, points=points))
    return (*items, *twins)


def axis(x0: float, x1: float, y: float = 0) -> Shape:
    """A centre line that stands out a little beyond both ends."""
    out = 0.08 * (x1 - x0)
    return line((x0 - out, y), (x1 + out, y), kind=CENTRE)


def edges(xs: Sequence[float], radius: float) -> list[Item]:
    """The edges behind the cut that show between both halves of something round."""
    return [line((x, -radius), (x, radius)) for x in xs]
