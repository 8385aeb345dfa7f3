"""Metric rolling bearings by DIN 623-1: type, dimension series, bore code."""

from __future__ import annotations

import re
from dataclasses import replace

from xref.designation.basic import Basic, mm
from xref.designation.reading import PRACTICE

Series = tuple[str, str]

_DEEP, _SINGLE, _DOUBLE = (
    "deep groove ball",
    "angular contact ball, ",
    "double row deep groove ball",
)
_TAPER, _THRUST = "tapered roller", "thrust ball"

SERIES: dict[str, Series] = {
    **dict.fromkeys(("60",), (_DEEP, "10")),
    **dict.fromkeys(("62",), (_DEEP, "02")),
    **dict.fromkeys(("63",), (_DEEP, "03")),
    **dict.fromkeys(("64",), (_DEEP, "04")),
    "160": (_DEEP, "00"),
    "161": (_DEEP, ""),
    "618": (_DEEP, "18"),
    "619": (_DEEP, "19"),
    "622": (_DEEP, "22"),
    "623": (_DEEP, "23"),
    "630": (_DEEP, "30"),
    "42": (_DOUBLE, "22"),
    "43": (_DOUBLE, "23"),
    "70": (_SINGLE + "single row", "10"),
    "72": (_SINGLE + "single row", "02"),
    "73": (_SINGLE + "single row", "03"),
    "74": (_SINGLE + "single row", "04"),
    "718": (_SINGLE + "single row", "18"),
    "719": (_SINGLE + "single row", "19"),
    "32": (_SINGLE + "double row", "32"),
    "33": (_SINGLE + "double row", "33"),
    "12": ("self-aligning ball", "02"),
    "13": ("self-aligning ball", "03"),
    "22": ("self-aligning ball", "22"),
    "23": ("self-aligning ball", "23"),
    "112": ("self-aligning ball, wide inner ring", ""),
    "113": ("self-aligning ball, wide inner ring", ""),
    "202": ("barrel roller", "02"),
    "203": ("barrel roller", "03"),
    "213": ("spherical roller", "03"),
    **{f"2{s}": ("spherical roller", s) for s in ("22", "23", "30", "31", "32", "40", "41")},
    **{f"2{s}": ("spherical roller", s) for s in ("38", "39")},
    **{f"29{s}": ("spherical roller thrust", "") for s in "234"},
    **dict.fromkeys(("302", "303", "313", "320", "322", "323"), (_TAPER, "")),
    **dict.fromkeys(("329", "330", "331", "332"), (_TAPER, "")),
    **dict.fromkeys(("511", "512", "513", "514"), (_THRUST, "")),
    **dict.fromkeys(("532", "533", "534"), (_THRUST, "")),
    **dict.fromkeys(("522", "523", "524"), ("double direction thrust ball", "")),
    **dict.fromkeys(("811", "812", "893", "894"), ("cylindrical roller thrust", "")),
}
"""Type and ISO 15 dimension series by the digits before the bore code (DIN 623-1). Tapers and
thrust bearings have none: their widths follow ISO 355 and ISO 104. 161, 38, 74, the
self-aligning 112 and 113 and the barrel rollers 202 and 203 from memory."""

_SMALL = {"60": "10", "62": "02", "63": "03"}
"""Deep groove series whose one last digit is the bore in millimetres (608, 623)."""

_SELF_ALIGNING = {"108": "", "126": "", "127": "", "129": "", "135": ""}

_CODES = {"00": 10, "01": 12, "02": 15, "03": 17}

_DIGITS = tuple(
    re.compile(
        rf"(?P<series>\d{{{length}}})(?P<code>\d\d)"
        # Nothing but the closures that begin with a 2 may follow at once (62042RS).
        r"(?:(?=2(?:RS|RZ|RU|RD|Z))|(?![\d]|[.,]\d+(?![0-9A-Z])))(?P<rest>.*)",
        re.S,
    )
    for length in (3, 2)
)
_STROKE = re.compile(
    r"(?P<series>\d{2,3})/(?P<bore>\d{2,4}|\d(?:\.5)?)(?![\d]|[.,]\d)(?P<rest>.*)", re.S
)
_ONE = re.compile(r"(?P<series>\d\d)(?P<bore>\d)(?![\d]|[.,/]\d)(?P<rest>.*)", re.S)
_JIS = re.compile(
    r"6(?P<series>[89])(?:(?P<code>\d\d)|/(?P<stroke>\d{2,4})|(?P<bore>\d)(?P<half>X)?)"
    r"(?![\d]|[.,/]\d)(?P<rest>.*)",
    re.S,
)
_US = re.compile(r"5(?P<series>[23])(?P<code>\d\d)(?![\d]|[.,/]\d)(?P<rest>.*)", re.S)
_THREE = re.compile(r"(?P<series>[234])(?P<code>\d\d)(?![\d]|[.,/]\d)(?P<rest>.*)", re.S)

_LARGEST = 2500
"""The largest bore in millimetres taken from a stroke. Judged; the tables end at 1400."""

_NOTES = {
    "52": "double direction: the bore code is that of the single direction bearing",
    "53": "with a sphered housing washer",
}


def bore_of(code: str) -> int | None:
    """The bore in millimetres of a two-digit bore code, None where it is none (97 to 99).

    00 01 02 03 are 10 12 15 17 mm, 04 to 96 five times the code (DIN 623-1).
    """
    value = _CODES.get(code, 5 * int(code))
    return value if int(code) <= 96 else None


def _small_stroke(series: str, bore: str) -> bool:
    """Whether a bore after a stroke is one that no two-digit code could give."""
    value = float(bore)
    if value < 10:
        return series in ("618", "619", "630")
    return 500 <= value <= _LARGEST or (value < 500 and value % 5 != 0)


def _metric(series: str, code: str, bore: float, rest: str, *, stroke: bool = False) -> Basic:
    type_, dimension = SERIES[series]
    two_ways = series[:2] == "52"
    return Basic(
        designation=f"{series}{'/' if stroke else ''}{code}",
        type=type_,
        rest=rest,
        sizes={} if two_ways else {"bore": mm(bore)},
        dimension_series=dimension,
        aliases=_short(series, code, stroke),
        note=_NOTES.get(series[:2], "") if len(series) == 3 else "",
    )


def _short(series: str, code: str, stroke: bool) -> tuple[str, ...]:
    """The other numbers of the same bearing: 6804 for 61804 (JIS), 5206 for 3206 (US style)."""
    if series in ("618", "619"):
        start = f"6{series[2]}"
        if stroke and len(code) > 1 and "." not in code:
            return (f"{start}/{code}",)
        return (f"{start}{code.replace('.5', 'X')}",)
    if series in ("32", "33"):
        return (f"5{series[1]}{code}",)
    return ()


def digits(text: str) -> tuple[Basic, ...]:
    """6204, 16005, 32206, 62/22, 618/2.5, 511/500: digits alone."""
    for pattern in _DIGITS:
        found = pattern.match(text)
        if found and found["series"] in SERIES:
            bore = bore_of(found["code"])
            return (_metric(found["series"], found["code"], bore, found["rest"]),) if bore else ()
    found = _STROKE.match(text)
    if found and found["series"] in SERIES and _small_stroke(found["series"], found["bore"]):
        series, bore_text = found["series"], found["bore"]
        return (_metric(series, bore_text, float(bore_text), found["rest"], stroke=True),)
    return ()


def one_digit(text: str) -> tuple[Basic, ...]:
    """608, 623: the last digit is the bore; and the self-aligning 108, 126, 127, 129, 135."""
    found = _ONE.match(text)
    if not found:
        return ()
    series, bore, rest = found["series"], found["bore"], found["rest"]
    if series in _SMALL and bore not in "01":
        return (
            Basic(
                series + bore,
                _DEEP,
                rest,
                sizes={"bore": mm(bore)},
                dimension_series=_SMALL[series],
            ),
        )
    if series + bore in _SELF_ALIGNING:
        return (Basic(series + bore, "self-aligning ball", rest, sizes={"bore": mm(bore)}),)
    return ()


def jis(text: str) -> tuple[Basic, ...]:
    """6804 = 61804, 688 = 618/8, 682X = 618/2.5, 68/500 = 618/500 (JIS B 1513)."""
    found = _JIS.match(text)
    if not found:
        return ()
    series, rest = f"61{found['series']}", found["rest"]
    if found["code"]:
        bore = bore_of(found["code"])
        made = _metric(series, found["code"], bore, rest) if bore else None
    elif found["stroke"]:
        value = found["stroke"]
        made = (
            _metric(series, value, float(value), rest, stroke=True) if int(value) >= 500 else None
        )
    else:
        code = found["bore"] + (".5" if found["half"] else "")
        made = _metric(series, code, float(code), rest, stroke=True) if code[0] != "0" else None
    if made is None:
        return ()
    return (replace(made, numbering="JIS B 1513", standard="JIS B 1513"),)


def us_style(text: str) -> tuple[Basic, ...]:
    """5206 = 3206, 5306 = 3306: double row angular contact (common usage)."""
    found = _US.match(text)
    bore = bore_of(found["code"]) if found else None
    if not found or not bore:
        return ()
    made = _metric(f"3{found['series']}", found["code"], bore, found["rest"])
    note = f"5{found['series']}xx for 3{found['series']}xx is common usage; widths may be rounded"
    return (replace(made, numbering="US style", standard="common usage", note=note),)


def three_digit(text: str) -> tuple[Basic, ...]:
    """205 = 6205, 306 = 6306, 406 = 6406: the old light, medium and heavy series.

    Common practice, no published source; GOST 3189 writes the same bearings alike.
    """
    found = _THREE.match(text)
    bore = bore_of(found["code"]) if found else None
    if not found or not bore:
        return ()
    made = _metric(f"6{found['series']}", found["code"], bore, found["rest"])
    note = "old three-digit number (common practice, no published source); GOST 3189 has it too"
    return (
        replace(
            made,
            numbering="old three-digit",
            standard=PRACTICE,
            note=note,
            needs_table=True,
            whole=True,
        ),
    )
