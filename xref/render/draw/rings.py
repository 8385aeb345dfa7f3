"""What rolling bearings share: where their rings and rolling elements lie across the wall."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from xref.render.draw.figure import (
    BELOW,
    LEFT,
    RIGHT,
    Dim,
    Figure,
    Item,
    Point,
    Round,
    Sizes,
    arc,
    axis,
    edges,
    less,
    line,
    mirrored,
    solid,
)

PROPORTION = "rolling elements and ring thickness are drawn by proportion"


@dataclass(frozen=True, slots=True)
class Wall:
    """A bearing's wall: half the bore, half the outside, half the width, in millimetres."""

    inner: float
    outer: float
    half: float

    @property
    def high(self) -> float:
        """How thick the wall is."""
        return self.outer - self.inner

    @property
    def middle(self) -> float:
        """Radius of the middle of the wall, on which the rolling elements lie."""
        return (self.inner + self.outer) / 2


def wall(sizes: Sizes) -> Wall:
    """The wall by the boundary dimensions. Raises NotDrawable where they cannot be."""
    d, big, wide = sizes.fill(bore=1, outside=2, width=0.55)
    less(d, "bore", big, "outside")
    return Wall(d / 2, big / 2, wide / 2)


def grooved(
    x0: float, x1: float, back: float, land: float, balls: Sequence[tuple[float, float, float]]
) -> list[Point]:
    """A ring from ``x0`` to ``x1`` between ``back`` and ``land`` with a groove for each ball.

    Each ball is (x, y, radius) of its circle, left to right; the groove is where it passes the
    land.
    """
    points: list[Point] = [(x0, back), (x0, land)]
    up = land > back
    for x, y, radius in balls:
        deep = y - land if up else land - y
        if not -radius < deep < radius:
            continue
        half = math.degrees(math.acos(deep / radius))
        half = min(half, 90.0)
        if up:
            points += arc((x, y), radius, 270 - half, 270 + half)
        else:
            points += arc((x, y), radius, 90 + half, 90 - half)
    return [*points, (x1, land), (x1, back)]


def bearing_figure(
    sizes: Sizes, half: Sequence[Item], w: Wall, notes: tuple[str, ...] = ()
) -> Figure:
    """Both halves of a section, with the bore left, the outside right and the width below."""
    xs = (-w.half, w.half)
    items = (*mirrored(half), *edges(xs, w.inner), axis(*xs))
    detail = (-w.half, w.inner, w.half, w.outer)
    return Figure(items, boundary(sizes, w), (PROPORTION, *notes), detail=detail)


def boundary(sizes: Sizes, w: Wall) -> tuple[Dim, ...]:
    """The dimensions of bore, outside and width, those on record."""
    return sizes.dims(
        Dim("bore", (-w.half, -w.inner), (-w.half, w.inner), LEFT),
        Dim("outside", (w.half, -w.outer), (w.half, w.outer), RIGHT),
        Dim("width", (-w.half, -w.outer), (w.half, -w.outer), BELOW),
    )


def ball(x: float, y: float, radius: float) -> list[Item]:
    """A rolling ball with its centre marked."""
    tick = radius * 0.35
    return [
        Round((x, y), radius),
        line((x - tick, y), (x + tick, y), kind="narrow"),
        line((x, y - tick), (x, y + tick), kind="narrow"),
    ]


def closures(w: Wall, closed: str, thick: float) -> list[Item]:
    """Shields (a thin plate clear of the inner ring) or seals (a lip on it), on one side or both.

    ``closed`` is ``shield`` or ``seal``, with ``1`` behind it for one side; "" for an open one.
    """
    if not closed:
        return []
    sides = (1,) if closed.endswith("1") else (1, -1)
    seal = closed.startswith("seal")
    low, high = w.inner + thick * 0.82, w.outer - thick * 0.62
    made: list[Item] = []
    for side in sides:
        x1, x0 = side * w.half * 0.93, side * w.half * (0.8 if seal else 0.86)
        foot = low if seal else low + 0.1 * w.high
        made.append(solid([(x0, foot), (x1, foot), (x1, high), (x0, high)], 2 if seal else 0))
        if seal:
            made.append(
                solid(
                    [(x0, foot), (x1, foot), (x1 - side * w.half * 0.16, foot - 0.06 * w.high)], 0
                )
            )
    return made
