"""Serial ranges on an axis, with the machine's own serial and a donor's range."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from xref.domain.donor import PREFIX_APART, Axis, DonorRange, intervals
from xref.domain.machine import WORKS, Applicability, Machine
from xref.render.draw.figure import Drawing, Point
from xref.render.draw.ink import FONT, MARGIN, WIDE, hatched, letters, run, text_width, wrap

MOST_BARS = 40
"""Ranges that are drawn; the rest are counted and stand in the cells. Judged."""
LEVEL = 26
BAR = 12


@dataclass(frozen=True, slots=True)
class Bar:
    """One stretch of serials. ``low`` and ``high`` are None where open; ``donor``: hatched.

    ``fits`` False is a stretch where it is on record that the part does not fit.
    """

    name: str
    low: float | None
    high: float | None
    donor: bool = False
    fits: bool = True


@dataclass(frozen=True, slots=True)
class Panel:
    """One axis: what is counted, the prefix of its serials, its bars, and the machine's own."""

    title: str
    prefix: str
    bars: tuple[Bar, ...]
    own: float | None = None
    own_text: str = ""


def draw_ranges(title: str, panels: Sequence[Panel], unread: int = 0, ident: str = "") -> Drawing:
    """Each panel's bars below its own axis; ``cells`` name the numbers beside the bars.

    ``unread`` are ranges that cannot be drawn since their text was not understood.
    """
    body: list[str] = []
    y = float(MARGIN)
    cells: list[tuple[str, ...]] = [("", "what", "model and serials", "from", "to")]
    for panel in panels:
        first = len(cells)
        for i, bar in enumerate(panel.bars):
            cells.append(_cells(str(first + i), panel, bar))
        some, y = _panel(panel, first, y)
        body += some
    if not panels:
        body.append(letters(WIDE / 2, y + 24, "no ranges"))
        y += 40
    description = _described(panels, unread)
    return Drawing(
        wrap(body, y + 4, title, description, ident), title, description, cells=tuple(cells)
    )


def _cells(label: str, panel: Panel, bar: Bar) -> tuple[str, ...]:
    what = f"{bar.name} (donor)" if bar.donor else bar.name
    if not bar.fits:
        what += " (does not fit)"
    ends = ("open" if v is None else f"{panel.prefix}{v:.0f}" for v in (bar.low, bar.high))
    return (label, what, panel.title, *ends)


def _described(panels: Sequence[Panel], unread: int) -> str:
    count = sum(len(p.bars) for p in panels)
    said = [f"{count} range{'' if count == 1 else 's'} of serials, an open end with an arrow."]
    for panel in panels:
        if panel.own is not None:
            said.append(f"The upright line is {panel.own_text}.")
    if any(b.donor for p in panels for b in p.bars):
        said.append("The hatched range is the donor's.")
    if any(not b.fits for p in panels for b in p.bars):
        said.append("A dashed range is one where it does not fit.")
    if unread:
        said.append(f"{unread} more could not be read as serials.")
    left = sum(max(len(p.bars) - MOST_BARS, 0) for p in panels)
    if left:
        said.append(f"{left} more stand in the table only.")
    return " ".join(said)


def _panel(panel: Panel, first: int, y: float) -> tuple[list[str], float]:
    ends = [v for b in panel.bars for v in (b.low, b.high) if v is not None]
    if panel.own is not None:
        ends.append(panel.own)
    low, high = (min(ends), max(ends)) if ends else (0.0, 1.0)
    slack = (high - low) * 0.12 or 1.0
    low, high = low - slack, high + slack
    x0, x1 = MARGIN + 26.0, WIDE - MARGIN - 8.0

    def at(v: float) -> float:
        return x0 + (v - low) / (high - low) * (x1 - x0)

    body = [letters(MARGIN, y + FONT, shortened(panel.title, WIDE - 2 * MARGIN), "start")]
    y += FONT + 10
    top = y
    if panel.own is not None:
        text = shortened(panel.own_text, WIDE - 2 * MARGIN)
        half = text_width(text) / 2
        middle = min(max(at(panel.own), MARGIN + half), WIDE - MARGIN - half)
        body.append(letters(middle, y + FONT - 2, text, kind="own"))
        y += FONT + 4
        top = y
    shown = panel.bars[:MOST_BARS]
    for i, bar in enumerate(shown):
        middle_y = y + LEVEL / 2
        body.append(letters(MARGIN, middle_y + 5, str(first + i), "start"))
        body += _bar(bar, (x0, x1), at, middle_y)
        y += LEVEL
    body.append(run("narrow", [(x0, y + 4), (x1, y + 4)]))
    body += _ticks(panel, sorted(set(ends)), at, y + 4)
    if panel.own is not None:
        x = at(panel.own)
        body.append(f'<g class="xd-own">{run("edge", [(x, top), (x, y + 9)])}</g>')
    return body, y + 4 + FONT + 16


def shortened(text: str, room: float) -> str:
    """``text`` cut to what fits, with … where something is left out."""
    most = max(int(room / text_width("0")), 1)
    return text if len(text) <= most else f"{text[: most - 1]}…"


def _bar(bar: Bar, ends: tuple[float, float], at, y: float) -> list[str]:  # type: ignore[no-untyped-def]
    x0 = ends[0] if bar.low is None else at(bar.low)
    x1 = ends[1] if bar.high is None else at(bar.high)
    x1 = max(x1, x0 + 3)
    half = BAR / 2
    points: list[Point] = [(x0, y - half)]
    if bar.high is None:
        points += [(x1 - half, y - half), (x1, y), (x1 - half, y + half)]
    else:
        points += [(x1, y - half), (x1, y + half)]
    points.append((x0, y + half))
    if bar.low is None:
        points[0], points[-1] = (x0 + half, y - half), (x0 + half, y + half)
        points.append((x0, y))
    kind = "edge" if bar.fits else "hidden"
    drawn = run(kind, points, True)
    return [hatched(points, 1), drawn] if bar.donor else [drawn]


def _ticks(panel: Panel, ends: list[float], at, y: float) -> list[str]:  # type: ignore[no-untyped-def]
    """Marks at every end, and the number at as many as have room."""
    body: list[str] = []
    taken = -math.inf
    last = ends[-1] if ends else None
    edge_of_last = WIDE - MARGIN - text_width(_place(panel, last)) - 6 if last is not None else 0
    for v in ends:
        x = at(v)
        body.append(run("narrow", [(x, y - 4), (x, y + 4)]))
        text = _place(panel, v)
        half = text_width(text) / 2
        middle = min(max(x, MARGIN + half), WIDE - MARGIN - half)
        limit = math.inf if v == last else min(edge_of_last, at(last) - half - 6 if last else 0)
        if middle - half < taken + 6 or middle + half > limit:
            continue
        body.append(letters(middle, y + FONT + 5, text))
        taken = middle + half
    return body


def _place(panel: Panel, v: float | None) -> str:
    return shortened("" if v is None else f"{panel.prefix}{v:.0f}", 130)


def panels_of(
    entries: Sequence[tuple[str, Applicability]],
    machine: Machine | None = None,
    donor: Sequence[DonorRange] = (),
) -> tuple[tuple[Panel, ...], int]:
    """The panels for ranges of parts by number, one for each model, component and prefix.

    And how many ranges were not understood. With a machine, its model's panels alone.
    """
    wanted = [(n, e) for n, e in entries if machine is None or e.model == machine.model]
    unread = sum(1 for _, e in wanted if e.serials.unread)
    panels = []
    for model, component in dict.fromkeys((e.model, e.component) for _, e in wanted):
        held = [(n, e) for n, e in wanted if (e.model, e.component) == (model, component)]
        for prefix in _prefixes(held, machine, component):
            panel = _panel_of(held, prefix, machine, donor)
            if panel.bars:
                panels.append(panel)
    return tuple(panels), unread


def _prefixes(
    held: Sequence[tuple[str, Applicability]], machine: Machine | None, component: str
) -> list[str]:
    found = [r.prefix for _, e in held for r in e.serials.ranges if r.low or r.high]
    serial = machine.serial_of(component) if machine else None
    if serial is not None:
        found.insert(0, serial.prefix)
    return list(dict.fromkeys(found)) or [""]


def _panel_of(
    held: Sequence[tuple[str, Applicability]],
    prefix: str,
    machine: Machine | None,
    donor: Sequence[DonorRange],
) -> Panel:
    model, component = held[0][1].model, held[0][1].component
    axis = Axis(model, component, (prefix,))
    bars = [
        Bar(number, _end(low), _end(high), fits=entry.fits)
        for number, entry in held
        for low, high in intervals(entry.serials, axis)
    ]
    bars += [bar for found in donor if (bar := _donor(found, axis)) is not None]
    serial = machine.serial_of(component) if machine else None
    own = serial if serial is not None and serial.prefix == prefix else None
    counted = "" if component == WORKS else f", {component} serials"
    return Panel(
        f"{model}{counted}",
        prefix,
        tuple(bars),
        float(own.number) if own else None,
        f"{machine.name}: {own}" if machine and own else "",
    )


def _end(place: float) -> float | None:
    return None if math.isinf(place) else place


def _donor(found: DonorRange, axis: Axis) -> Bar | None:
    """The donor's stretch as far as it lies in the axis's one prefix."""
    prefix = axis.prefixes[0]
    if (found.axis.model, found.axis.component) != (axis.model, axis.component):
        return None
    if prefix not in found.axis.prefixes:
        return None
    start = found.axis.prefixes.index(prefix) * PREFIX_APART
    low, high = found.low - start, found.high - start
    if low >= PREFIX_APART or high < 0:
        return None
    name = " + ".join(found.supported_by)
    return Bar(
        name,
        None if low < 0 else _end(low),
        None if high >= PREFIX_APART else _end(high),
        donor=True,
    )
