"""Sheets of labels for the bench: a code that opens the item, its number, and where it came off."""

from __future__ import annotations

import csv
import textwrap
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from html import escape
from importlib.resources import files

EDGE = 2.0
"""Millimetres left white at the edge of a label: printers stray by one. Judged."""
CHAR = 0.56
"""How wide a letter is, as a part of its height: the mean of plain upright faces. Judged."""
LEAST_TEXT = 2.6
"""Millimetres: smaller print is not read at arm's length. Judged."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """A sheet of labels, in millimetres."""

    name: str
    paper_width: float
    paper_height: float
    width: float
    height: float
    across: int
    down: int
    left: float
    top: float
    step_across: float
    step_down: float

    @property
    def count(self) -> int:
        """Labels on one sheet."""
        return self.across * self.down

    def corner(self, place: int) -> tuple[float, float]:
        """The upper left corner of the label at ``place``, counted from 0 along the rows."""
        row, column = divmod(place, self.across)
        return self.left + column * self.step_across, self.top + row * self.step_down


@dataclass(frozen=True, slots=True)
class Printer:
    """How a printer strays: millimetres to the right and down, and its scale (1 is true)."""

    right: float = 0.0
    down: float = 0.0
    scale: float = 1.0


@dataclass(frozen=True, slots=True)
class Label:
    """What stands on one label. ``code`` is the code's squares as a path, ``modules`` its width."""

    number: str
    place: str
    code: str
    modules: int


@cache
def sheets() -> tuple[Sheet, ...]:
    """Every sheet that can be printed, the commonest first, as the paper trade sells them.

    Common practice, no published source. ``top`` and ``left`` are the paper's margins.
    """
    text = files("xref.render").joinpath("labels.csv").read_text("utf-8")
    rows = csv.DictReader(text.splitlines())
    return tuple(
        Sheet(
            name=row["name"],
            across=int(row["across"]),
            down=int(row["down"]),
            **{
                name: float(row[name])
                for name in (
                    "paper_width",
                    "paper_height",
                    "width",
                    "height",
                    "left",
                    "top",
                    "step_across",
                    "step_down",
                )
            },
        )
        for row in rows
    )


def pages(sheet: Sheet, labels: Sequence[Label], first: int, printer: Printer) -> list[str]:
    """One drawing a page, as wide and high as the paper.

    ``first`` is how many labels of the first sheet are used already, 0 for a new one.
    """
    every = list(enumerate(labels, first))
    last = every[-1][0] // sheet.count if every else -1
    found = []
    for page in range(last + 1):
        here = [(place % sheet.count, one) for place, one in every if place // sheet.count == page]
        inner = "".join(_label(sheet, place, one) for place, one in here)
        found.append(_paper(sheet, printer, inner))
    return found


def trial(sheet: Sheet, printer: Printer) -> str:
    """A page to try the printer with: a line of 100 mm, and the edges of every label."""
    boxes = "".join(
        f'<rect x="{x:g}" y="{y:g}" width="{sheet.width:g}" height="{sheet.height:g}"/>'
        for x, y in map(sheet.corner, range(sheet.count))
    )
    # Through the middle of a row: along the edge of one it could not be told from it.
    middle = sheet.corner(sheet.down // 2 * sheet.across)[1] + sheet.height / 2
    x = sheet.paper_width / 2 - 50
    line = (
        f'<path class="measure" d="M{x:g} {middle - 3:g}v6M{x:g} {middle:g}h100M{x + 100:g} '
        f'{middle - 3:g}v6"/><text x="{x + 50:g}" y="{middle - 2:g}" font-size="4" '
        f'text-anchor="middle">100 mm</text>'
    )
    return _paper(sheet, printer, f'<g class="edges">{boxes}</g>{line}')


def _paper(sheet: Sheet, printer: Printer, inner: str) -> str:
    moved = f"translate({printer.right:g} {printer.down:g}) scale({printer.scale:g})"
    return (
        f'<svg class="paper" xmlns="http://www.w3.org/2000/svg" width="{sheet.paper_width:g}mm" '
        f'height="{sheet.paper_height:g}mm" '
        f'viewBox="0 0 {sheet.paper_width:g} {sheet.paper_height:g}"><g transform="{moved}">'
        f"{inner}</g></svg>"
    )


def _label(sheet: Sheet, place: int, label: Label) -> str:
    x, y = sheet.corner(place)
    side = min(sheet.height - 2 * EDGE, sheet.width * 0.45)
    down = y + (sheet.height - side) / 2
    start = x + EDGE + side + 1
    room = x + sheet.width - EDGE - start
    size = min(room / (CHAR * max(len(label.number), 2)), side * 0.45)
    told = (
        f'<g transform="translate({x + EDGE:g} {down:g}) scale({side / label.modules:.6f})">'
        f'<path d="{label.code}"/></g>'
        f'<text class="number" x="{start:g}" y="{down + size:.2f}" font-size="{size:.2f}">'
        f"{escape(label.number)}</text>"
    )
    lines = _lines(label.place, room, down + side - (down + size) - 1)
    height = max(LEAST_TEXT, min(3.5, side / 9))
    return told + "".join(
        f'<text x="{start:g}" y="{down + size + 1.5 + (row + 1) * height * 1.15:.2f}" '
        f'font-size="{height:.2f}">{escape(line)}</text>'
        for row, line in enumerate(lines)
    )


def _lines(text: str, room: float, below: float) -> Iterator[str]:
    """``text`` in as many lines as there is room for; what is left out is told by dots."""
    height = LEAST_TEXT
    width = max(4, int(room / (CHAR * max(height, 3.0))))
    most = max(1, int(below / (3.5 * 1.15)))
    return iter(textwrap.wrap(text, width, max_lines=most, placeholder=" …"))
