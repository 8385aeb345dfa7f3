"""Metric bearing numbers: type, dimension series and bore code (DIN 623-1, ISO 15)."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from xref.designation.basic import END, SEP, Basic, pattern
from xref.designation.reading import MM

_DIN = "DIN 623-1"

DEEP = "deep groove ball"
ANGULAR = "angular contact ball, single row"
DOUBLE_ANGULAR = "angular contact ball, double row"
ALIGNING = "self-aligning ball"
SPHERICAL = "spherical roller"
TAPER = "tapered roller"
THRUST = "thrust ball"
ROLLER_THRUST = "cylindrical roller thrust"
SPHERICAL_THRUST = "spherical roller thrust"

_SERIES: dict[str, dict[str, str]] = {
    DEEP: {
        "618": "18", "619": "19", "160": "00", "161": "", "60": "10", "62": "02", "63": "03",
        "64": "04", "622": "22", "623": "23", "630": "30",
    },
    "double row deep groove ball": {"42": "22", "43": "23"},
    ANGULAR: {"718": "18", "719": "19", "70": "10", "72": "02", "73": "03", "74": "04"},
    DOUBLE_ANGULAR: {"32": "32", "33": "33"},
    ALIGNING: {"12": "02", "13": "03", "22": "22", "23": "23"},
    SPHERICAL: {
        "213": "03", "222": "22", "223": "23", "230": "30", "231": "31", "232": "32",
        "238": "38", "239": "39", "240": "40", "241": "41",
    },
    TAPER: {
        "302": "", "303": "", "313": "", "320": "", "322": "", "323": "", "329": "", "330": "",
        "331": "", "332": "",
    },
    THRUST: dict.fromkeys(("511", "512", "513", "514", "532", "533", "534"), ""),
    "thrust ball, double direction": dict.fromkeys(("522", "523", "524"), ""),
    ROLLER_THRUST: dict.fromkeys(("811", "812", "893", "894"), ""),
    SPHERICAL_THRUST: dict.fromkeys(("292", "293", "294"), ""),
}  # fmt: skip
"""Series with no letters, by type, with the ISO 15 dimension series. "" where ISO 15 sizes do not
follow: a taper's T is not ISO 15's B, thrust bearings follow ISO 104, 161 is a makers' series."""

_ROLLER_SERIES = {
    "2": "02", "3": "03", "4": "04", "10": "10", "22": "22", "23": "23",
}  # fmt: skip
_LETTERED: dict[str, tuple[str, dict[str, str]]] = {
    **{name: (f"cylindrical roller {name}", _ROLLER_SERIES) for name in ("N", "NU", "NJ", "NUP")},
    "NF": ("cylindrical roller NF", _ROLLER_SERIES),
    "NN": ("cylindrical roller NN, double row", {"30": "30", "49": "49"}),
    "NNU": ("cylindrical roller NNU, double row", {"49": "49", "41": "41"}),
    "NCF": (
        "cylindrical roller NCF, full complement",
        {"18": "18", "28": "28", "29": "29", "30": "30", "22": "22"},
    ),
    "QJ": ("four-point contact ball", {"2": "02", "3": "03", "10": "10"}),
}
"""Types that begin with letters. NNU and NF from memory; the rest from the table of type codes."""

_ALIAS = {"68": "618", "69": "619", "52": "32", "53": "33"}
_SHORT = {long: short for short, long in _ALIAS.items()}
_NUMBERING = {"68": "JIS B 1513", "69": "JIS B 1513", "52": "US trade", "53": "US trade"}

_STANDARDS = {TAPER: "ISO 355", "spherical roller thrust": "ISO 104"}
_BY_SERIES = {
    series: (type_, dimension)
    for type_, every in _SERIES.items()
    for series, dimension in every.items()
}

_SELF_ALIGNING_SMALL = {"108": "10", "126": "02", "127": "02", "129": "02", "135": "03"}
"""Small self-aligning bearings whose last digit is the bore in mm (named in the bearing rules)."""

_BORE_CODE = {"00": 10, "01": 12, "02": 15, "03": 17}
_ODD_BORES = ("22", "28", "32")
_MEASURE_BORE = "measure the bore"
_WIDER_CLOSED = ("602", "603")

_NUMBER = pattern(
    rf"(?P<letters>NUP|NNU|NCF|NU|NJ|NN|NF|QJ|N)?{SEP}(?P<core>[0-9]{{2,5}})"
    rf"(?:/(?P<slash>[0-9]{{1,4}}(?:\.[0-9])?))?{END}(?P<tail>.*)"
)
_NO_SLASH = pattern(
    rf"(?P<letters>NUP|NNU|NCF|NU|NJ|NN|NF|QJ|N)?{SEP}(?P<core>[0-9]{{2,5}}){END}(?P<tail>.*)"
)
_ISO_355 = pattern(rf"T{SEP}(?P<series>[1-7][A-G][A-E]){SEP}(?P<bore>[0-9]{{3}}){END}(?P<tail>.*)")


def bore_of(code: str) -> int | None:
    """The bore in nanometres of a two-digit bore code, None for codes over 96 (DIN 623-1)."""
    if code in _BORE_CODE:
        return _BORE_CODE[code] * MM
    return int(code) * 5 * MM if 4 <= int(code) <= 96 else None


@dataclass(frozen=True, slots=True)
class _Row:
    """A series found, with its type and ISO 15 dimension series."""

    series: str
    type: str
    dimension: str


def _row(letters: str, series: str) -> _Row | None:
    if letters:
        type_, every = _LETTERED[letters]
        return _Row(series, type_, every[series]) if series in every else None
    long = _ALIAS.get(series, series)
    return _Row(long, *_BY_SERIES[long]) if long in _BY_SERIES else None


def _slash_bore(series: str, slash: str) -> int | None:
    """The bore in nanometres written after a stroke; None where no such number is written."""
    if series in ("618", "619") and (len(slash) == 1 or slash in ("1.5", "2.5")):
        return int(float(slash) * 10) * MM // 10 or None
    if "." in slash or slash.startswith("0"):
        return None
    return int(slash) * MM if slash in _ODD_BORES or int(slash) >= 500 else None


def _double_thrust(type_: str, bore: int) -> dict[str, int]:
    # DIN 623-1: the code of 522 to 524 is the bore of the single-direction bearing.
    return {} if type_.endswith("double direction") else {"bore": bore}


def _made(letters: str, row: _Row, code: str, bore: int, used: str) -> Basic:
    """``code`` is the bore as it ends the number ("04", "/22"), ``used`` the series as written."""
    short = _SHORT.get(row.series) if not letters else None
    also = [f"{short}{code}"] if short else []
    if row.series == "320":
        also.append(f"{row.series}{code}X")
    return Basic(
        designation=f"{letters}{row.series}{code}",
        type=row.type,
        standard=_STANDARDS.get(row.type, "ISO 104" if "thrust" in row.type else _DIN),
        numbering=_NUMBERING.get(used, "ISO"),
        sizes=_double_thrust(row.type, bore),
        dimension_series=row.dimension,
        also=tuple(also),
    )


def _coded(letters: str, core: str, slash: str) -> Basic | None:
    """A number of series and two-digit bore code, or series, stroke and bore."""
    series = core if slash else core[:-2]
    row = _row(letters, series)
    if row is None:
        return None
    bore = _slash_bore(row.series, slash) if slash else bore_of(core[-2:])
    if bore is None:
        return None
    if slash and bore < 10 * MM:
        return _small(row.series, slash, "ISO")
    return _made(letters, row, f"/{slash}" if slash else core[-2:], bore, series)


def _single_digit(core: str, tail: str) -> tuple[Basic, str] | None:
    """Bores under 10 mm: 603, 628, 688, and 682X for 2.5 mm; the rest of the tail with it."""
    if core in _SELF_ALIGNING_SMALL:
        bore = int(core[-1]) * MM
        own = Basic(core, ALIGNING, _DIN, sizes={"bore": bore}, decided_by=_MEASURE_BORE)
        return own, tail
    series, digit = core[:-1], core[-1]
    if digit == "0" or series not in ("60", "62", "63", "68", "69"):
        return None
    if series in ("60", "62", "63"):
        row = _BY_SERIES[series]
        wider = core if core in _WIDER_CLOSED else ""
        sizes = {"bore": int(digit) * MM}
        return Basic(core, DEEP, _DIN, sizes=sizes, dimension_series=row[1], own_closed=wider), tail
    half = tail.startswith("X") and digit in "12"
    return _small(_ALIAS[series], f"{digit}.5" if half else digit, "JIS B 1513"), tail[half:]


def _small(series: str, mm: str, numbering: str) -> Basic:
    """Bores under 10 mm of series 618 and 619: 618/8 or 688, 618/2.5 or 682X."""
    short = _SHORT[series] + mm.replace(".5", "X")
    return Basic(
        f"{series}/{mm}",
        DEEP,
        _DIN,
        numbering=numbering,
        sizes={"bore": int(float(mm) * 10) * MM // 10},
        dimension_series=_BY_SERIES[series][1],
        also=(short,),
        own_closed=short,
    )


def read_iso_355(text: str) -> Iterator[Basic]:
    """Taper series codes of ISO 355: T7FC045, whose last three digits are the bore in mm."""
    found = _ISO_355.match(text)
    if found and int(found["bore"]):
        name = f"T{found['series']}{found['bore']}"
        sizes = {"bore": int(found["bore"]) * MM}
        yield Basic(name, TAPER, "ISO 355", found["tail"], sizes=sizes)


def read_metric(text: str) -> Iterator[Basic]:
    """Numbers of DIN 623-1 in cleaned ``text``; at most one."""
    found = _NUMBER.match(text)
    basic = _coded(found["letters"] or "", found["core"], found["slash"] or "") if found else None
    if basic is None or found is None:
        found = _NO_SLASH.match(text)
        if found is None:
            return
        basic = _coded(found["letters"] or "", found["core"], "")
    tail = found["tail"]
    if basic is None and not found["letters"] and len(found["core"]) == 3:
        small = _single_digit(found["core"], tail)
        if small is None:
            return
        basic, tail = small
    if basic is not None:
        yield replace(basic, tail=tail)
