"""GOST 3189 numbers of bearings in the tables: the digits read from the right.

The rule is GOST 3189-89's: two digits of bore code, one of diameter series, one of type, two of
design, one of width series, leading zeros dropped. Rows marked *memory* were not checked against a
copy of the standard; the others stand in the table of bearing rules or, for 106 = 6006, in a public
table of GOST numbers beside ISO ones.
"""

from __future__ import annotations

_PREFIXES: dict[str, tuple[str, ...]] = {
    "60": ("1",),  # 106 = 6006
    "618": ("10008",),  # memory
    "619": ("10009",),  # memory
    "160": ("70001",),  # memory
    "22": ("15",),  # self-aligning 2206 = 1506; memory
    "23": ("16",),  # memory
    "222": ("35",),  # memory
    "223": ("36",),  # memory
    "32": ("30562",),  # double row angular contact; memory
    "33": ("30563",),  # memory
    "70": ("361", "461"),  # 12 and 26 degrees; memory
    "72": ("362", "462", "662"),  # 12, 26 and 36 degrees; memory
    "73": ("363", "463", "663"),  # memory
    "302": ("72",),
    "303": ("73",),
    "322": ("75",),
    "323": ("76",),
    "313": ("273",),  # memory
    "320": ("20071",),  # memory
    "329": ("20079",),  # memory
    "511": ("81",),
    "512": ("82",),
    "513": ("83",),
    "514": ("84",),
    "811": ("91",),  # memory
    "812": ("92",),  # memory
    "NA49": ("40749",),  # memory
}
"""GOST digits before the bore code, by the ISO series. 62, 63 and 64 (205 = 6205) are left to the
old three-digit numbers, which are the same; 12 and 13 are the same in both."""

_RIBS = {"N": "", "NU": "3", "NJ": "4", "NUP": "9"}
"""Design digit by rib letters: 2206 = N206, 32206 = NU206; 4 and 9 from memory."""

_ROLLER = {"10": "1", "2": "2", "3": "3", "4": "4", "22": "5", "23": "6"}
"""Diameter series of a cylindrical roller bearing by its ISO series; 5 and 6 from memory."""


def _cylindrical(series: str) -> tuple[str, ...]:
    letters = series.rstrip("0123456789")
    diameter = _ROLLER.get(series[len(letters) :])
    if letters not in _RIBS or diameter is None:
        return ()
    return (f"{_RIBS[letters]}2{diameter}",)


def gost_numbers(number: str) -> tuple[str, ...]:
    """The GOST 3189 numbers of the bearing ``number``; () where none is known for sure.

    Only numbers with a two-digit bore code have one here.
    """
    series, code = number[:-2], number[-2:]
    if not (code.isascii() and code.isdigit()):
        return ()
    before = _PREFIXES.get(series) or _cylindrical(series)
    return tuple(prefix + code for prefix in before)
