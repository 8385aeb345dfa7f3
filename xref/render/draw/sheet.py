"""A figure set on a sheet: scale, line kinds, hatching and dimension lines, as SVG text.

The sheet is as wide as the narrowest phone; letters are large enough there, and everything
grows with it. Lines follow ISO 128-2 and ISO 128-3 (wide to narrow as 2 to 1, hatching at 45°),
dimension lines ISO 129-1 (arrow heads, extension lines, the letter above its line, or beside an
upright one); from memory, no text of them was opened.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from xref.render.draw.figure import ABOVE, BELOW, LEFT, RIGHT, Dim, Figure, Item, Label, Point
from xref.render.draw.ink import (
    ARROW,
    FONT,
    LEVEL,
    MARGIN,
    MM,
    STROKES,
    TALLEST,
    WIDE,
    Box,
    Place,
    clean,
    drawn,
    figured,
    free,
    letters,
    nice_scale,
    run,
    scale_text,
    text_width,
)


@dataclass(frozen=True, slots=True)
class Set:
    """A figure set on a sheet: its drawing without the frame, its height, and its scale."""

    body: list[str]
    height: float
    scale: float


def _levels(dims: tuple[Dim, ...]) -> dict[str, list[Dim]]:
    """The dimensions of each side, the shortest nearest to the part."""
    found: dict[str, list[Dim]] = {side: [] for side in (LEFT, RIGHT, ABOVE, BELOW)}
    for dim in dims:
        found[dim.side].append(dim)
    for side, some in found.items():
        some.sort(key=_span if side in (LEFT, RIGHT) else _span_along)
    return found


def _span(dim: Dim) -> float:
    return abs(dim.b[1] - dim.a[1])


def _span_along(dim: Dim) -> float:
    return abs(dim.b[0] - dim.a[0])


def set_figure(
    figure: Figure, names: Mapping[str, str], over: Figure | None = None, differing: bool = False
) -> Set:
    """The figure to scale with its dimensions; ``names`` has the letter of each size.

    ``over`` is laid over it dashed; ``differing``: what differs is dimensioned too.
    """
    every = figure if over is None else replace(figure, items=(*figure.items, *main_items(over)))
    x0, y0, x1, y1 = _with_ends(every.bounds(), (*figure.dims, *(over.dims if over else ())))
    levels = _levels(figure.dims)
    side = LEVEL * (len(levels[LEFT]) + len(levels[RIGHT])) + 2 * ARROW
    width, height = max(x1 - x0, 1e-9), max(y1 - y0, 1e-9)
    room = WIDE - 2 * MARGIN - side
    scale = nice_scale(min(room / width, TALLEST / height) / MM)
    left_over = room - DETAIL - 2 * MARGIN
    larger = _detail_scale(figure, scale) if width * scale * MM <= left_over else 0
    room = left_over if larger else room
    unit = scale * MM
    left = MARGIN + LEVEL * len(levels[LEFT]) + ARROW + (room - width * unit) / 2
    above = 34.0 if differing else 4.0
    top = MARGIN + LEVEL * len(levels[ABOVE]) + max(above, _rise(figure, unit) if larger else 0)
    place = Place(unit, left - x0 * unit, top + y1 * unit)
    body = [drawn(item, place) for item in figure.items]
    if over is not None:
        body += [drawn(item, place, "over") for item in main_items(over)]
    edge = (left, top, left + width * unit, top + height * unit)
    body += _dimensions(levels, place, edge, names)
    if larger:
        body += _detail(figure, larger, place, top)
    if over is not None and differing:
        body = _differences(figure, over, place, names, body)
    bottom = max(edge[3], top + DETAIL + 30 if larger else 0)
    foot = max(edge[3] + LEVEL * len(levels[BELOW]), bottom) + 34
    if not figure.dims:
        return Set(body, foot - 14, 0)
    return Set([*body, *_scale_bar(unit, foot)], foot + 14, scale)


DETAIL = 104
"""Units across a detail that is drawn again larger."""
WORTH = 2
"""How many times larger a detail must come out to be drawn."""


def _detail_scale(figure: Figure, scale: float) -> float:
    """The scale of the detail, 0 where the figure shows it large enough by itself."""
    if figure.detail is None:
        return 0
    x0, y0, x1, y1 = figure.detail
    wide, high = max(x1 - x0, 1e-9), max(y1 - y0, 1e-9)
    larger = nice_scale(DETAIL / max(wide, high) / MM)
    return larger if larger >= WORTH * scale * (1 - 1e-9) else 0


def _rise(figure: Figure, unit: float) -> float:
    """How far the detail's circle and its letter stand above the stretch."""
    assert figure.detail is not None
    x0, y0, x1, y1 = figure.detail
    half, r = (y1 - y0) * unit / 2, math.hypot(x1 - x0, y1 - y0) * unit / 2 + 3
    return max(r, 0.7 * r + FONT) - half + 2


def _detail(figure: Figure, scale: float, main: Place, top: float) -> list[str]:
    """The detail to the right, named A, and a circle around its place in the figure."""
    assert figure.detail is not None
    x0, y0, x1, y1 = figure.detail
    unit = scale * MM
    centre = WIDE - MARGIN - DETAIL / 2
    at = Place(unit, centre - (x0 + x1) / 2 * unit, top + DETAIL / 2 + (y0 + y1) / 2 * unit)
    inside = [item for item in figure.items if _within(item, figure.detail)]
    cx, cy = main.at(((x0 + x1) / 2, (y0 + y1) / 2))
    r = math.hypot(x1 - x0, y1 - y0) * main.unit / 2 + 3
    circle = (
        f'<circle class="xd-narrow" cx="{figured(cx)}" cy="{figured(cy)}" r="{figured(r)}" '
        f'fill="none" stroke="currentColor" {STROKES["narrow"]}/>'
    )
    return [
        circle,
        letters(cx - r * 0.7 - 3, cy - r * 0.7, "A", "end"),
        '<g class="xd-detail">',
        *(drawn(item, at) for item in inside),
        letters(centre, top + DETAIL + 24, f"A  {scale_text(scale)}"),
        "</g>",
    ]


def _within(item: Item, stretch: Box) -> bool:
    """Whether an item lies in the stretch, or hardly beyond it."""
    if isinstance(item, Label):
        return False
    x0, y0, x1, y1 = Figure((item,)).bounds()
    slack = 0.02 * max(stretch[2] - stretch[0], stretch[3] - stretch[1])
    return (
        x0 >= stretch[0] - slack
        and y0 >= stretch[1] - slack
        and x1 <= stretch[2] + slack
        and y1 <= stretch[3] + slack
    )


def _with_ends(bounds: Box, dims: tuple[Dim, ...]) -> Box:
    """The bounds with whatever the dimensions reach beyond them: a roller is not laid over."""
    xs = [bounds[0], bounds[2], *(p[0] for d in dims for p in (d.a, d.b))]
    ys = [bounds[1], bounds[3], *(p[1] for d in dims for p in (d.a, d.b))]
    return min(xs), min(ys), max(xs), max(ys)


def main_items(figure: Figure) -> tuple[Item, ...]:
    """What of a figure is drawn where it is laid over another."""
    return tuple(item for item in figure.items if item.main)


def _dimensions(
    levels: Mapping[str, list[Dim]], place: Place, edge: Box, names: Mapping[str, str]
) -> list[str]:
    body: list[str] = []
    for side, some in levels.items():
        for i, dim in enumerate(some):
            away = LEVEL * (i + 1) - 4
            at = {
                LEFT: edge[0] - away,
                RIGHT: edge[2] + away,
                ABOVE: edge[1] - away + 6,
                BELOW: edge[3] + away + 2,
            }[side]
            body.append(dimension(dim, place, at, names.get(dim.size, dim.size)))
    return body


def dimension(dim: Dim, place: Place, at: float, letter: str) -> str:
    """Extension lines, dimension line with heads, and the letter."""
    a, b = place.at(dim.a), place.at(dim.b)
    upright = dim.side in (LEFT, RIGHT)
    along: Callable[[float, float], Point] = (
        (lambda t, off: (at + off, t)) if upright else (lambda t, off: (t, at + off))
    )
    i = 1 if upright else 0
    out = 3.0 if dim.side in (RIGHT, BELOW) else -3.0
    low, high = sorted((a[i], b[i]))
    parts = [run("narrow", [_shifted(p, dim.side, out), along(p[i], out)]) for p in (a, b)]
    inside = high - low >= 3 * ARROW
    reach = 0.0 if inside else ARROW + 5
    parts.append(run("narrow", [along(low - reach, 0), along(high + reach, 0)]))
    way = 1 if inside else -1
    parts += [_head(along, low, way), _head(along, high, -way)]
    if upright:
        parts.append(letters(at - 4, (low + high) / 2 + 5, letter, "end"))
    elif inside and high - low > text_width(letter) + 4:
        parts.append(letters((low + high) / 2, at - 4, letter))
    else:
        parts.append(letters(high + 5, at - 4, letter, "start"))
    broken = ' data-broken="1"' if dim.broken else ""
    span = f'data-from="{figured(low)}" data-to="{figured(high)}"'
    return f'<g class="xd-dim" data-size="{clean(dim.size)}" {span}{broken}>{"".join(parts)}</g>'


def _shifted(p: Point, side: str, out: float) -> Point:
    return (p[0] + out / 2, p[1]) if side in (LEFT, RIGHT) else (p[0], p[1] + out / 2)


def _head(along: Callable[[float, float], Point], t: float, way: int) -> str:
    tip, one, two = along(t, 0), along(t + way * ARROW, 1.8), along(t + way * ARROW, -1.8)
    return run("narrow", [tip, one, two], True, ' fill="currentColor"')


def _differences(
    figure: Figure,
    over: Figure,
    place: Place,
    names: Mapping[str, str],
    drawn_before: Sequence[str],
) -> list[str]:
    """A short dimension from edge to edge wherever both figures have a size and it differs."""
    others = {dim.size: dim for dim in over.dims}
    body = list(drawn_before)
    for dim in figure.dims:
        other = others.get(dim.size)
        if other is None:
            continue
        i = 1 if dim.side in (LEFT, RIGHT) else 0
        a, b = place.at(dim.b)[i], place.at(other.b)[i]
        if abs(a - b) < 2:
            continue
        body.append(_gap(dim, place, (a, b), names, body))
    return body


def _gap(
    dim: Dim, place: Place, ends: tuple[float, float], names: Mapping[str, str], body: Sequence[str]
) -> str:
    x, y = place.at(dim.b)
    low, high = sorted(ends)
    upright = dim.side in (LEFT, RIGHT)
    out = 5.0 if dim.side in (RIGHT, BELOW) else -5.0
    fixed = (x if upright else y) + out
    along: Callable[[float, float], Point] = (
        (lambda t, off: (fixed + off, t)) if upright else (lambda t, off: (t, fixed + off))
    )
    parts = [run("over", [along(t, -4), along(t, 4)]) for t in (low, high)]
    parts += [
        run("over", [along(low, 0), along(high, 0)]),
        _head(along, low, -1),
        _head(along, high, 1),
    ]
    text = f"Δ{names.get(dim.size, dim.size)}"
    side = "start" if out > 0 else "end"
    places = (
        [(fixed, low - ARROW - 4, side), (fixed, high + ARROW + FONT, side)]
        if upright
        else [(high + ARROW + 3, fixed + 10, "start"), (low - ARROW - 3, fixed + 10, "end")]
    )
    for tx, ty, anchor in places:
        said = letters(tx, ty, text, anchor, "over")
        if free(said, body):
            parts.append(said)
            break
    name = clean(names.get(dim.size, dim.size))
    return f'<g class="xd-over" data-difference="{name}">{"".join(parts)}</g>'


def _scale_bar(unit: float, foot: float) -> list[str]:
    """A bar of a whole length, true however large the drawing is shown."""
    most = 80 / unit
    ten = 10.0 ** math.floor(math.log10(most))
    long = max(s for s in (1, 2, 5) if s * ten <= most) * ten
    x = MARGIN
    return [
        '<g class="xd-bar">',
        run("narrow", [(x, foot - 4), (x, foot + 4)]),
        run("narrow", [(x, foot), (x + long * unit, foot)]),
        run("narrow", [(x + long * unit, foot - 4), (x + long * unit, foot + 4)]),
        letters(x + long * unit + 6, foot + 5, f"{long:g} mm", "start"),
        "</g>",
    ]
