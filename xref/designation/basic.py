"""The basic number that begins a bearing designation, before its suffixes are read."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from xref.designation.reading import Feature
from xref.domain.number import plain
from xref.domain.size import NM_PER_MM

GAP = r"[\s\-_.·]*"
"""What may stand between the letters and the digits of one number, or nothing."""

_LOOK_ALIKES = str.maketrans("АВСЕНКМОРТХ", "ABCEHKMOPTX") | {
    ord("×"): "X",
    ord("*"): "X",
    **dict.fromkeys(map(ord, "‐‑‒–—−"), "-"),
    ord("⁄"): "/",
    ord("∕"): "/",
}
"""Cyrillic capitals that look like Latin ones, and the signs that stand for x, - and /."""

_HALVES = ((" 1/2", "½"), (" 1/4", "¼"), (" 3/4", "¾"))


@dataclass(frozen=True, slots=True)
class Basic:
    """A basic number found at the beginning of a text; ``rest`` is what stands after it.

    The fields of the same name are those of Reading. ``whole``: the reading is too weak to stand
    beside anything that is not understood. ``takes_suffix`` False: nothing may follow it at all.
    """

    designation: str
    type: str
    rest: str
    numbering: str = "ISO"
    standard: str = "DIN 623-1"
    sizes: Mapping[str, int] = field(default_factory=dict)
    dimension_series: str = ""
    aliases: tuple[str, ...] = ()
    features: tuple[Feature, ...] = ()
    prefix: str = ""
    unknown: tuple[str, ...] = ()
    note: str = ""
    needs_table: bool = False
    whole: bool = False
    takes_suffix: bool = True
    of: str = ""


Matcher = Callable[[str], tuple[Basic, ...]]
"""Takes cleaned text and returns the basic numbers it may begin with, most usual first."""


def cleaned(text: str) -> str:
    """``text`` in upper case, with characters that only look different made plain.

    Raises InputError for empty, over-long or unprintable text.
    """
    shown = plain(text).translate(_LOOK_ALIKES)
    for words, sign in _HALVES:
        shown = re.sub(rf"{words}(?!\d)", sign, shown)
    return shown.strip(" \t-_.,;:")


def mm(number: str | float) -> int:
    """Whole or half millimetres in nanometres."""
    return round(float(number) * NM_PER_MM)
