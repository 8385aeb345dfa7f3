"""A reliability diagram as SVG: stated odds against how often they came true."""

from __future__ import annotations

from collections.abc import Mapping
from html import escape

from scripts.benches.reliability import Told, bins

SIDE = 300
EDGE = 50


def reliability_svg(panels: Mapping[str, Told]) -> str:
    """One square panel beside another, each with its diagonal, points and 95 % intervals."""
    width, height = len(panels) * (SIDE + 2 * EDGE), SIDE + 2 * EDGE
    drawn = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}" '
        f'width="{width}" height="{height}" font-family="sans-serif" font-size="12">',
        f'<rect width="{width}" height="{height}" fill="white"/>',
    ]
    for at, (title, told) in enumerate(panels.items()):
        drawn += _panel(EDGE + at * (SIDE + 2 * EDGE), title, told)
    return "\n".join([*drawn, "</svg>", ""])


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
