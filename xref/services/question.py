"""Understand what was typed: marks, sizes with their uncertainty, kind, condition, dates."""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from xref.designation.lead_screw import turns_pitch
from xref.domain.kinds import Named, named_from, named_in
from xref.domain.mark import Mark, read_mark
from xref.domain.number import plain, visible
from xref.domain.part import COUNTS, is_plain_number
from xref.domain.query import Query, SizeReading
from xref.domain.size import parse_count, parse_length
from xref.domain.size_names import INSIDE, ONLY_ON, SIZES
from xref.domain.size_words import called
from xref.errors import InputError
from xref.services.answered import Answered, check_key, marks_seen, read_seen
from xref.standards.instrument import TOOLS, hand_allowance, permissible_error
from xref.standards.wear import CONDITIONS

SIZE_NAMES = tuple(SIZES)
"""Every size the tool knows by name, besides the counts."""

USUAL = "Most used: bore, outside, width, inside, section, thickness, length, pitch, teeth."
MOST_WORDS = 300
_OVER = re.compile(r"(?P<length>.*[^\d\s./])\s*/\s*(?P<count>[1-9]\d{0,2})\s*")
"""A length, its unit and how many pitches it is over; without a unit 1/2 would be meant."""
_YEAR = re.compile(r"(?<!\d)(1[89]\d\d|20\d\d)(?!\d)")
_SHORT_YEAR = re.compile(r"(?:^|[\s\-/.])(\d{2})\s*$")


@dataclass(frozen=True)
class Asked:
    """What the user typed, as typed. Empty or None means it was not given."""

    marks: Sequence[str] = ()
    casts: Sequence[str] = ()
    sizes: Mapping[str, str] = field(default_factory=dict)
    kind: str = ""
    words: str = ""
    tool: str = "caliper"
    condition: str = "used"
    cannot: Sequence[str] = ()
    seen: Mapping[str, str] = field(default_factory=dict)
    cast_date: str = ""
    built: str = ""
    machine: str = ""
    unit: str = "mm"


def understand(asked: Asked) -> Query:
    """The query as understood. Raises InputError for the first thing that is not."""
    tool = _one_of(asked.tool or "caliper", TOOLS, "tool")
    condition = _one_of(asked.condition or "used", CONDITIONS, "condition")
    seen = read_seen(asked.seen)
    asked = _with_seen(asked, seen)
    sizes = named_sizes(asked.sizes)
    said = named_from(asked.kind) if asked.kind else named_in(asked.words)
    otherwise = called(sizes, said)
    asked = replace(asked, sizes={otherwise.get(name, name): sizes[name] for name in sizes})
    kind, named = _kind(asked, said)
    query = Query(
        marks=marks_seen(_readings(asked.marks), seen.marks),
        casts=_readings(asked.casts),
        sizes={name: read_size(name, text, tool, asked.unit) for name, text in asked.sizes.items()},
        called={own: given for given, own in otherwise.items()},
        kind=kind,
        named=named,
        kind_in_words=bool(named) and not asked.kind,
        words=plain(asked.words, MOST_WORDS, "description").lower() if asked.words else "",
        tool=tool,
        condition=condition,
        cannot=tuple(check_key(name) for name in asked.cannot),
        seen=seen.told(),
        cast_year=read_year(asked.cast_date, "casting date") if asked.cast_date else None,
        built_year=read_year(asked.built, "build year") if asked.built else None,
        machine=" ".join(asked.machine.split()),
    )
    if not (query.marks or query.casts or query.sizes or query.words):
        raise InputError(
            "there is nothing to go by",
            'Give what can be read (--mark "62?4") or measured (--bore 20mm --outside 47mm).',
        )
    return query


def _with_seen(asked: Asked, seen: Answered) -> Asked:
    """The question with the sizes and the kind that were answers, which are not given twice."""
    if asked.kind and seen.kind:
        raise InputError("the kind is given twice", "Leave one of them out.")
    sizes = dict(asked.sizes)
    for name, text in seen.sizes.items():
        if any(size_name(given) == name for given in sizes):
            raise InputError(f"the size {name} is given twice", "Leave one of them out.")
        sizes[name] = text
    return replace(asked, sizes=sizes, kind=asked.kind or seen.kind)


def _readings(texts: Iterable[str]) -> tuple[Mark, ...]:
    """Every mark as read; one that is given twice, however it is spaced, is one reading."""
    found: dict[object, Mark] = {}
    for mark in map(read_mark, texts):
        found.setdefault((mark.signs, mark.turned), mark)
    return tuple(found.values())


FASTENER, HEXAGON = "thread", Named("other", "hexagon", "hexagon", ("hexagon",))


def _kind(asked: Asked, named: Named | None) -> tuple[str, Named | None]:
    """The kind, "" for none, and how it was named: by itself, or else in the words. A bolt or a
    nut of which the flats were measured is found by its hexagon."""
    implied = _implied_kind(asked)
    if named is None:
        return implied, None
    if named.kind == FASTENER and "across-flats" in map(size_name, asked.sizes):
        return HEXAGON.kind, HEXAGON
    if not asked.kind and implied and implied != named.kind:
        return implied, None
    return named.kind, named


def _implied_kind(asked: Asked) -> str:
    """The one kind that has the sizes named; "" where they name none, or two."""
    kinds = {ONLY_ON[name] for name in map(size_name, asked.sizes) if name in ONLY_ON}
    return kinds.pop() if len(kinds) == 1 else ""


def _one_of(text: str, choices: Sequence[str], what: str) -> str:
    found = [c for c in choices if c.startswith(text.strip().lower())]
    if len(found) != 1:
        raise InputError(
            f'no {what} is called "{visible(text)}"', f"Choose from: {', '.join(choices)}."
        )
    return found[0]


def size_name(text: str) -> str:
    """The size that ``text`` names. Raises InputError naming those there are."""
    name = "-".join(text.strip().lower().replace("_", " ").replace("-", " ").split())
    if name in SIZE_NAMES or name in COUNTS:
        return name
    near = difflib.get_close_matches(name, (*SIZE_NAMES, *COUNTS), n=2, cutoff=0.7)
    raise InputError(
        f'no size is called "{visible(text)}"',
        f"Did you mean {' or '.join(near)}?" if near else f"{USUAL} xref identify --help has all.",
    )


def named_sizes(sizes: Mapping[str, str]) -> dict[str, str]:
    """``sizes`` by the names they have here. Raises InputError for a size that is given twice."""
    found: dict[str, str] = {}
    for text, value in sizes.items():
        name = size_name(text)
        if name in found:
            raise InputError(f"the size {name} is given twice", "Leave one of them out.")
        found[name] = value
    return found


JAWS_NM = 100_000
"""A spanner that fits may be this much larger than its hexagon. Judged."""


def _jaws(text: str) -> int | None:
    # Imported when asked for: the tables behind it cost more than a search.
    from xref.standards.spanner import opening

    return opening(text)


_LETTERED = re.compile(r"(?i)wg|gauge|wire|tpi|t\.p\.i|per inch|to the inch")


_PART_OF_INCH = re.compile(r"1/([1-9]\d?)\s*(?:in|inch|\")", re.IGNORECASE)
"""A pitch may be any part of an inch: 1/12 in is twelve turns."""
BY_NUMBER = 100
"""What is named by a gauge number or by turns is off by up to a hundredth. Judged."""


NAMED_SECTIONS = {
    (1, 16): 1_780_000,
    (3, 32): 2_620_000,
    (1, 8): 3_530_000,
    (3, 16): 5_330_000,
    (1, 4): 6_990_000,
}
"""Nanometres of the sections that O-rings of SAE AS568 are called by in fractions of an inch: the
true ones are larger. Common practice, no published source; the sections are AS568's own."""


def _named_section(text: str) -> int | None:
    """The true section behind "1/8 in"."""
    found = re.fullmatch(r"(\d)/(\d+)\s*(?:in|inch|inches|\")?", text.strip(), re.IGNORECASE)
    return NAMED_SECTIONS.get((int(found[1]), int(found[2]))) if found else None


def _told(name: str, text: str) -> int | None:
    """The size of a gauge ("16 SWG"), or the pitch of turns to the inch ("20tpi"); else None."""
    part = _PART_OF_INCH.fullmatch(text.strip()) if name == "pitch" else None
    if part:
        return turns_pitch(f"{part[1]}tpi")
    section = _named_section(text) if name == "section" else None
    if section:
        return section
    if not _LETTERED.search(text):
        return None
    if name == "pitch":
        return turns_pitch(text)
    from xref.standards.gauge import gauge_size

    return gauge_size(text)


def read_size(name: str, text: str, tool: str, unit: str) -> SizeReading:
    """One measured size with the uncertainty of ``tool``.

    A hardness (Shore A) is read as a plain number and never counts as a length. A size across
    flats may be the mark of the spanner that fits ("1/2W", "19AF"); a pitch may be the length of
    several, with their number ("127.6mm/10"): what the tool and the hand are off is shared by all.
    """
    if is_plain_number(name):
        return SizeReading(name, parse_count(text), text, "", False, 0, 0, "counted")
    jaws = _jaws(text) if name == "across-flats" else None
    if jaws:
        return SizeReading(name, jaws, text, "", False, JAWS_NM, 0, "the spanner that fits")
    told = _told(name, text)
    if told:
        return SizeReading(
            name, told, text.strip(), "", False, told // BY_NUMBER, 0, "by its number"
        )
    over = _OVER.fullmatch(text) if name == "pitch" else None
    count = int(over["count"]) if over else 1
    length = parse_length(over["length"] if over else text, unit)
    inside = name in INSIDE
    error = permissible_error(tool, length.nm, inside)
    return SizeReading(
        name,
        round(length.nm / count),
        text.strip(),
        length.unit,
        length.assumed,
        round(error.nm / count),
        round(hand_allowance(inside) / count),
        error.source,
    )


def read_year(text: str, what: str) -> int:
    """The year in a casting date or build year: "1953", "6-4-52", "12 53".

    A two-digit year is taken as 19xx (common practice on castings, no published source). Raises
    InputError where no year can be seen.
    """
    shown = plain(text, 40, what)
    found = _YEAR.search(shown)
    if found:
        return int(found[1])
    short = _SHORT_YEAR.search(shown)
    if short:
        return 1900 + int(short[1])
    raise InputError(
        f'no year can be seen in the {what} "{visible(text)}"', "Write the year with four digits."
    )
