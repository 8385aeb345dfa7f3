"""The rubber and its hardness, as they are written after the size of a seal or an O-ring."""

from __future__ import annotations

import re
from functools import cache

from xref.designation.reading import COMMON, Feature
from xref.tables import read_table

_OTHER_NAMES = {"FPM": "FKM", "MVQ": "VMQ", "NITRILE": "NBR", "SILICONE": "VMQ"}
"""FPM and MVQ are the older German symbols; the words stand on bags. Common usage."""

_ONE_LETTER = {"N": "NBR", "V": "FKM", "E": "EPDM", "S": "VMQ"}
"""One letter before the hardness (N70, V75). Common usage; makers differ, so it is a hint only."""

_HARDNESS = range(20, 96)
"""Shore A is useful from 20 to 90 (ASTM D2240, ISO 48-4); a little above is still written."""


@cache
def _names() -> dict[str, str]:
    return {row["code"]: row["common_name"] for row in read_table("elastomer")}


@cache
def _pattern() -> re.Pattern[str]:
    codes = "|".join(sorted((*_names(), *_OTHER_NAMES), key=len, reverse=True))
    letters = "".join(_ONE_LETTER)
    return re.compile(
        rf"(?<![0-9A-Z])(?:(?:(?P<before>\d\d)[ -]?)?(?P<code>{codes})(?:[ -]?(?P<after>\d\d))?"
        rf"|(?P<letter>[{letters}])(?P<grade>\d\d)"
        r"|(?P<shore>\d\d)[ -]?(?:°[ ]?)?(?:SHORE|SH)(?:[ -]?A)?)(?![0-9A-Z])"
    )


def _feature(found: re.Match[str]) -> Feature | None:
    """What one match means; None where the hardness is outside what rubber has."""
    degrees = found["before"] or found["after"] or found["grade"] or found["shore"] or ""
    if degrees and int(degrees) not in _HARDNESS:
        return None
    letter, code = found["letter"], found["code"]
    symbol = _ONE_LETTER[letter] if letter else _OTHER_NAMES.get(code or "", code or "")
    pieces = [f"{_names()[symbol]} ({symbol})"] if symbol else []
    if degrees:
        pieces.append(f"{degrees} Shore A")
    if letter:
        pieces.append("makers differ in this letter")
    return Feature(code=" ".join(found[0].split()), meaning=", ".join(pieces), basis=COMMON)


def take_rubber(rest: str) -> tuple[tuple[Feature, ...], str]:
    """The rubber features in ``rest`` (upper case), and ``rest`` without them.

    Names are those of the elastomer table (ISO 1629 symbols); hardness is Shore A degrees, 20 to
    95. Nothing is dropped: what is not understood stays in the text that comes back.
    """
    features: list[Feature] = []

    def keep(found: re.Match[str]) -> str:
        feature = _feature(found)
        if feature is None:
            return found[0]
        features.append(feature)
        return " "

    left = _pattern().sub(keep, rest)
    return tuple(features), left


def symbol(feature: Feature) -> str:
    """The ISO 1629 symbol of the rubber a feature names; "" where it names none."""
    found = _pattern().fullmatch(feature.code.upper())
    if found is None:
        return ""
    if found["letter"]:
        return _ONE_LETTER[found["letter"]]
    return _OTHER_NAMES.get(found["code"] or "", found["code"] or "")


_WORD = re.compile(r"[^\s,;_.\-/()]+")


def words(rest: str) -> tuple[str, ...]:
    """The pieces of ``rest`` between separators."""
    return tuple(_WORD.findall(rest))
