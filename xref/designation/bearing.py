"""Rolling bearing designations: the basic number, its suffixes, and how else it is written."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace

from xref.designation import inch, needle, roller, rolling, taper
from xref.designation.basic import GAP, Basic, Matcher, cleaned
from xref.designation.closed import closed_form
from xref.designation.collision import with_decided_by
from xref.designation.gost import read_gost
from xref.designation.inch_bore import with_inch_bore
from xref.designation.letters import may_be_left_out
from xref.designation.reading import COMMON, Feature, Reading
from xref.designation.suffix import Tail, canonical_tail, other_tails, read_tail

_OTHER_THING = re.compile(
    r"O[ -]?RING|BUSH|SEAL|(?:DIN|ISO)[ -]?(?:3760|6194|3547|4379|3601)|AS[ -]?568|^[A-Z]?-?\d+,\d"
)
_NAMED = re.compile(
    r"^(?:(?:ROLLING|BALL|ROLLER|NEEDLE|TAPER(?:ED)?|THRUST)[ -]+)*(?:BEARING|BRG)S?\b[ :.-]*"
    r"|^(?:DIN|ISO)[ -]?(?:15|355|104|3245|625|628|630|635|720|711|5412|617|618)(?:-\d)?[ :]+"
)
_GOST_NAMED = re.compile(r"^(?:GOST|ГOCT)(?:[ -]?3189(?:-89)?)?[ :.-]*")
_MORE_SIZES = re.compile(
    r"\s*X\s*\d"  # 35 x 52
    r"|[\s/-]+\d+(?:[.,]\d+)?[\s/-]+\d+(?:[.,]\d+)?(?![0-9A-Z])"  # 608-12-7
    r"|[.,]\d+\Z"  # 6204.5
    r"|\s*/\s*\d{3,}"  # 1280/1220, a taper's cone and cup
)
"""What after a number shows that it was a size, or half of a pair, and no bearing number."""

MATCHERS: tuple[Matcher, ...] = (
    rolling.digits,
    rolling.one_digit,
    rolling.jis,
    rolling.us_style,
    roller.cylindrical,
    roller.four_point,
    roller.toroidal,
    roller.full_rollers,
    roller.taper_code,
    needle.drawn_cup,
    needle.machined,
    needle.needle_series,
    needle.cage,
    needle.thrust_needle,
    inch.miniature,
    inch.british,
    inch.british_by_bore,
    inch.british_roller,
    inch.r_series,
    inch.light_series,
    rolling.three_digit,
    read_gost,
    taper.pair,
    needle.inch_drawn_cup,
    needle.bare_drawn_cup,
)
"""The readers of basic numbers, the most usual first; half a taper, which may be any number, comes
after them all."""

_AFTER_PREFIX: tuple[Matcher, ...] = MATCHERS[: MATCHERS.index(inch.light_series)]

_PREFIXES = (
    ("SS", "stainless steel rings"),
    ("S", "stainless steel rings"),
    ("W", "stainless steel rings"),
    ("F", "flange on the outer ring"),
)
_BALLS = (rolling.digits, rolling.one_digit, rolling.jis, inch.r_series, inch.miniature)
"""Stainless and flanged prefixes stand before ball bearings, the small ones mostly."""

_FLANGED_MINIATURE = re.compile(rf"(?P<stainless>S?)MF{GAP}(?=\d)")
_MAKER = re.compile(
    r"(?P<prefix>\d[A-Z]{1,2}(?=[\s-])|[A-Z]\d(?=[\s.-])|[A-Z]{1,4})(?P<gap>[\s\-_./]*)"
)
_PARTED = re.compile(r"(?P<series>\d{2,3})[\s\-_.](?P<code>\d\d)(?![0-9/]|[\s\-_.X]+(?!2R|2Z)\d)")
"""A third number after the two makes them three sizes; 2RS and 2Z are no number."""


def _matched(text: str, matchers: Iterable[Matcher]) -> list[Basic]:
    return [basic for matcher in matchers for basic in matcher(text)]


def _with_prefix(text: str) -> list[Basic]:
    """Ball bearings after S, SS, W (stainless) or F (flange): S6204, FR4, MF105; common usage."""
    found = []
    miniature = _FLANGED_MINIATURE.match(text)
    if miniature:
        text = f"{miniature['stainless']}FMR{text[miniature.end() :]}"
    for code, meaning in _PREFIXES:
        if not text.startswith(code):
            continue
        rest = text[len(code) :].lstrip(" -_.")
        feature = Feature(code, meaning, COMMON)
        inner = _with_prefix(rest) if code in ("S", "SS") and rest.startswith("F") else []
        for basic in (*_matched(rest, _BALLS), *inner):
            features = (feature, *basic.features)
            found.append(replace(basic, features=features, prefix=code + basic.prefix))
    return found[:1]


def _after_maker(text: str) -> list[Basic]:
    """A valid number after a maker's letters, which are listed as not understood."""
    found = _MAKER.match(text)
    if not found:
        return []
    letters = found["prefix"]
    for end in range(len(letters), 0, -1):
        rest = text[found.end() :] if end == len(letters) else text[end:]
        joined = end < len(letters) or not found["gap"]
        basics = [
            basic
            for basic in _matched(rest, _AFTER_PREFIX)
            if may_be_left_out(letters[:end], joined=joined, rest=basic.rest)
        ]
        if basics:
            return [
                replace(b, unknown=(letters[:end], *b.unknown), needs_table=True) for b in basics
            ]
    return []


def _parted(text: str) -> list[Basic]:
    """62 04 or 62-04 for 6204: worth showing only where a table has it."""
    found = _PARTED.match(text)
    if not found:
        return []
    joined = f"{found['series']}{found['code']}{text[found.end() :]}"
    return [replace(b, needs_table=True) for b in _matched(joined, (rolling.digits, rolling.jis))]


def _basics(text: str) -> list[Basic]:
    """Every basic number that ``text`` may begin with, most usual first."""
    gost = _GOST_NAMED.match(text)
    if gost:
        bare = text[gost.end() :]
        found = list(read_gost(bare))
        same = _matched(bare, (rolling.digits, rolling.three_digit))
        return found or [replace(b, numbering="GOST 3189") for b in same]
    found = [*_matched(text, MATCHERS), *_with_prefix(text)]
    if not any(not b.needs_table for b in found):
        found += _parted(text)
        if not any(b.type == "drawn cup needle, inch" and text[0].isalpha() for b in found):
            found += _after_maker(text)
    return [*found, *taper.half(text)]


def _allowed(basic: Basic, tail: Tail) -> bool:
    """Whether what stands after the number leaves the reading worth giving."""
    if _MORE_SIZES.match(basic.rest):
        return False
    if not basic.takes_suffix and basic.rest.strip():
        return False
    if basic.numbering == "GOST 3189" and basic.rest.strip(" -"):
        return False
    return not (basic.whole and tail.unknown)


def _named(basic: Basic, number: str) -> str:
    """``number`` with its prefix; a flanged MR105 is written MF105."""
    if basic.prefix.endswith("F") and number.startswith("MR"):
        return f"{basic.prefix[:-1]}MF{number[2:]}"
    return f"{basic.prefix}{number}"


def _also(basic: Basic, tail: Tail, end: str) -> tuple[str, ...]:
    names = [_named(basic, f"{name}{end}") for name in basic.aliases]
    names += [
        _named(basic, f"{basic.designation}{other}") for other in other_tails(tail, basic.type)
    ]
    own = _named(basic, f"{basic.designation}{end}")
    return tuple(name for name in dict.fromkeys(names) if name != own)


def _reading(basic: Basic, tail: Tail) -> Reading:
    codes = tuple(code.code for code in tail.codes)
    closed = closed_form((basic.designation, *basic.aliases), codes)
    notes = [basic.note]
    if closed:
        notes.append(f"closed on both sides it is wider than the open {basic.designation}")
    if basic.unknown:
        notes.append(
            "the letters before the number are not read: if they belong to it, it is another part"
        )
    end = canonical_tail(tail, basic.type)
    return Reading(
        designation=closed or basic.designation,
        kind="bearing",
        type=basic.type,
        numbering=basic.numbering,
        standard=basic.standard,
        sizes=basic.sizes,
        dimension_series="" if closed else basic.dimension_series,
        features=(*basic.features, *tail.features),
        canonical=_named(basic, f"{basic.designation}{end}"),
        also_written=_also(basic, tail, end),
        unknown=(*basic.unknown, *tail.unknown),
        note="; ".join(note for note in notes if note),
        needs_table=basic.needs_table,
        of=basic.of,
    )


def _once(readings: Iterable[Reading]) -> tuple[Reading, ...]:
    """Each designation of a type once, the first; what every table must have first comes last."""
    kept: dict[tuple[str, str], Reading] = {}
    for reading in readings:
        kept.setdefault((reading.designation, reading.type), reading)
    return tuple(kept.values())


def read(text: str) -> tuple[Reading, ...]:
    """The rolling bearings that ``text`` may name, most usual first; () where none.

    Spaces, dots, dashes and case do not matter, nor letters before a valid number; what is not
    understood stands in ``unknown``. Raises InputError for empty, over-long or unprintable text.
    """
    shown = cleaned(text)
    if not shown or _OTHER_THING.search(shown):
        return ()
    shown = _NAMED.sub("", shown)
    readings = []
    for basic in map(with_inch_bore, _basics(shown)):
        tail = read_tail(basic.rest, basic.type)
        if _allowed(basic, tail):
            readings.append(_reading(basic, tail))
    return with_decided_by(_once(readings))
