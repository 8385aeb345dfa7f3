"""A chain of supersession: a number a line, and an arrow a step along the lanes beside them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from xref.domain.supersession import CHOICE, ONE, SET, Step
from xref.render.draw.figure import Drawing, Point
from xref.render.draw.ink import FONT, MARGIN, WIDE, figured, letters, run, wrap
from xref.render.draw.ranges import shortened
from xref.services.links.trace import DEAD, Traced

SOLD, DEAD_END, MENTIONED, OLD = "sold now", "dead end", "only mentioned", "superseded"
MOST_NUMBERS = 60
"""Numbers that are drawn. Judged."""
MOST_LANES = 8
ROW = 30.0
LANE = 14.0
DOT = 5.0


@dataclass(frozen=True, slots=True)
class Number:
    """One number of the chain; ``state`` is one of the four above. ``own``: the one asked for."""

    number: str
    state: str = OLD
    own: bool = False


@dataclass(frozen=True, slots=True)
class Arrow:
    """One step, by places in the list of numbers. ``kind``: one, set (all) or choice (any).

    ``together`` are numbers that must be changed with it.
    """

    old: int
    news: tuple[int, ...]
    kind: str = ONE
    together: tuple[str, ...] = ()


def draw_chain(
    title: str, numbers: Sequence[Number], arrows: Sequence[Arrow], ident: str = ""
) -> Drawing:
    """The numbers in the order given, each step an arrow; a step's numbers have + or "or" before.

    A full dot is sold now, an open one superseded, a cross is a dead end, a question mark is only
    mentioned.
    """
    shown = list(numbers[:MOST_NUMBERS])
    kept = [a for a in arrows if max((a.old, *a.news)) < len(shown)]
    lanes = _lanes(kept)
    count = min(max(lanes, default=0) + 1, MOST_LANES)
    x = MARGIN + LANE * count + 12
    body: list[str] = []
    for lane, arrow in zip(lanes, kept, strict=True):
        body += _arrow(arrow, x, MARGIN + LANE * (count - 1 - lane % count) + 6)
    before = _before(kept)
    for i, number in enumerate(shown):
        body += _number(number, i, x, before.get(i, ""))
    height = MARGIN + ROW * max(len(shown), 1) + 4
    description = _described(numbers, arrows)
    cells = [("", "number", "state"), *_cells(numbers, before)]
    return Drawing(
        wrap(body, height, title, description, ident), title, description, cells=tuple(cells)
    )


def _before(arrows: Sequence[Arrow]) -> dict[int, str]:
    """The word before each new number of a set (+) or a choice (or), but the first of them."""
    found: dict[int, str] = {}
    for arrow in arrows:
        word = {SET: "+", CHOICE: "or"}.get(arrow.kind, "")
        for new in arrow.news[1:]:
            found.setdefault(new, word)
    return found


def _cells(numbers: Sequence[Number], before: dict[int, str]) -> list[tuple[str, ...]]:
    return [(before.get(i, ""), n.number, n.state) for i, n in enumerate(numbers)]


def _row(i: int) -> float:
    return MARGIN + ROW * i + ROW / 2


def _lanes(arrows: Sequence[Arrow]) -> list[int]:
    """The lane of each step: the first that is free between its rows."""
    busy: list[list[tuple[int, int]]] = []
    found = []
    for arrow in arrows:
        low, high = min((arrow.old, *arrow.news)), max((arrow.old, *arrow.news))
        free = (i for i, taken in enumerate(busy) if all(high <= a or low >= b for a, b in taken))
        lane = next(free, len(busy))
        if lane == len(busy):
            busy.append([])
        busy[lane].append((low, high))
        found.append(lane)
    return found


def _arrow(arrow: Arrow, x: float, lane: float) -> list[str]:
    start = _row(arrow.old) + 3
    ends = [_row(new) - 3 for new in arrow.news]
    kind = "hidden" if arrow.kind == CHOICE else "narrow"
    body = [
        run(kind, [(x - DOT, start), (lane, start)]),
        run(kind, [(lane, min(start, *ends)), (lane, max(start, *ends))]),
    ]
    for end in ends:
        tip: Point = (x - DOT - 2, end)
        body.append(run(kind, [(lane, end), tip]))
        head = [tip, (tip[0] - 7, end - 2.2), (tip[0] - 7, end + 2.2)]
        body.append(run("narrow", head, True, ' fill="currentColor"'))
    return [f'<g class="xd-step" data-kind="{arrow.kind}">{"".join(body)}</g>']


def _number(number: Number, i: int, x: float, before: str) -> list[str]:
    y = _row(i)
    left = x + 14
    text = f"{before} {number.number}".strip()
    fits = shortened(text, WIDE - MARGIN - left)
    kind = "own" if number.own else "text"
    body = [_dot(number.state, x, y), letters(left, y + FONT / 3, fits, "start", kind)]
    if number.own:
        wide = WIDE - MARGIN - left + 4
        frame: list[Point] = [
            (left - 5, y - 12),
            (left - 5 + wide, y - 12),
            (left - 5 + wide, y + 12),
            (left - 5, y + 12),
        ]
        body.append(f'<g class="xd-own">{run("narrow", frame, True)}</g>')
    return body


def _dot(state: str, x: float, y: float) -> str:
    if state == DEAD_END:
        a, b = DOT, -DOT
        return run("edge", [(x + b, y + b), (x + a, y + a)]) + run(
            "edge", [(x + b, y + a), (x + a, y + b)]
        )
    if state == MENTIONED:
        return letters(x, y + FONT / 3, "?")
    fill = "currentColor" if state == SOLD else "none"
    return (
        f'<circle class="xd-edge" cx="{figured(x)}" cy="{figured(y)}" r="{figured(DOT - 1)}" '
        f'fill="{fill}" stroke="currentColor" stroke-width="1.6"/>'
    )


def _described(numbers: Sequence[Number], arrows: Sequence[Arrow]) -> str:
    count = len(numbers)
    said = [f"{count} number{'' if count == 1 else 's'}; an arrow leads to what came later."]
    states = {n.state for n in numbers}
    told = {
        SOLD: "A full dot is sold now.",
        OLD: "An open dot is superseded.",
        DEAD_END: "A cross is a dead end.",
        MENTIONED: "A question mark is only mentioned.",
    }
    said += [text for state, text in told.items() if state in states]
    kinds = {a.kind for a in arrows}
    if SET in kinds:
        said.append("Numbers joined by + are needed all together.")
    if CHOICE in kinds:
        said.append("Of numbers joined by or, any one serves.")
    for arrow in arrows:
        if arrow.together:
            said.append(f"With {numbers[arrow.old].number} change {', '.join(arrow.together)}.")
    if count > MOST_NUMBERS:
        said.append(f"{count - MOST_NUMBERS} more stand in the table only.")
    return " ".join(said)


def chain_of(traced: Traced) -> tuple[list[Number], list[Arrow]]:
    """The numbers and steps of a chain, the earliest first."""
    steps = list({s.id: s for s in (*reversed(traced.earlier), *traced.later)}.values())
    order = _ordered(traced.part.id, steps)
    place = {ident: i for i, ident in enumerate(order)}
    sold = {end.part.id for end in traced.current}
    olds = {step.old for step in steps}
    numbers = [
        Number(
            traced.parts[ident].number,
            _state(traced, ident, ident in sold, ident in olds),
            ident == traced.part.id,
        )
        for ident in order
    ]
    arrows = [
        Arrow(
            place[step.old],
            tuple(place[i] for i, _ in step.news),
            step.kind,
            tuple(traced.parts[i].number for i in step.companions),
        )
        for step in steps
    ]
    return numbers, [a for a in arrows if a.news]


def _state(traced: Traced, ident: int, sold: bool, superseded: bool) -> str:
    status = traced.parts[ident].status
    if superseded and not sold:
        return OLD
    if status == "mentioned":
        return MENTIONED
    if status in DEAD:
        return DEAD_END
    return SOLD if sold else OLD if superseded else SOLD


def _ordered(start: int, steps: Sequence[Step]) -> list[int]:
    """Every number of the steps, each after what it replaces as far as circles allow."""
    waiting: dict[int, set[int]] = {start: set()}
    for step in steps:
        waiting.setdefault(step.old, set())
        for new, _ in step.news:
            waiting.setdefault(new, set()).add(step.old)
    order: list[int] = []
    done: set[int] = set()
    while waiting:
        ready = next((n for n, olds in waiting.items() if olds <= done), next(iter(waiting)))
        del waiting[ready]
        done.add(ready)
        order.append(ready)
    return order
