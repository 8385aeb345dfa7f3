"""Sleeves, blocks, insert and needle bearings, splines, tapers: ``H210``, ``SN 510``, ``UC205``."""

from __future__ import annotations

import re

from xref.designation.callout import TIMES, length, reading
from xref.designation.reading import COMMON, Reading
from xref.domain.number import plain

_BEARINGS = (
    (r"(?:SB|SA|UC)\s?\d{3}(?:-\d{1,2})?", "insert bearing", "ISO 9628"),
    (r"R?NA\s?\d{2}(?:/\d{2}|\d{2})", "needle roller RNA", "ISO 1206"),
    (r"NKIS\s?\d{1,3}", "needle roller NKIS", "common practice"),
    (r"NKS\s?\d{1,3}", "needle roller NKS", "common practice"),
)
"""(pattern, type, standard); a number of these needs its row: the digits alone give no width."""


def _bearings(shown: str) -> list[Reading]:
    found = []
    for pattern, type_, standard in _BEARINGS:
        match = re.fullmatch(rf"(?P<number>{pattern})(?P<rest>(?![0-9]).*)", shown)
        if match is None:
            continue
        number = match["number"].replace(" ", "")
        if number.startswith("NA"):
            type_ = "needle roller NA"
        found.append(reading(number, ("bearing", type_, standard), match["rest"], certain=False))
    return found


_SLEEVE = re.compile(
    r"(?P<number>(?:AHX?|H)\s?\d{2,4}(?:/\d{2,4})?[A-Z]{0,2})(?P<rest>(?![0-9]).*)"
)
_NUT = re.compile(r"(?P<letters>KML?|HM|MBL?|MS)\s?(?P<size>\d{1,4}T?)(?P<rest>(?![0-9X×*.]).*)")
_BLOCK = re.compile(r"(?P<number>SNL?\s?\d{3,4}(?:-\d{3})?)(?P<rest>(?![0-9]).*)")
_SPLINE = re.compile(
    rf"(?:SPLINE\s+)?(?P<count>\d{{1,2}}){TIMES}(?P<minor>\d{{1,3}}){TIMES}(?P<major>\d{{1,3}})"
    rf"(?:{TIMES}\d{{1,2}})?(?![0-9.,/X])(?P<rest>.*)"
)
_TAPER = re.compile(
    r"(?P<which>MT|MK|MORSE(?: TAPER)?|JT|JACOBS(?: TAPER)?)[ -]?"
    r"(?P<size>\d{1,2}(?:A \(SHORT\)|A)?)"
    r"(?![0-9.]|[ -]1/2|½)(?P<rest>.*)"
)
_FELT = re.compile(r"FELT(?: RING)?\s+(?P<shaft>\d{1,3})(?![0-9.,])(?P<rest>.*)")


def _sleeves(shown: str) -> list[Reading]:
    found = _SLEEVE.fullmatch(shown)
    if found is None:
        return []
    number = found["number"].replace(" ", "")
    type_ = "adapter sleeve" if number.startswith("H") else "withdrawal sleeve"
    what = ("other", type_, "ISO 2982-1")
    return [reading(number, what, found["rest"], certain=False)]


def _nuts(shown: str) -> list[Reading]:
    found = _NUT.fullmatch(shown)
    if found is None:
        return []
    type_ = "sleeve nut" if found["letters"] in ("KM", "KML", "HM") else "lock washer"
    what = ("other", type_, "ISO 2982-2")
    number = f"{found['letters']}{found['size']}"
    return [reading(number, what, found["rest"], certain=False)]


def _blocks(shown: str) -> list[Reading]:
    found = _BLOCK.fullmatch(shown)
    if found is None:
        return []
    number = re.sub(r"(SNL?)\s?", r"\1 ", found["number"])
    # SN is the letters of DIN 736 to 739 (memory); SNL is makers' letters.
    what = ("other", "plummer block", COMMON if number.startswith("SNL") else "DIN 736 / DIN 738")
    return [reading(number, what, found["rest"], certain=False)]


def _splines(shown: str) -> list[Reading]:
    found = _SPLINE.fullmatch(shown)
    if found is None or int(found["minor"]) >= int(found["major"]):
        return []
    number = "x".join(str(int(found[name])) for name in ("count", "minor", "major"))
    sizes = {name: length(found[name]) or 0 for name in ("minor", "major")}
    what = ("other", "spline", "ISO 14")
    return [reading(number, what, found["rest"], sizes=sizes, certain=False)]


def _tapers(shown: str) -> list[Reading]:
    found = _TAPER.fullmatch(shown)
    if found is None:
        return []
    morse = found["which"].startswith("M")
    size = found["size"].replace("(SHORT)", "(short)")
    if size == "2A":
        size = "2A (short)"
    what = ("other", "morse taper", "ISO 296") if morse else ("other", "jacobs taper", "ASME B5.10")
    return [reading(f"{'MT' if morse else 'JT'} {size}", what, found["rest"])]


def _felts(shown: str) -> list[Reading]:
    found = _FELT.fullmatch(shown)
    if found is None:
        return []
    what = ("other", "felt ring", "DIN 5419")
    return [reading(f"felt ring {found['shaft']}", what, found["rest"], certain=False)]


def read(text: str) -> tuple[Reading, ...]:
    """What ``text`` may name of these; () where nothing. Raises InputError as ``plain`` does."""
    shown = plain(text)
    readers = (_bearings, _sleeves, _nuts, _blocks, _splines, _tapers, _felts)
    return tuple(found for reader in readers for found in reader(shown))
