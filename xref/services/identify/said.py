"""What the suffixes of a stamp say of the bearing it names: for the counter, who asks for it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from xref.domain.mark import Mark
from xref.domain.number import folded
from xref.domain.part import Part
from xref.errors import XrefError
from xref.services.fit.counter import BESIDES, SEEN_AS


def said_by_marks(marks: Sequence[Mark], part: Part) -> Mapping[str, str]:
    """By what a counter asks ("seals or shields", "clearance"), what a legible mark says of the
    standard bearing it names; all else that it says under BESIDES. {} where it says nothing."""
    if not part.is_standard or part.kind != "bearing":
        return {}
    names = {folded(part.number), *(folded(s.text) for s in part.spellings if s.role != "mark")}
    told: dict[str, list[str]] = {}
    for mark in marks:
        if mark.turned or not mark.certain or folded(mark.text) in names:
            continue
        for group, text in _features(mark.text, names):
            told.setdefault(group, []).append(text)
    return {group: "; ".join(dict.fromkeys(texts)) for group, texts in told.items()}


def _features(text: str, names: set[str]) -> list[tuple[str, str]]:
    """What is asked and what the suffixes of ``text`` say, where it reads as one of ``names``."""
    # Their patterns cost more than a search, and most marks are numbers without suffixes.
    from xref.designation.suffix import SUFFIXES
    from xref.services.decode.decode import decode

    try:
        readings = decode(text).readings
    except XrefError:
        return []
    groups = {suffix.code: suffix.group for suffix in SUFFIXES}
    for reading in readings:
        if folded(reading.designation) in names:
            return [
                (SEEN_AS.get(groups.get(f.code, ""), BESIDES), f"{f.code}, {f.meaning}")
                for f in reading.features
            ]
    return []
