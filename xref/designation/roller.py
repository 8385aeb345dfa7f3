"""Bearings whose type is given by letters: NU and its like, QJ, and the T codes of ISO 355."""

from __future__ import annotations

import re

from xref.designation.basic import GAP, Basic, mm
from xref.designation.reading import PRACTICE
from xref.designation.rolling import bore_of

_ROLLER = re.compile(
    rf"(?P<letters>R?NU|R?N|NJ|NUP|NF|NCF|NJF|NNU|NN|NNC|NNCF){GAP}"
    r"(?:(?P<series>10|18|19|2[0289]|23|3[0-1]|48|49|50|60|[2-4])(?P<code>\d\d)"
    r"|(?P<wide>10|18|19|2[0289]|23|3[0-1]|48|49|[2-4])/(?P<bore>\d{2,4}))"
    r"(?![\d]|[.,]\d+(?![0-9A-Z]))(?P<rest>.*)",
    re.S,
)
_FOUR_POINT = re.compile(
    rf"QJ{GAP}(?P<series>10|[23])(?P<code>\d\d)(?![\d]|[.,/]\d+(?![0-9A-Z]))(?P<rest>.*)", re.S
)
_TAPER_CODE = re.compile(
    rf"T{GAP}(?P<angle>[1-7])(?P<diameter>[A-G])(?P<width>[A-E]){GAP}(?P<bore>\d{{3}})(?!\d)(?P<rest>.*)",
    re.S,
)
_RIBS = {
    "RNU": "NU without its inner ring: the table's bore is not that of the rollers",
    "RN": "N without its outer ring: the table's outside diameter is not that of the rollers",
}
_ROWS = {"NNU": "double row", "NN": "double row", "NNC": "double row", "NNCF": "double row"}
_FULL = ("NCF", "NJF", "NNC", "NNCF")


def _note(letters: str) -> str:
    said = [_RIBS.get(letters, ""), _ROWS.get(letters, "")]
    said.append("full complement, no cage" if letters in _FULL else "")
    return "; ".join(text for text in said if text)


def cylindrical(text: str) -> tuple[Basic, ...]:
    """NU206, NJ2206, N1012, NU10/500, NN3010: cylindrical rollers (DIN 623-1)."""
    found = _ROLLER.match(text)
    if not found:
        return ()
    letters, series = found["letters"], found["series"] or found["wide"]
    if found["code"]:
        bore = bore_of(found["code"])
        number = f"{letters}{series}{found['code']}"
    else:
        bore = int(found["bore"])
        number = f"{letters}{series}/{bore}"
    if not bore or (not found["code"] and bore < 500 and bore % 5 == 0):
        return ()
    return (
        Basic(
            number,
            f"cylindrical roller {letters}",
            found["rest"],
            sizes={"bore": mm(bore)} if letters not in _RIBS else {},
            dimension_series=f"0{series}" if len(series) == 1 else series,
            note=_note(letters),
        ),
    )


def four_point(text: str) -> tuple[Basic, ...]:
    """QJ206, QJ1012: four-point contact ball, with a split inner ring (DIN 623-1)."""
    found = _FOUR_POINT.match(text)
    bore = bore_of(found["code"]) if found else None
    if not found or not bore:
        return ()
    series = found["series"]
    return (
        Basic(
            f"QJ{series}{found['code']}",
            "four-point contact ball",
            found["rest"],
            sizes={"bore": mm(bore)},
            dimension_series=series.rjust(2, "0"),
            note="the inner ring is split",
        ),
    )


def taper_code(text: str) -> tuple[Basic, ...]:
    """T2EE040, T7FC060: tapered rollers by the series code of ISO 355."""
    found = _TAPER_CODE.match(text)
    if not found or found["bore"] == "000":
        return ()
    angle, diameter, width, bore = found.group("angle", "diameter", "width", "bore")
    return (
        Basic(
            f"T{angle}{diameter}{width}{bore}",
            "tapered roller",
            found["rest"],
            standard="ISO 355",
            sizes={"bore": mm(bore)},
            note=f"contact angle series {angle}, diameter series {diameter}, width series {width}",
        ),
    )


_TOROIDAL = re.compile(
    rf"C{GAP}(?P<series>2[23]|3[0129]|4[019]|[56][09])(?P<code>\d\d)(?![\d.,/]|\s*L[IWDPA]\b)(?P<rest>.*)",
    re.S,
)


def toroidal(text: str) -> tuple[Basic, ...]:
    """C2206, C3024: one row of long barrel rollers, which tilts and shifts (from memory).

    The digits are dimension series and bore code, as those of spherical rollers are.
    """
    found = _TOROIDAL.match(text)
    bore = bore_of(found["code"]) if found else None
    if not found or not bore or bore < _LEAST_TOROIDAL:
        return ()
    return (
        Basic(
            f"C{found['series']}{found['code']}",
            "toroidal roller",
            found["rest"],
            standard=PRACTICE,
            sizes={"bore": mm(bore)},
            dimension_series=found["series"],
            note="one row of long barrel rollers: neither self-aligning ball nor spherical",
        ),
    )


_LEAST_TOROIDAL = 25
"""The smallest bore in millimetres that these are made in. From memory."""

_FULL_ROLLERS = re.compile(
    rf"SL{GAP}18[\s-]*(?P<series>18|2[239]|30)(?P<code>\d\d)(?![\d.,/])(?P<rest>.*)", re.S
)


def full_rollers(text: str) -> tuple[Basic, ...]:
    """SL183008: full complement cylindrical rollers, NCF3008V elsewhere (from memory)."""
    found = _FULL_ROLLERS.match(text)
    bore = bore_of(found["code"]) if found else None
    if not found or not bore:
        return ()
    series, code = found["series"], found["code"]
    return (
        Basic(
            f"SL18{series}{code}",
            "cylindrical roller NCF",
            found["rest"],
            standard=PRACTICE,
            sizes={"bore": mm(bore)},
            dimension_series=series,
            aliases=(f"NCF{series}{code}V",),
            note=_note("NCF"),
        ),
    )
