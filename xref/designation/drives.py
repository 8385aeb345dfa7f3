"""Chains and V-belts: ``08B-2``, ``ASME 60``, ``A46``, ``3V250``, ``SPZ 1000``, ``13x8x1000``."""

from __future__ import annotations

import re
from fractions import Fraction

from xref.designation.callout import NUMBER, TIMES, dotted, length, reading
from xref.designation.reading import Reading
from xref.domain.number import plain
from xref.domain.size import NM_PER_INCH

_CHAIN = re.compile(
    r"(?:(?:ISO|DIN|BS)[ -]?(?:606|8187|8188|228)[ -]*)?(?:ROLLER CHAIN\s+|CHAIN\s+)?"
    r"(?P<number>\d\d[ABC]|08[1-5])(?:\s?-\s?(?P<strands>[1-3]))?"
    r"(?:\s*(?:-|[X×*])\s*(?P<links>\d{1,4})\s*(?:L|LINKS?)?)?(?![0-9A-Z])(?P<rest>.*)"
)
_ASME = re.compile(
    r"(?:(?:(?:ASME|ANSI)(?:[ -]?B29\.1)?[ -]*)(?:CHAIN\s+)?|(?:CHAIN\s*)?#\s?|CHAIN\s+)"
    r"(?P<number>15|25|35|4[01]|50|60|80|1[0246]0|180|200|240)(?:-(?P<strands>[1-3]))?"
    r"(?![0-9A-Z.])(?P<rest>.*)"
)

_WORD_LAST = re.compile(r"^(#?\s?\d\S*)\s+(?:ROLLER\s+)?CHAIN$")
"""60 chain, #60-2 chain, 08B chain: said so (common practice)."""


def _chains(shown: str) -> list[Reading]:
    shown = _WORD_LAST.sub(r"CHAIN \1", shown)
    if found := _CHAIN.fullmatch(shown):
        strands = found["strands"] or "1"
        links = {"links": int(found["links"])} if found["links"] else {}
        what = ("chain", "roller chain", "ISO 606")
        sure = found["strands"] is not None or "CHAIN" in shown or "606" in shown
        number = f"{found['number']}-{strands}"
        return [reading(number, what, found["rest"], sizes=links, certain=sure)]
    if found := _ASME.fullmatch(shown):
        strands = found["strands"] or "1"
        number = f"ASME {found['number']}" + ("" if strands == "1" else f"-{strands}")
        return [reading(number, ("chain", "roller chain", "ASME B29.1"), found["rest"])]
    return []


_BELT_WORD = re.compile(r"^(?:V[ -]?BELT|BELT)\s+")
_INCH_BELT = re.compile(
    r"(?P<section>[A-E]|[358]VX?)[ -]?(?P<number>\d{2,4})(?![0-9.,X])(?P<rest>.*)"
)
_METRIC_BELT = re.compile(
    r"(?P<section>SP[ZABC]|XP[ZABC]|[ZABCDE]X?|Y)[ -]*(?P<long>\d{3,5})\s*(?P<how>LI|LW|LD|LP|LA)?"
    r"(?![0-9A-Z.,])(?P<rest>.*)"
)
_SECTION = re.compile(
    r"(?P<section>SP[ZABC]|XP[ZABC]|AV1[037]|[358]VX?|[345]L|40X20|EO|[A-EYZ]X?|\d{1,2})"
)
_BY_SIZE = re.compile(
    rf"(?P<top>{NUMBER}){TIMES}(?:(?P<height>{NUMBER}){TIMES})?(?P<long>\d{{3,5}})\s*"
    r"(?P<how>LI|LW|LD|LP|LA)?(?![0-9A-Z.,]|\s*[X×*])(?P<rest>.*)"
)
_TOPS = {
    "5": "5",
    "6": "Y",
    "8": "8",
    "10": "Z",
    "13": "A",
    "17": "B",
    "20": "20",
    "22": "C",
    "25": "25",
    "32": "D",
    "40": "E",
    "9.7": "SPZ",
    "12.7": "SPA",
    "12.5": "SPA",
    "16.3": "SPB",
}
"""The section by its top width in millimetres: DIN 2215 and DIN 7753-1."""

_HEIGHTS = {
    "5": "3",
    "Y": "4",
    "8": "5",
    "Z": "6",
    "A": "8",
    "B": "11",
    "20": "12.5",
    "C": "14",
    "25": "16",
    "D": "20",
    "E": "25",
    "SPZ": "8",
    "SPA": "10",
    "SPB": "13",
}

_HOW = {
    "LI": ("inside-length", "Li: inside length"),
    "LA": ("outside-length", "La: outside length"),
}
_DATUM = ("length", "datum (pitch) length; an older classical belt's is the inside length")

_OUTSIDE_MORE = {"A": 2, "B": 3, "C": 4, "D": 5, "E": 6}
"""Inches from the inside to the outside length (RMA IP-20)."""

_LONG = 210
_SHORT_OF = {"B": Fraction(3, 2), "C": Fraction(2), "D": Fraction(5, 2)}
"""Inches by which belts numbered above 210 are shorter than their number says (RMA
IP-20, from memory; the printed pitch lengths fall by the same). For E no figure was found."""

_MOST_INCHES = 660
"""The longest inch number is in the hundreds; a larger one is millimetres. Judged."""


def _what(section: str) -> tuple[str, str, str]:
    wedge = section[:2] in ("SP", "XP") or (section[:1] in "358" and "V" in section)
    return ("belt", "v-belt, wedge" if wedge else "v-belt, classical", "ISO 4184")


def _belts(shown: str) -> list[Reading]:
    bare = _BELT_WORD.sub("", shown)
    named = bare != shown
    if named and (found := _SECTION.fullmatch(bare)):
        section = "40x20" if found["section"] == "40X20" else found["section"]
        return [reading(f"V-BELT {section}", _what(section))]
    readings = []
    if found := _INCH_BELT.fullmatch(bare):
        readings += _inch(found, named=named)
    if found := _METRIC_BELT.fullmatch(bare):
        readings += _metric(found, found["section"], named=named)
    if found := _BY_SIZE.fullmatch(bare):
        section = _TOPS.get(dotted(found["top"]), "")
        tall = found["height"]
        if section and (not tall or dotted(tall) == _HEIGHTS[section]):
            readings += _metric(found, section)
    return readings


def inch_lengths(section: str, number: int) -> tuple[int, int] | None:
    """The inside and outside length in nanometres of a classical belt (A to E) by its inch number.

    None for an E belt above 210, for which no rule was found.
    """
    less = Fraction(0)
    if number > _LONG:
        if section not in _SHORT_OF and section != "A":
            return None
        less = _SHORT_OF.get(section, less)
    inside = round((number - less) * NM_PER_INCH)
    return inside, inside + _OUTSIDE_MORE[section] * NM_PER_INCH


def _inch(found: re.Match[str], *, named: bool) -> list[Reading]:
    """A section with an inch number, and the lengths that its rule gives."""
    section, number = found["section"], int(found["number"])
    if "V" in section:
        sizes = {"outside-length": number * NM_PER_INCH // 10}
        note = "the number is the outside length in tenths of an inch"
    elif number <= _MOST_INCHES:
        around = inch_lengths(section, number)
        sizes = dict(zip(("inside-length", "outside-length"), around or (), strict=False))
        note = "the number is the inside length in inches; the outside one follows by rule"
        if number > _LONG:
            note += "; above 210 both are less than the number says"
    else:
        return []
    what = _what(section)
    text = f"{section}{number}"
    return [reading(text, what, found["rest"], sizes=sizes, note=note, certain=named)]


_TOROIDAL = re.compile(r"(?:2[23]|3[0129]|4[019]|[56][09])(?:0[5-9]|[1-8]\d|9[0-6])")
_SAME_NUMBERS = ("2240", "2360", "3150")
"""Lengths of section C (ISO 4184, from memory) that are numbers of bearings as well."""


def _toroidal(section: str, found: re.Match[str]) -> bool:
    """Whether C2206 is the number of a toroidal roller bearing and no length of a belt."""
    long, how = found["long"], found["how"]
    bearing = section == "C" and how is None and _TOROIDAL.fullmatch(long) is not None
    return bearing and long not in _SAME_NUMBERS


def _metric(found: re.Match[str], section: str, *, named: bool = True) -> list[Reading]:
    """A section with a length in millimetres."""
    name, said = _HOW.get(found["how"] or "", _DATUM)
    long = length(found["long"]) or 0
    narrow = section[:2] in ("SP", "XP")
    if not narrow and found["how"] is None and int(found["long"]) <= _MOST_INCHES:
        return []
    if not named and _toroidal(section, found):
        return []
    note = "datum length" if narrow and name == "length" else said
    return [
        reading(f"V-BELT {section}", _what(section), found["rest"], sizes={name: long}, note=note)
    ]


def read(text: str) -> tuple[Reading, ...]:
    """The chains and belts that ``text`` may name; () where none.

    Sizes are only the length or the count of links that is written. Raises InputError as ``plain``
    does.
    """
    shown = plain(text)
    return (*_chains(shown), *_belts(shown))
