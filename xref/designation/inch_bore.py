"""An inch bore in a metric ball bearing: ``6203-10`` and ``6203-5/8`` have 5/8 in instead of 17 mm.

Common practice, no published source: behind the metric number stands the bore in sixteenths of an
inch or as a fraction; outside diameter and width stay those of the metric number.
"""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction

from xref.designation.basic import Basic
from xref.designation.reading import PRACTICE, Feature
from xref.domain.size import NM_PER_INCH, inch_text, short_mm

_TYPES = ("deep groove ball",)
"""The bearings that are sold so: rings thick enough to be bored another size."""

_NUMBERINGS = ("ISO", "JIS B 1513", "old three-digit")

_LEAST, _MOST = Fraction(7, 10), Fraction(115, 100)
"""The inch bore as a share of the metric one: beyond, the inner ring has no room for its track, or
another bearing would have been taken. Judged."""

_INCH = r"(?:\s*(?:IN(?:CH(?:ES)?)?\b|\"|″|”|''))?"
_END = r"(?=$|[\s\-_/]|(?!MM)[A-Z])"
_FRACTION = re.compile(
    rf"(?:^|(?<=[\s\-_/A-Z]))[\s\-_/]*(?P<bore>(?:\d[\s-])?\d{{1,2}}/(?:2|4|8|16|32|64)){_INCH}{_END}"
)
_SIXTEENTHS = re.compile(
    rf"(?<!\d)[\s\-]+(?P<bore>(?!2(?:R|Z))\d{{1,2}}){_END}(?![\s\-_/]*\d+(?:$|[\s\-_/]))"
)
"""A 2 before R or Z is the number of seals or shields."""


def _inches(text: str) -> Fraction:
    """A fraction with or without a whole number: 5/8, 1-1/4."""
    return sum((Fraction(piece) for piece in re.split(r"[\s-]", text)), Fraction(0))


def makes_sense(inches: Fraction, metric: int) -> bool:
    """Whether a bearing of this metric bore (nm) may be had with that inch bore."""
    return _LEAST <= inches * NM_PER_INCH / metric <= _MOST


def _found(rest: str, metric: int) -> tuple[re.Match[str], Fraction] | None:
    """Where the bore stands in what follows the number, and how large it is in inches."""
    for pattern, part in ((_FRACTION, 1), (_SIXTEENTHS, 16)):
        match = pattern.search(rest)
        if match:
            inches = _inches(match["bore"]) / part
            return (match, inches) if makes_sense(inches, metric) else None
    return None


def names(base: str, inches: Fraction) -> tuple[str, ...]:
    """The ways to write it, in sixteenths first: 6203-10, 6203-5/8; a finer bore has one, and so
    has a whole inch, for 6205-1 says nothing."""
    fraction = (inch_text(int(inches * NM_PER_INCH)) or "").removesuffix(" in")
    sixteenths = inches * 16
    written = [str(sixteenths.numerator)] if sixteenths.denominator == 1 else []
    return tuple(f"{base}-{text}" for text in (*written, *[fraction][: "/" in fraction]))


def with_inch_bore(basic: Basic) -> Basic:
    """``basic`` with the inch bore that is written behind it; itself where none is, or none that
    makes sense in this bearing (6204-15, 6205-2)."""
    metric = basic.sizes.get("bore")
    if not metric or basic.type not in _TYPES or basic.numbering not in _NUMBERINGS:
        return basic
    found = _found(basic.rest, metric)
    if found is None:
        return basic
    match, inches = found
    bore = int(inches * NM_PER_INCH)
    ways = names(basic.designation, inches)
    first = ways[-1] if "/" in match["bore"] else ways[0]
    said = f"bore {inch_text(bore)} ({short_mm(bore)}) in place of {short_mm(metric)}"
    rest = f"{basic.rest[: match.start()]} {basic.rest[match.end() :]}"
    return replace(
        basic,
        designation=first,
        of=basic.designation,
        rest=rest if rest.strip() else "",
        standard=PRACTICE,
        sizes={**basic.sizes, "bore": bore},
        dimension_series="",
        aliases=tuple(way for way in ways if way != first),
        features=(*basic.features, Feature(match["bore"], said, PRACTICE)),
    )
