"""Numbers of GOST 3189, read from the right, and the old three-digit numbers that look like them.

Digits from the right: 1-2 bore code, 3 diameter series, 4 type, 5-6 design, 7 width series;
leading zeros are dropped (GOST 3189-89, as the bearing rules give it).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from xref.designation.basic import END, Basic, pattern
from xref.designation.metric import ALIGNING, ANGULAR, TAPER, read_metric
from xref.designation.reading import COMMON, Feature

GOST = "GOST 3189"
_NUMBER = pattern(rf"(?P<digits>[0-9]{{3,7}}){END}(?P<tail>.*)")
_OLD = pattern(rf"(?P<digits>[1234][0-9]{{2}}){END}(?P<tail>[^/].*|)$")


@dataclass(frozen=True, slots=True)
class _Rule:
    """What stands before diameter series and bore code in the two systems.

    ``head`` are the width, design and type digits of GOST, its leading zeros dropped. ``series``
    gives the ISO number's beginning for each GOST diameter series.
    """

    head: str
    series: Mapping[str, str]
    feature: Feature | None = None
    note: str = ""


def _roller(letters: str) -> dict[str, str]:
    return {s: letters + iso for s, iso in (("1", "10"), ("2", "2"), ("3", "3"), ("4", "4"))} | {
        "5": f"{letters}22",
        "6": f"{letters}23",
    }


_BALL = {"1": "60", "2": "62", "3": "63", "4": "64"}
_MEMORY = "this design digit is from memory"

_RULES = (
    # Shield and seal designs: from memory, common practice.
    _Rule("60", _BALL, Feature("Z", "metal shield, one side", COMMON), _MEMORY),
    _Rule("80", _BALL, Feature("2Z", "metal shields, both sides", COMMON), _MEMORY),
    _Rule("160", _BALL, Feature("RS", "rubber contact seal, one side", COMMON), _MEMORY),
    _Rule("180", _BALL, Feature("2RS", "rubber contact seals, both sides", COMMON), _MEMORY),
    _Rule("50", _BALL, Feature("N", "snap ring groove in the outer ring", COMMON), _MEMORY),
    # Light width series of ball bearings: from memory.
    _Rule("7000", {"1": "160"}, None, _MEMORY),
    _Rule("1000", {"8": "618", "9": "619"}, None, _MEMORY),
    # Type 1, self-aligning ball; 15xx and 16xx are ISO 22xx and 23xx (from memory).
    _Rule("1", {"5": "22", "6": "23"}, None, _MEMORY),
    # Type 2, cylindrical roller: no design digit N, 3 NU, 4 NJ, 9 NUP, 1 NF (NF from memory).
    _Rule("2", _roller("N")),
    _Rule("12", _roller("NF"), None, _MEMORY),
    _Rule("32", _roller("NU")),
    _Rule("42", _roller("NJ")),
    _Rule("92", _roller("NUP")),
    # Type 3, spherical roller (from memory).
    _Rule("3", {"5": "222", "6": "223"}, None, _MEMORY),
    _Rule("53", {"5": "222", "6": "223"}, None, _MEMORY),
    # Type 4, needle roller with machined rings (from memory).
    _Rule("4074", {"9": "NA49"}, None, _MEMORY),
    # Type 6, angular contact; design 3, 4 and 6 are the contact angles (from memory).
    _Rule(
        "36",
        {"1": "70", "2": "72", "3": "73"},
        Feature("36", "contact angle 12 degrees", COMMON),
        _MEMORY,
    ),
    _Rule(
        "46",
        {"1": "70", "2": "72", "3": "73"},
        Feature("46", "contact angle 26 degrees", COMMON),
        _MEMORY,
    ),
    _Rule(
        "66",
        {"2": "72", "3": "73", "4": "74"},
        Feature("66", "contact angle 36 degrees", COMMON),
        _MEMORY,
    ),
    _Rule("3056", {"2": "32", "3": "33"}, None, _MEMORY),
    # Type 7, tapered roller; 27xxx is the steep one and 2007xxx the series 320 (from memory).
    _Rule("7", {"2": "302", "3": "303", "5": "322", "6": "323"}),
    _Rule("27", {"3": "313"}, None, _MEMORY),
    _Rule("2007", {"1": "320", "9": "329"}, None, _MEMORY),
    # Type 8, thrust ball, and 9, thrust roller (9 from memory).
    _Rule("8", {"1": "511", "2": "512", "3": "513", "4": "514"}),
    _Rule("9", {"1": "811", "2": "812"}, None, _MEMORY),
)
_BY_HEAD = {rule.head: rule for rule in _RULES}

_DECIDES = {
    ANGULAR: "measure the width, and see whether the cup lifts off",
    TAPER: "measure the width, and see whether the rollers are conical or straight",
    ALIGNING: "measure the width, and see whether balls or rollers run in it",
}
_ANY = "measure the sizes, and see what rolls in it"


def decides(type_: str) -> str:
    """What tells a number of this ISO type from the GOST one, in words a person can act on."""
    return _DECIDES.get(type_, _ANY)


def _given(rule: _Rule) -> tuple[Feature, ...]:
    return (rule.feature,) if rule.feature else ()


def read_gost(text: str) -> Iterator[Basic]:
    """The GOST 3189 reading of cleaned ``text``; none where ISO numbering says the same thing."""
    found = _NUMBER.match(text)
    if found is None:
        return
    digits = found["digits"]
    rule = _BY_HEAD.get(digits[:-3])
    iso = rule.series.get(digits[-3]) if rule else None
    if rule is None or iso is None:
        return
    for basic in read_metric(iso + digits[-2:]):
        yield replace(
            basic,
            tail=found["tail"],
            numbering=GOST,
            given=_given(rule),
            also=(*basic.also, digits),
            note="; ".join(t for t in (f"{GOST} number {digits}", rule.note) if t),
        )


def read_old(text: str) -> Iterator[Basic]:
    """Three digits: 205, 306, 406 are 6205, 6306, 6406 in old Western makes and in GOST 3189.

    108 is GOST for 6008. Common practice, no published source; the first digit 1 is GOST alone.
    """
    found = _OLD.match(text)
    if found is None or any(piece.isdigit() for piece in found["tail"].split("-")):
        return
    digits, gost_only = found["digits"], text[0] == "1"
    series = "60" if gost_only else f"6{digits[0]}"
    for basic in read_metric(series + digits[1:]):
        yield replace(
            basic,
            tail=found["tail"],
            numbering=GOST if gost_only else "old three-digit",
            also=(digits,),
            note=f"{GOST} number {digits}"
            if gost_only
            else f"old number {digits}, the same in {GOST} (common practice, no published source)",
            decided_by="measure the bore" if gost_only else "",
        )
