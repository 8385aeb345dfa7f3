"""What a bearing's own number says of its looks: shields, seals, snap-ring groove, flange."""

from __future__ import annotations

from functools import cache

from xref.designation.suffix import FROM_MEMORY, SUFFIXES
from xref.domain.part import Part
from xref.errors import InputError

VISIBLE = ("closure", "ring")
"""Groups of suffixes that can be seen from outside without a tool."""


@cache
def _groups() -> dict[str, str]:
    return {s.code: s.group for s in SUFFIXES if s.group in VISIBLE}


def visible_features(part: Part) -> dict[str, str]:
    """By group, what the suffixes of the part's number say; {} where it says nothing.

    A standard's row stands for every variant, and a number without suffixes says nothing: old
    books often leave them out. Nothing said is not the same as "open" or "no groove".
    """
    if part.is_standard or part.kind not in ("bearing", ""):
        return {}
    from xref.designation import bearing  # its patterns cost more than most answers

    try:
        readings = bearing.read(part.number)
    except InputError:
        return {}
    if not readings:
        return {}
    groups = _groups()
    return {
        groups[f.code]: f.meaning.removesuffix(FROM_MEMORY)
        for f in readings[0].features
        if f.code in groups
    }
