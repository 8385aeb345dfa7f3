"""Bearing numbers of every system: all readings of a text, the usual one first."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from xref.designation.basic import END, Basic, cleaned, pattern, reading_of
from xref.designation.gost import decides, read_gost, read_old
from xref.designation.inch import read_inch
from xref.designation.metric import read_iso_355, read_metric
from xref.designation.needle import read_needle
from xref.designation.reading import COMMON, Feature, Reading
from xref.designation.taper import read_taper

_GRAMMARS: tuple[Callable[[str], Iterator[Basic]], ...] = (
    read_metric,
    read_iso_355,
    read_gost,
    read_old,
    read_needle,
    read_inch,
    read_taper,
)

_OTHER_THING = pattern(
    r".*?(?:BUSH|SEAL|O[ -]?RING|\b(?:DIN|ISO|JIS|BS|AS|SAE)[ -]*(?:B ?)?[0-9]{3})"
)
_NAMED = pattern(r"(?:BALL |ROLLER )?BEARINGS?[ :.-]*|BRG[ :.-]*")
_PREFIX = pattern(
    r"(?P<letters>[A-Z]{1,8})(?P<sep>[ \-.:/]*)(?P<rest>(?:N|NU|NJ|NUP|QJ)?[ -]?[0-9].*)"
)
_PARTED = pattern(
    rf"(?P<first>[0-9]{{2,3}})[ \-.](?P<second>[0-9]{{2}}){END}(?![ \-./][0-9]+(?![0-9A-Z]))"
)
_DIGITS = pattern(r"[0-9]{4,}")

_PREFIXES = {
    **{name: Feature(name, "stainless steel rings", COMMON) for name in ("S", "SS", "W")},
    "F": Feature("F", "flange on the outer ring", COMMON),
}
"""Letters before a number that mean something (common usage)."""

_NOT_A_MAKER = frozenset(
    ["A", "B", "BA", "BAM", "BH", "BHA", "BHAM", "BK", "BS", "DIN", "G", "H", "HH", "HK", "HM", "ISO", "J", "JD", "JF", "JH", "JHH", "JHM", "JIS", "JL", "JLL", "JLM", "JM", "JP", "JS", "JW", "K", "L", "LL", "LM", "LRJ", "LS", "M", "MH", "MJ", "MJH", "MR", "MRJ", "N", "NA", "NK", "NKI", "NKIS", "NKS", "P", "R", "RING", "RLS", "RMS", "RNA", "T", "V", "X", "XLRJ", "XUA", "Y", "AS", "AXK", "NN", "NNU", "NCF"]
)
"""Letters that belong to a number of another system: the digits alone would be another thing."""


def _basics(text: str) -> list[Basic]:
    return [basic for grammar in _GRAMMARS for basic in grammar(text)]


def _told_apart(basics: list[Basic]) -> list[Basic]:
    """Each reading with what decides, where ISO and GOST numbering mean two bearings by one text."""
    iso = next((b for b in basics if b.numbering == "ISO" and not b.needs_table), None)
    if iso is None or not any(b.numbering.startswith("GOST") for b in basics):
        return basics
    word = decides(iso.type)
    return [b if b.decided_by or b.needs_table else replace(b, decided_by=word) for b in basics]


def _sure(basics: list[Basic]) -> bool:
    return any(not basic.needs_table for basic in basics)


def _joined(text: str) -> str:
    """``62 04 2RS`` as ``6204 2RS``; a third number after it is a size, and nothing is joined."""
    found = _PARTED.match(text)
    return f"{found['first']}{found['second']}{text[found.end() :]}" if found else text


def _behind_prefix(text: str) -> list[Reading]:
    """Readings of what stands after a maker's letters, or after letters for steel or flange."""
    found = _PREFIX.match(text)
    if found is None or found["letters"] in _NOT_A_MAKER:
        return []
    rest = found["rest"]
    if not _DIGITS.match(rest) and rest[0] != "N" and rest[:2] != "QJ":
        return []
    feature = _PREFIXES.get(found["letters"])
    basics = [b for b in _told_apart(_basics(rest)) if not b.needs_table]
    before, unread = ((feature,), "") if feature else ((), found["letters"])
    return [reading_of(basic, before, unread) for basic in basics]


def read(text: str) -> tuple[Reading, ...]:
    """The bearings ``text`` may name, the most usual first; () where none.

    Readings that only a table can confirm (inch taper halves) have ``needs_table``. Raises
    InputError for empty, over-long or unprintable text.
    """
    shown = cleaned(text)
    if _OTHER_THING.match(shown):
        return ()
    named = _NAMED.match(shown)
    bare = shown[named.end() :] if named else shown
    basics = _basics(bare)
    if not _sure(basics):
        behind = _behind_prefix(bare)
        if behind:
            return tuple(behind) + tuple(reading_of(b) for b in basics)
        joined = _joined(bare)
        if joined != bare and _sure(_basics(joined)):
            basics = _basics(joined)
    return tuple(reading_of(basic) for basic in _told_apart(basics))
