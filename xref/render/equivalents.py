"""Equivalents as plain text: the grade, what differs, the caution."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby
from shlex import quote

from xref.render.lines import cautioned, wrapped
from xref.services.fit.differences import LOAD_NOTE, UNKNOWN, Difference
from xref.services.fit.equivalents import Equivalent, Equivalents
from xref.services.parts.cautions import DEFER

TITLES = {
    "tried, fits": "Tried, and fits",
    "same designation": "The same thing, written otherwise",
    "stated": "Stated to serve",
    "same boundary dimensions": "The same boundary dimensions",
    "with work": "With work",
    "tried, does not fit": "Tried, and does NOT fit",
    "near miss": "Near misses: these do NOT fit",
}


def equivalents_text(found: Equivalents, width: int) -> str:
    """Every line by grade, best first, then the cautions once."""
    what = found.part.number if found.part else "these sizes"
    lines = _now(found, width)
    if not found.found:
        lines += [line for note in found.notes for line in wrapped(note, width, "")]
        head = f"Nothing else on record does for {what}."
        return "\n".join([head, *lines, *cautioned(found.cautions, width)])
    said: set[str] = set()
    for grade, members in groupby(found.found, key=lambda e: e.grade):
        lines += ["", f"{TITLES[grade]}:"]
        if grade == "near miss":
            lines += _misses(list(members), width)
            continue
        for line in members:
            lines += _line(line, width, said)
    if found.left_out:
        lines += ["", f"… {found.left_out} more."]
    lines += [line for note in found.notes for line in ("", *wrapped(note, width, ""))]
    lines += cautioned((text for e in found.found for text in e.cautions), width) or [""]
    lines += wrapped(DEFER, width, "")
    return "\n".join(lines).lstrip("\n")


def _now(found: Equivalents, width: int) -> list[str]:
    """What the part itself is sold as now, where that is another number, or depends on a serial."""
    if not found.part or not found.order:
        return []
    if found.order.open:
        told = f"What {found.part.number} is sold as now depends on the serial: {found.order.open}"
        how = f"Ask with xref equivalents {quote(found.part.number)} --machine NAME."
        lines = wrapped(f"{told}.", width, "")
        return lines if found.machine else [*lines, *wrapped(how, width, "")]
    if found.order.number == found.part.number:
        return []
    told = f"{found.part.number} is sold as {found.order.ask} now."
    return wrapped(told, width)


def _line(line: Equivalent, width: int, said: set[str]) -> list[str]:
    """One line with what differs; what the same size does not mean is ``said`` once."""
    whose = f"  ({line.maker})" if line.maker else ""
    way = (
        "" if line.both or line.grade in ("near miss", "tried, does not fit") else ", one way only"
    )
    head = f"{line.number}  {line.what}{whose}{way}"
    rows = wrapped(head, width, "      ", "  ")
    if line.order and line.order.open:
        rows += wrapped(f"sold as: {line.order.open}", width, "      ", "    - ")
    elif line.order and line.order.number != line.number:
        rows += wrapped(f"sold as {line.order.ask} now", width, "      ", "    - ")
    for difference in line.differences:
        again = difference.note == LOAD_NOTE and LOAD_NOTE in said
        rows += wrapped(_difference(difference, again), width, "      ", "    - ")
        said.add(difference.note)
    return rows


def _misses(members: Sequence[Equivalent], width: int) -> list[str]:
    """The parts by what keeps them from fitting: that is all there is to know of them."""
    why: dict[tuple[str, ...], list[str]] = {}
    for line in members:
        known = [d for d in line.differences if UNKNOWN not in (d.this, d.that)]
        misses = [d for d in known if d.note.endswith("does not fit")]
        told = tuple(_difference(d, False) for d in misses or known or line.differences)
        why.setdefault(told, []).append(line.number)
    rows = []
    for reasons, numbers in why.items():
        rows += wrapped(", ".join(numbers), width, "      ", "  ")
        for reason in reasons:
            rows += wrapped(reason, width, "      ", "    - ")
    return rows


def _difference(told: Difference, again: bool) -> str:
    if told.about in ("number", "interchange", "tried"):
        return told.note
    if told.this == told.that:
        text = f"{told.about}: {told.this}"
    else:
        text = f"{told.about}: {told.this} here, {told.that} there"
    return text if again or not told.note else f"{text}; {told.note}"
