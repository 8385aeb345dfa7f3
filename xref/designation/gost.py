"""Bearing numbers by GOST 3189: digits read from the right, and the ISO number they stand for.

The standard: two digits of bore code, one of diameter series, one of type, two of design, one of
width series; leading zeros are dropped. Types 0 deep groove, 1 self-aligning ball, 2 cylindrical
roller, 3 spherical roller, 4 needle, 6 angular contact, 7 tapered, 8 thrust ball, 9 thrust roller.
"""

from __future__ import annotations

import re
from dataclasses import replace

from xref.designation.basic import Basic
from xref.designation.needle import needle_series
from xref.designation.reading import Feature
from xref.designation.roller import cylindrical
from xref.designation.rolling import digits, one_digit

_NUMBER = re.compile(
    r"(?:(?P<precision>[0456])-)?(?P<digits>[1-9]\d{2,6})(?![\d/]|[.,]\d)(?P<rest>.*)", re.S
)

_PLAIN = {
    "1": {"1": "60", "2": "62", "3": "63", "4": "64"},
    "2": {"2": "12", "3": "13", "5": "22", "6": "23"},
    "3": {"5": "222", "6": "223"},
    "6": {"1": "70", "2": "72", "3": "73"},
    "7": {"2": "302", "3": "303", "5": "322", "6": "323"},
    "8": {"1": "511", "2": "512", "3": "513", "4": "514"},
    "9": {"1": "811", "2": "812"},
}
"""ISO series by diameter series; the outer key is only a name of the row. The diameter series 5
(light wide) and 6 (medium wide) are from memory."""

_ROLLER = {"1": "10", "2": "2", "3": "3", "4": "4", "5": "22", "6": "23"}
_RIBS = {"00": "N", "03": "NU", "04": "NJ", "09": "NUP", "01": "NF"}
"""Rib letters by the two design digits: 2206 = N206, 32206 = NU206, 42206 = NJ206, 92206 = NUP206.
04, 09 and 01 are from memory."""

_DEEP_DESIGN: dict[str, tuple[str, str]] = {
    "00": ("", ""),
    "06": ("Z", "metal shield, one side"),
    "08": ("2Z", "metal shields, both sides"),
    "16": ("RS", "rubber contact seal, one side"),
    "18": ("2RS", "rubber contact seals, both sides"),
    "05": ("N", "snap ring groove in the outer ring"),
}
"""Design digits of deep groove bearings. From memory; the standard was not opened."""

_ANGLE: dict[str, tuple[str, str]] = {
    "03": ("C", "small contact angle, 12 degrees (nearest to 15)"),
    "04": ("AC", "contact angle 26 degrees (nearest to 25)"),
    "06": ("B", "contact angle 36 degrees (nearest to 40)"),
}
"""Design digits of single row angular contact bearings: 36206, 46206, 66206. From memory."""

_WIDE: dict[tuple[str, str, str, str], str] = {
    ("1", "00", "0", "8"): "618",
    ("1", "00", "0", "9"): "619",
    ("7", "00", "0", "1"): "160",
    ("2", "00", "7", "1"): "320",
    ("2", "00", "7", "9"): "329",
    ("3", "05", "6", "2"): "32",
    ("3", "05", "6", "3"): "33",
    ("4", "07", "4", "9"): "NA49",
}
"""Seven-digit numbers by width series, design, type and diameter series: 1000905 = 61905, 2007106 =
32006X, 3056206 = 3206, 4074905 = NA4905. From memory."""


def _deep_groove(design: str, series: str, code: str) -> tuple[str, tuple[str, str]] | None:
    if design not in _DEEP_DESIGN or (len(series) != 1):
        return None
    prefix = _PLAIN["1"].get(series)
    if series == "0" and design != "00":
        # Bores under 10 mm: the last digit is the bore, the one before it the series (80018).
        small = {"1": "60", "2": "62", "3": "63"}.get(code[0])
        return (f"{small}{code[1]}", _DEEP_DESIGN[design]) if small and code[1] != "0" else None
    return (f"{prefix}{code}", _DEEP_DESIGN[design]) if prefix else None


def _plain(type_: str, design: str, series: str, code: str) -> tuple[str, tuple[str, str]] | None:
    """The ISO number and its design suffix for a number without a width series."""
    none = ("", "")
    if type_ == "0":
        return _deep_groove(design, series, code)
    if type_ == "2" and design in _RIBS and series in _ROLLER:
        return f"{_RIBS[design]}{_ROLLER[series]}{code}", none
    if type_ == "6" and design in _ANGLE and series in _PLAIN["6"]:
        return f"{_PLAIN['6'][series]}{code}", _ANGLE[design]
    if type_ == "7" and (design, series) == ("02", "3"):
        return f"313{code}", none  # from memory: 27306 is the steep 31306
    if type_ == "3" and (design, series) in (("05", "5"), ("05", "6")):
        return f"{_PLAIN['3'][series]}{code}", none  # from memory: 53506 is a later 22206
    row = {"1": "2", "3": "3", "7": "7", "8": "8", "9": "9"}.get(type_, "")
    prefix = _PLAIN.get(row, {}).get(series)
    return (f"{prefix}{code}", none) if prefix and design == "00" else None


def iso_number(number: str) -> tuple[str, tuple[str, str]] | None:
    """The ISO designation of a GOST 3189 number of three to seven digits, and (suffix, meaning).

    None where the rule is not known here for sure. The suffix is ("", "") for the plain design.
    """
    full = number.rjust(7, "0")
    width, design, type_, series, code = full[0], full[1:3], full[3], full[4], full[5:]
    if width == "0":
        return _plain(type_, design, series, code)
    prefix = _WIDE.get((width, design, type_, series))
    if prefix:
        return f"{prefix}{code}", ("", "")
    if full.startswith("10000") and full[4] == "0" and code[0] in "89" and code[1] != "0":
        return f"61{code[0]}/{code[1]}", ("", "")
    return None


def read_gost(text: str) -> tuple[Basic, ...]:
    """7206 = 30206, 32206 = NU206, 80205 = 6205-2Z: the bearing that GOST 3189 numbers so.

    () where the ISO number would be the same as the text: that is one reading, not two.
    """
    found = _NUMBER.match(text)
    stands_for = iso_number(found["digits"]) if found else None
    if not found or not stands_for or stands_for[0] == found["digits"]:
        return ()
    number, (code, meaning) = stands_for
    made = (*digits(number), *one_digit(number), *cylindrical(number), *needle_series(number))
    if not made:
        return ()
    said = f"GOST 3189 number {found['digits']}, read from the right: it stands for {number}"
    features = [Feature(code, f"{meaning} (from memory)", "common usage")] if code else []
    if found["precision"]:
        word = f"tolerance class {found['precision']} before the number (from memory)"
        features.append(Feature(found["precision"], word, "common usage"))
    return (
        replace(
            made[0],
            rest=found["rest"],
            numbering="GOST 3189",
            standard="GOST 3189-89",
            aliases=(*made[0].aliases, number),
            features=tuple(features),
            note="; ".join(text for text in (said, made[0].note) if text),
            whole=True,
        ),
    )
