"""Diagrams as SVG: stated odds against how often they came true, and growth with the store."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from html import escape

from scripts.benches.reliability import Told, bins

SIDE = 300
EDGE = 50


def reliability_svg(panels: Mapping[str, Told]) -> str:
    """One square panel beside another, each with its diagonal, points and 95 % intervals."""
    return _sheet([_panel(_left(at), *panel) for at, panel in enumerate(panels.items())])


def _left(at: int) -> int:
    """Where the panel begins that has so many before it."""
    return EDGE + at * (SIDE + 2 * EDGE)


def _sheet(panels: Sequence[list[str]]) -> str:
    width, height = len(panels) * (SIDE + 2 * EDGE), SIDE + 2 * EDGE
    head = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}" '
        f'width="{width}" height="{height}" font-family="sans-serif" font-size="12">',
        f'<rect width="{width}" height="{height}" fill="white"/>',
    ]
    return "\n".join([*head, *(line for panel in panels for line in panel), "</svg>", ""])


def _panel(left: int, title: str, told: Told) -> list[str]:
    def x(share: float) -> str:
        return f"{left + SIDE * share:.1f}"

    def y(share: float) -> str:
        return f"{EDGE + SIDE * (1 - share):.1f}"

    lines = [
        f'<text x="{x(0.5)}" y="30" text-anchor="middle">{escape(title)}, n={len(told)}</text>',
        f'<rect x="{left}" y="{EDGE}" width="{SIDE}" height="{SIDE}" fill="none" stroke="black"/>',
        f'<line x1="{x(0)}" y1="{y(0)}" x2="{x(1)}" y2="{y(1)}" stroke="grey" '
        'stroke-dasharray="4"/>',
        f'<text x="{x(0.5)}" y="{EDGE + SIDE + 35}" text-anchor="middle">odds stated</text>',
        f'<text x="{left - 30}" y="{y(0.5)}" text-anchor="middle" '
        f'transform="rotate(-90 {left - 30} {y(0.5)})">share true</text>',
    ]
    for tick in (0.0, 0.5, 1.0):
        lines.append(
            f'<text x="{x(tick)}" y="{EDGE + SIDE + 16}" text-anchor="middle">{tick:g}</text>'
        )
        lines.append(f'<text x="{left - 6}" y="{y(tick)}" text-anchor="end">{tick:g}</text>')
    for one in bins(told):
        low, high = one.interval
        lines.append(
            f'<line x1="{x(one.stated)}" y1="{y(low)}" x2="{x(one.stated)}" y2="{y(high)}" '
            'stroke="steelblue"/>'
        )
        lines.append(
            f'<circle cx="{x(one.stated)}" cy="{y(one.true)}" r="4" fill="steelblue">'
            f"<title>{one.n}</title></circle>"
        )
    return lines


@dataclass(frozen=True, slots=True)
class Line:
    """One figure at each size, all of them above 0."""

    title: str
    values: Sequence[float]


def growth_svg(sizes: Sequence[int], lines: Sequence[Line]) -> str:
    """One panel a figure on logarithmic axes, beside growth as fast as the store's (dashed)."""
    return _sheet([_growth(_left(at), sizes, line) for at, line in enumerate(lines)])


def _growth(left: int, sizes: Sequence[int], line: Line) -> list[str]:
    wide = max(math.log10(sizes[-1] / sizes[0]), 1.0)
    lowest = math.floor(math.log10(min(line.values)))
    tall = max(wide, math.log10(max(line.values)) - lowest)

    def x(size: float) -> float:
        return left + SIDE * math.log10(size / sizes[0]) / wide

    def y(value: float) -> float:
        return EDGE + SIDE * (1 - (math.log10(value) - lowest) / tall)

    path = " ".join(f"{x(s):.1f},{y(v):.1f}" for s, v in zip(sizes, line.values, strict=True))
    # Growth as fast as the store's, as far as it stays within the panel.
    room = min(wide, lowest + tall - math.log10(line.values[0]))
    far = 10**room
    lines = [
        f'<text x="{left + SIDE / 2}" y="30" text-anchor="middle">{escape(line.title)}</text>',
        f'<rect x="{left}" y="{EDGE}" width="{SIDE}" height="{SIDE}" fill="none" stroke="black"/>',
        f'<line x1="{x(sizes[0]):.1f}" y1="{y(line.values[0]):.1f}" '
        f'x2="{x(sizes[0] * far):.1f}" y2="{y(line.values[0] * far):.1f}" stroke="grey" '
        'stroke-dasharray="4"/>',
        f'<polyline points="{path}" fill="none" stroke="steelblue" stroke-width="2"/>',
        f'<text x="{left + SIDE / 2}" y="{EDGE + SIDE + 35}" text-anchor="middle">own parts</text>',
    ]
    for size, value in zip(sizes, line.values, strict=True):
        lines += [
            f'<circle cx="{x(size):.1f}" cy="{y(value):.1f}" r="4" fill="steelblue">'
            f"<title>{value:.3g}</title></circle>",
            f'<text x="{x(size):.1f}" y="{EDGE + SIDE + 16}" text-anchor="middle">{size:,}</text>',
        ]
    for power in range(lowest, math.floor(lowest + tall) + 1):
        lines.append(
            f'<text x="{left - 6}" y="{y(10.0**power):.1f}" text-anchor="end">'
            f"{10.0**power:g}</text>"
        )
    return lines
