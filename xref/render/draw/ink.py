"""Lines, letters and hatching as SVG text, in units of the sheet."""

from __future__ import annotations

import hashlib
import math
import re
from collections.abc import Sequence
from dataclasses import dataclass
from html import escape, unescape

from xref.render.draw.figure import Item, Label, Point, Round

WIDE = 320
"""Units across the sheet; one is a CSS pixel, 1/96 inch, where the sheet has its own width."""
TALLEST = 260
MARGIN = 12
LEVEL = 28
"""Units from one dimension line to the next."""
FONT = 15
MM = 96 / 25.4
"""Units in a millimetre of paper at the sheet's own width (CSS Values 3)."""
STEPS = (1, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10)
"""Scales within ten; ISO 5455 has 1, 2, 5 and 10, the rest fill a narrow sheet better."""
ARROW = 7.0
STROKES = {
    "edge": 'stroke-width="1.8"',
    "narrow": 'stroke-width="0.9"',
    "hidden": 'stroke-width="0.9" stroke-dasharray="5 3"',
    "centre": 'stroke-width="0.9" stroke-dasharray="12 3 2 3"',
    "over": 'stroke-width="1.4" stroke-dasharray="6 3"',
}


def clean(text: str) -> str:
    """``text`` fit for XML: escaped, and without the characters XML cannot carry."""
    kept = "".join(c if _carried(c) else "\ufffd" for c in text)
    return escape(kept)


def _carried(c: str) -> bool:
    return (
        c in "\t\n"
        or (" " <= c < "\ud800" and not "\x7f" <= c <= "\x9f")
        or ("\ue000" <= c <= "\ufffd" or c >= "\U00010000")
    )


def figured(value: float) -> str:
    """A coordinate in at most two decimals."""
    return (
        f"{value:.2f}".rstrip("0").rstrip(".").replace("-0", "0")
        if abs(value) < 0.005
        else (f"{value:.2f}".rstrip("0").rstrip("."))
    )


def run(kind: str, points: list[Point], closed: bool = False, more: str = "") -> str:
    """A line of a kind through points of the sheet."""
    at = " ".join(f"{figured(x)} {figured(y)}" for x, y in points)
    fill = "" if "fill=" in more else ' fill="none"'
    return (
        f'<path class="xd-{kind}" d="M{at}{"z" if closed else ""}"{fill} stroke="currentColor" '
        f'stroke-linejoin="round" {STROKES[kind]}{more}/>'
    )


def letters(x: float, y: float, text: str, anchor: str = "middle", kind: str = "text") -> str:
    """Text with its foot at ``y``."""
    return (
        f'<text class="xd-{kind}" x="{figured(x)}" y="{figured(y)}" font-size="{FONT}" '
        f'font-family="sans-serif" fill="currentColor" text-anchor="{anchor}">{clean(text)}</text>'
    )


def text_width(text: str, size: float = FONT) -> float:
    """Units that ``text`` takes at most, judged by a wide sans-serif."""
    return 0.62 * size * len(text)


def wrap(body: list[str], height: float, title: str, description: str, ident: str = "") -> str:
    """The SVG element around ``body``; its ids are its own, or begin with ``ident``."""
    inner = "".join(body)
    name = (
        ident
        or "xd"
        + hashlib.sha256(f"{title}\n{description}\n{inner}".encode("utf-8", "replace")).hexdigest()[
            :10
        ]
    )
    tall = figured(math.ceil(height))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="xd" width="{WIDE}" height="{tall}" '
        f'viewBox="0 0 {WIDE} {tall}" role="img" aria-labelledby="{name}-t {name}-d">'
        f'<title id="{name}-t">{clean(title)}</title>'
        f'<desc id="{name}-d">{clean(description)}</desc>{inner}</svg>'
    )


def nice_scale(most: float) -> float:
    """The largest scale of the steps that is not over ``most`` (paper to part)."""
    if most >= 1:
        ten = 10.0 ** math.floor(math.log10(most))
        return max(s for s in STEPS if s * ten <= most * (1 + 1e-9)) * ten
    ten = 10.0 ** math.floor(math.log10(1 / most))
    over = [s for s in STEPS if s * ten >= 1 / most * (1 - 1e-9)]
    return 1 / (min(over) * ten)


def scale_text(scale: float) -> str:
    """``2.5 : 1`` or ``1 : 4``."""
    return f"{scale:g} : 1" if scale >= 1 else f"1 : {round(1 / scale, 4):g}"


Box = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True)
class Place:
    """Where a figure stands on the sheet: units a millimetre, and the origin."""

    unit: float
    x: float
    y: float

    def at(self, p: Point) -> Point:
        """A point of the figure on the sheet."""
        return self.x + p[0] * self.unit, self.y - p[1] * self.unit


def drawn(item: Item, place: Place, kind: str = "") -> str:
    """One item on the sheet."""
    if isinstance(item, Label):
        x, y = place.at(item.at)
        return letters(x, y + FONT / 3, item.text)
    wanted = kind or item.kind
    if isinstance(item, Round):
        x, y = place.at(item.centre)
        return (
            f'<circle class="xd-{wanted}" cx="{figured(x)}" cy="{figured(y)}" '
            f'r="{figured(item.radius * place.unit)}" fill="none" stroke="currentColor" '
            f"{STROKES[wanted]}/>"
        )
    points = [place.at(p) for p in item.points]
    if item.hatch and not kind:
        return hatched(points, item.hatch) + run(wanted, points, item.closed)
    return run(wanted, points, item.closed)


HATCH = 6.0
"""Units between hatching lines."""


def hatched(points: list[Point], way: int) -> str:
    """Lines at 45° inside an outline, leaning to the right for way 1 and to the left for 2.

    They are cut at the outline itself, so that nothing depends on a renderer's clip.
    """
    lean = 1 if way == 1 else -1
    turned = [((x + lean * y), (lean * y - x)) for x, y in points]
    low, high = min(c for c, _ in turned), max(c for c, _ in turned)
    step = HATCH * math.sqrt(2)
    step = max(step, (high - low) / 200)
    pieces = []
    for i in range(math.floor(low / step), math.ceil(high / step) + 1):
        c = (i + 0.5) * step
        cuts = _cuts(turned, c)
        for a, b in zip(cuts[::2], cuts[1::2], strict=False):
            pieces.append(f"M{_back(c, a, lean)}L{_back(c, b, lean)}")
    if not pieces:
        return ""
    return (
        f'<path class="xd-narrow xd-hatch" d="{"".join(pieces)}" fill="none" stroke="currentColor" '
        'stroke-width="0.7"/>'
    )


def _cuts(turned: list[Point], c: float) -> list[float]:
    found = []
    for (c0, t0), (c1, t1) in zip(turned, turned[1:] + turned[:1], strict=True):
        if (c0 <= c) != (c1 <= c):
            found.append(t0 + (t1 - t0) * (c - c0) / (c1 - c0))
    return sorted(found)


def _back(c: float, t: float, lean: int) -> str:
    return f"{figured((c - t) / 2)} {figured(lean * (c + t) / 2)}"


_TEXT = re.compile(r'<text[^>]* x="([^"]*)" y="([^"]*)"[^>]* text-anchor="(\w+)">([^<]*)</text>')


def text_boxes(body: Sequence[str]) -> list[Box]:
    """What the texts cover at most, in units."""
    found = []
    for x, y, anchor, text in _TEXT.findall("".join(body)):
        wide = text_width(unescape(text)) + 2
        left = float(x) - {"start": 1.0, "middle": wide / 2, "end": wide - 1}[anchor]
        found.append((left, float(y) - 0.8 * FONT, left + wide, float(y) + 0.25 * FONT))
    return found


def free(said: str, body: Sequence[str]) -> bool:
    """Whether a text lies on the sheet and on no other."""
    ((x0, y0, x1, y1),) = text_boxes([said])
    return (
        x0 >= 0
        and y0 >= 0
        and x1 <= WIDE
        and not any(x0 < b[2] and b[0] < x1 and y0 < b[3] and b[1] < y1 for b in text_boxes(body))
    )
