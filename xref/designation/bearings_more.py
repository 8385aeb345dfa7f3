"""Magneto, spherical plain and inch needle bearings, and bearing units: ``EN15``, ``UCP205``."""

from __future__ import annotations

import re
from dataclasses import replace

from xref.designation.callout import reading
from xref.designation.lazy import says, whole
from xref.designation.reading import COMMON, Feature, Reading
from xref.designation.rubber import words
from xref.domain.number import plain
from xref.domain.size import NM_PER_INCH

_SIXTEENTH = NM_PER_INCH // 16


def _inches(**sixteenths: int) -> dict[str, int]:
    return {name: count * _SIXTEENTH for name, count in sixteenths.items()}


_MAGNETO = r"(?P<letters>EN|E|B[O0]|L)[ -]?(?P<bore>\d{1,2})(?P<rest>(?![0-9.,/X×*-]).*)"


def _magneto(shown: str) -> list[Reading]:
    """Letters and the bore in millimetres; only what the table has."""
    found = whole(_MAGNETO, shown)
    if found is None:
        return []
    number = f"{found['letters'].replace('0', 'O')}{int(found['bore'])}"
    what = ("bearing", "magneto ball", "magneto series")
    note = "a magneto bearing: its outer ring lifts off, and pairs are set against each other"
    return [reading(number, what, found["rest"], note=note, certain=False)]


_PLAIN = (
    r"GE(?P<wide>[HG]?)[ -]?(?P<bore>\d{1,3})[ -]?(?P<made>E|ES|DO|DE|C|UK|TXE?|[FS]?W)?"
    r"(?P<rest>(?![0-9A-Z.,/X]).*)"
)
_MADE = {
    "ES": "steel on steel, greased through a groove and holes",
    "DO": "steel on steel, greased through a groove and holes",
    "C": "needs no grease",
    "UK": "needs no grease",
    "TXE": "needs no grease",
    "TX": "needs no grease",
}


def _spherical_plain(shown: str) -> list[Reading]:
    found = whole(_PLAIN, shown)
    if found is None or int(found["bore"]) == 0:
        return []
    bore, made, rest = int(found["bore"]), found["made"] or "", found["rest"]
    wide = bool(found["wide"])
    number = f"GEH{bore}ES-2RS" if wide else f"GE{bore}E"
    said = []
    if made in _MADE:
        said.append(Feature(made, _MADE[made], COMMON))
    if sealed := re.search(r"-?\s?2RS\b", rest):
        said.append(Feature("2RS", "seals on both sides", COMMON))
        rest = rest.replace(sealed[0], " ")
    what = ("bearing", "spherical plain", "ISO 12240-1")
    series = "series G, wider" if wide else "series E"
    made_so = reading(number, what, rest, sizes={"bore": bore * 1_000_000}, note=series)
    return [replace(made_so, features=tuple(said), needs_table=not (made or wide))]


_HOUSINGS = {
    "P": "pillow block",
    "PA": "pillow block with tapped holes from below",
    "PH": "high pillow block",
    "F": "square flange for four bolts",
    "FL": "oval flange for two bolts",
    "FC": "round flange with a spigot",
    "T": "take-up frame",
    "C": "round cartridge",
}
"""Common practice, no published source; the letters of JIS B 1559 from memory."""

_UNIT = (
    r"(?P<insert>UC|SB|SA)[ -]?(?P<house>PA|PH|FL|FC|P|F|T|C)[ -]?(?P<number>\d{3})"
    r"(?P<inch>-\d{1,2})?(?P<rest>(?![0-9.,/X]).*)"
)


def _unit(shown: str) -> list[Reading]:
    """A bearing unit: the insert it holds is what has a row, the housing goes by its own name."""
    found = whole(_UNIT, shown)
    if found is None:
        return []
    house = f"{found['house']}{found['number']}"
    number = f"{found['insert']}{found['number']}{found['inch'] or ''}"
    said = f"{_HOUSINGS[found['house']]}: the housing alone is {house}"
    note = (
        f"a bearing unit: insert {number} in housing {house}; the sizes are the insert's. Either "
        "can be had alone; check the housing's bolt spacing and shaft height, which makers vary"
    )
    what = ("bearing", "insert bearing", "ISO 9628")
    made = reading(number, what, note=note, certain=True)
    full = f"{found['insert']}{found['house']}{found['number']}{found['inch'] or ''}"
    return [
        replace(
            made,
            canonical=full,
            features=(Feature(found["house"], said, COMMON),),
            unknown=words(found["rest"]),
        )
    ]


_THRUST = r"(?P<what>NTA|TR[A-F])[ -]?(?P<bore>\d{1,2})(?P<outside>\d\d)(?P<rest>(?![0-9.,/X]).*)"
_THRUST_64 = {"NTA": 5, "TRA": 2, "TRB": 4, "TRC": 6, "TRD": 8, "TRE": 10, "TRF": 12}
"""Thickness in sixty-fourths of an inch: 5/64 for the cage, 1/32 to 3/16 for washers A to F; from
memory of trade numbers."""
_HEAVY = r"HJ[ -]?(?P<bore>\d\d)(?P<outside>\d\d)(?P<width>\d\d)(?P<rest>(?![0-9.,/X]).*)"
_BY_RULE = "by rule, no table known: the number is sixteenths of an inch"


def _inch_needle(shown: str) -> list[Reading]:
    if found := whole(_THRUST, shown):
        bore, outside = int(found["bore"]), int(found["outside"])
        if not 0 < bore < outside:
            return []
        sizes = _inches(bore=bore, outside=outside)
        sizes["width"] = _THRUST_64[found["what"]] * NM_PER_INCH // 64
        type_ = "thrust needle" if found["what"] == "NTA" else "thrust washer"
        note = f"{_BY_RULE} of bore and outside; the thickness goes by the letters (from memory)"
    elif found := whole(_HEAVY, shown):
        bore, outside = int(found["bore"]), int(found["outside"])
        if not 0 < bore < outside or not int(found["width"]):
            return []
        sizes = _inches(bore=bore, outside=outside, width=int(found["width"]))
        type_ = "needle roller, inch, heavy"
        note = f"{_BY_RULE} of bore over the needles, outside and width"
    else:
        return []
    number = re.sub(r"^([A-Z]+)[ -]?", r"\1-", shown.removesuffix(found["rest"]).strip())
    what = ("bearing", type_, "common practice, no published source")
    return [reading(number, what, found["rest"], sizes=sizes, note=note)]


def read(text: str) -> tuple[Reading, ...]:
    """The bearings that ``text`` may name; () where none. Raises InputError as ``plain`` does."""
    shown = plain(text)
    found: list[Reading] = []
    if shown[:1] in ("E", "B", "L"):
        found += _magneto(shown)
    if shown.startswith("GE"):
        found += _spherical_plain(shown)
    if shown[:2] in ("UC", "SB", "SA"):
        found += _unit(shown)
    if says(shown[:3], "NTA", "TR", "HJ"):
        found += _inch_needle(shown)
    return tuple(found)
