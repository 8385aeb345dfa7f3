"""Spanner sizes as they are stamped and said: ``1/2W``, ``7/16 BS``, ``19AF``, ``3/4 AF``, ``2BA``.

A Whitworth spanner is named by the thread it was made for, others by what they measure between the
jaws. Common practice; W for the large hexagon and BS for the small one is that of BS spanners since
1954 (BS 192, from memory).
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from xref.designation.callout import FRACTION, dotted, length, reading
from xref.designation.reading import Reading
from xref.domain.number import plain

TYPE = "spanner"

_INCH_UP_TO = 3
"""A whole number without a unit is inches up to this (1 AF is 25.4 mm), millimetres above.
Judged: no spanner for a millimetre nut is that small."""

_FLATS = re.compile(
    rf"(?:(?P<before>AF|A/F)\s*)?(?P<size>{FRACTION}|\d{{1,3}}(?:[.,]\d{{1,4}})?)\s*"
    r"(?P<unit>MM|INCH|IN|\"|″)?\s*(?P<after>AF|A/F|ACROSS[ -]FLATS)?"
)
_MARK = rf"(?P<size>{FRACTION}|[1-3])\s*\"?\s*(?P<system>BSW|BSF|BS|WHITWORTH|WHIT|WW|W)"
_MARKED = re.compile(_MARK + r"(?![A-Z0-9])")
_BA = re.compile(r"(?P<size>\d{1,2})\s*BA")
_SPANNER_WORD = re.compile(r"\s*\b(?:SPANNER|WRENCH|SOCKET)\b\s*")

_HEXAGONS = {"W": ("large",), "BS": ("small",), "BSF": ("small",), "BSW": ("large", "small")}
"""The hexagons each letter names: the large one of BS 190, the small one of BS 1083."""

_AS_W = {"WHITWORTH": "BSW", "WHIT": "BSW", "WW": "W"}


@dataclass(frozen=True, slots=True)
class Hexagon:
    """A hexagon that is named by its thread: its size ("1/2", "2") and "large", "small" or "BA"."""

    size: str
    which: str

    @property
    def text(self) -> str:
        """As it is said: "1/2 W", "7/16 BS", "2 BA"."""
        return f"{self.size} {({'large': 'W', 'small': 'BS'}).get(self.which, self.which)}"


def hexagons(text: str) -> tuple[Hexagon, ...]:
    """The hexagons that the marks in ``text`` name, in order; () where a piece of it is none.

    Raises InputError as ``plain`` does.
    """
    shown = _SPANNER_WORD.sub("", plain(text).upper())
    if found := _BA.fullmatch(shown):
        return (Hexagon(str(int(found["size"])), "BA"),)
    rest = _MARKED.sub(" ", shown)
    if rest.strip(" /-,+"):
        return ()
    named = []
    for mark in _MARKED.finditer(shown):
        size = re.sub(r"^(\d+)-", r"\1 ", mark["size"])
        system = _AS_W.get(mark["system"], mark["system"])
        named += [Hexagon(size, which) for which in _HEXAGONS[system]]
    return tuple(dict.fromkeys(named))


def across_flats(text: str) -> int | None:
    """The size across flats that ``text`` gives outright ("19AF"), in nanometres; None where none.

    Raises InputError as ``plain`` does.
    """
    found = _flats(text)
    return length(dotted(found["size"]), _unit(found)) if found else None


def _flats(text: str) -> re.Match[str] | None:
    found = _FLATS.fullmatch(_SPANNER_WORD.sub("", plain(text).upper()))
    return found if found and (found["before"] or found["after"]) else None


def _unit(found: re.Match[str]) -> str:
    if found["unit"]:
        return "mm" if found["unit"] == "MM" else "inch"
    size = dotted(found["size"])
    whole = "/" not in size and float(size) > _INCH_UP_TO
    return "mm" if whole else "inch"


def read(text: str) -> tuple[Reading, ...]:
    """The spanners that ``text`` may name; () where none. Raises InputError as ``plain`` does.

    One named by its thread has no size here: the table gives it.
    """
    found, flats = _flats(text), across_flats(text)
    if found and flats:
        unit = {"mm": "mm", "inch": "in"}[_unit(found)]
        return (_reading(f"{dotted(found['size'])} {unit} AF", {"across-flats": flats}),)
    return tuple(_reading(hexagon.text, {}) for hexagon in hexagons(text))


def _reading(designation: str, sizes: dict[str, int]) -> Reading:
    return reading(designation, ("other", TYPE, ""), sizes=sizes, certain=bool(sizes))
