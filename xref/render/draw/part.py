"""One part drawn to scale, with what was measured or another part laid over it."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field

from xref.domain.part import Part, is_plain_number
from xref.domain.size import NM_PER_MM
from xref.render.draw.drives import NOT_DRAWN, plain
from xref.render.draw.figure import Drawing, Figure, NotDrawable, Row, Sizes
from xref.render.draw.ink import MARGIN, WIDE, letters, scale_text, wrap
from xref.render.draw.kinds import letters_of, maker_of
from xref.render.draw.sheet import set_figure
from xref.render.draw.threads import flank_of

SMALLEST, LARGEST = 1e-3, 1e5
"""Millimetres that are drawn: from a micrometre to a hundred metres, as sizes are read."""


@dataclass(frozen=True, slots=True)
class Subject:
    """What is drawn: ``sizes`` by the names of xref.domain.size_names, in mm (counts as they are).

    ``closed`` is shield, shield1, seal, seal1, or "" for an open bearing. A size that is missing
    is unknown.
    """

    number: str
    kind: str
    type: str = ""
    words: str = ""
    sizes: Mapping[str, float] = field(default_factory=dict)
    closed: str = ""


def subject_of(part: Part, closed: str = "") -> Subject:
    """The part as it is drawn."""
    sizes = {name: _mm(name, held.value) for name, held in part.sizes.items()}
    return Subject(part.number, part.kind, part.type, part.words, sizes, closed)


def millimetres(sizes: Mapping[str, int]) -> dict[str, float]:
    """Sizes in nanometres (counts as they are) as a drawing takes them."""
    return {name: _mm(name, value) for name, value in sizes.items()}


def _mm(name: str, value: int) -> float:
    return float(value) if is_plain_number(name) else value / NM_PER_MM


def draw_part(
    subject: Subject, measured: Mapping[str, float] | None = None, ident: str = ""
) -> Drawing:
    """The part to scale; ``measured`` sizes (mm) are laid over dashed and stand in the rows.

    ``ident`` begins the ids of the drawing, which else are made of what it shows. Sizes that no
    such part can have are drawn as a plain box, and the description says why. Never raises.
    """
    other = _usable(measured or {})
    over = Subject(
        subject.number,
        subject.kind,
        subject.type,
        subject.words,
        {**subject.sizes, **other},
        subject.closed,
    )
    return _drawn(subject, (over, other, "measured") if other else None, ident)


def draw_both(one: Subject, other: Subject, ident: str = "") -> Drawing:
    """Two parts laid over each other, the second dashed, with their differences dimensioned."""
    return _drawn(one, (other, _usable(other.sizes), other.number), ident)


def _usable(sizes: Mapping[str, float]) -> dict[str, float]:
    return {n: v for n, v in sizes.items() if math.isfinite(v) and SMALLEST <= v <= LARGEST}


def _figure(subject: Subject) -> tuple[Figure, str]:
    """The shape, and why it is a plain box where it is one."""
    sizes = Sizes(_usable(subject.sizes))
    make = maker_of(subject.kind, subject.type, subject.words, subject.closed)
    try:
        return _sane(make(sizes)), ""
    except NotDrawable as why:
        known = {n: v for n, v in sizes.known.items() if not is_plain_number(n)}
        return _sane(plain(Sizes(known))), str(why)


def _sane(figure: Figure) -> Figure:
    x0, y0, x1, y1 = figure.bounds()
    if not all(map(math.isfinite, (x0, y0, x1, y1))):
        raise NotDrawable("its sizes make no shape")
    return figure


Over = tuple[Subject, dict[str, float], str]


def _drawn(subject: Subject, over: Over | None, ident: str) -> Drawing:
    figure, why = _figure(subject)
    second, second_why = _figure(over[0]) if over else (None, "")
    if second is not None and (second_why or why):
        second = None
    others = over[1] if over else {}
    asked = {**_usable(subject.sizes), **others}
    names = letters_of(asked)
    done = set_figure(figure, names, second, over is not None)
    title = f"{subject.number}: {_what(subject)}"
    if over is not None:
        title += " and what was measured" if over[2] == "measured" else f" and {over[2]}"
    laid = _laid(over, second, second_why)
    if second is not None and others and not any("data-difference" in piece for piece in done.body):
        laid += " They differ too little to see at this scale, or not at all: see the sizes."
    description = _described(figure, done.scale, why, laid)
    shown = {dim.size for dim in figure.dims}
    rows = tuple(
        Row(
            names[name] if name in shown else "",
            name,
            _usable(subject.sizes).get(name),
            others.get(name),
            is_plain_number(name),
        )
        for name in asked
    )
    if subject.kind == "thread" and not why:
        rows += (Row("", "flank angle", flank_of(f"{subject.type} {subject.words}"), None, True),)
    body = done.body
    if done.scale:
        body = [*body, letters(WIDE - MARGIN, done.height - 9, scale_text(done.scale), "end")]
    return Drawing(
        wrap(body, done.height, title, description, ident), title, description, rows, done.scale
    )


def _what(subject: Subject) -> str:
    return subject.words or subject.type or subject.kind or "part of no known kind"


def _laid(over: Over | None, second: Figure | None, why: str) -> str:
    if over is None:
        return ""
    what = "what was measured" if over[2] == "measured" else over[2]
    if second is not None:
        return f"{what[0].upper()}{what[1:]} is laid over it dashed."
    return f"{what[0].upper()}{what[1:]} is not laid over{f': {why}' if why else ''}."


def _described(figure: Figure, scale: float, why: str, laid: str) -> str:
    notes = [f"{note[0].upper()}{note[1:]}." for note in figure.notes]
    if why:
        notes = [f"{NOT_DRAWN[0].upper()}{NOT_DRAWN[1:]}: {why}."]
    if any(dim.broken for dim in figure.dims):
        notes.append("The length is shortened by a break.")
    head = f"{figure.view[0].upper()}{figure.view[1:]}"
    head += f", {scale_text(scale)} where the sheet is 85 mm wide." if scale else "."
    return " ".join([head, *notes, *([laid] if laid else [])])
