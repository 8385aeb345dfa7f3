"""Ball and roller bearings by inch numbers, and the metric miniature MR series."""

from __future__ import annotations

import re
from fractions import Fraction

from xref.designation.basic import GAP, Basic, mm
from xref.designation.reading import COMMON, PRACTICE
from xref.domain.size import NM_PER_INCH

_END = r"(?![\d]|[.,/]\d+(?![0-9A-Z]))(?P<rest>.*)"
_R = re.compile(
    rf"R{GAP}(?P<digits>\d{{1,4}})(?P<dash>-[1-9](?![0-9A-Z]))?(?P<large>A(?![0-9A-Z]))?{_END}",
    re.S,
)
_BRITISH = re.compile(rf"(?P<letters>RLS|RMS){GAP}(?P<eighths>\d{{1,2}}){_END}", re.S)
_ROLLER = re.compile(
    rf"(?P<letters>XLRJ|LRJ|MRJ){GAP}(?P<whole>\d{{1,2}})[\s-]*(?P<part>[½¼¾]|[123]/[24])?{_END}",
    re.S,
)
_BY_BORE = re.compile(
    rf"(?P<letters>KLNJ|LJ|MJ){GAP}(?=[\d½¼¾])(?P<whole>\d(?![\d/]))?[\s-]*"
    rf"(?P<part>[½¼¾]|[1-7]/[248])?{_END}",
    re.S,
)
_HALF_SIGNS = str.maketrans({"½": "1/2", "¼": "1/4", "¾": "3/4"})
_KLNJ = tuple(Fraction(eighths, 8) for eighths in range(3, 9))
_LIGHT = re.compile(rf"(?P<number>16[0-5]\d){_END}", re.S)
_MINIATURE = re.compile(rf"MR{GAP}(?P<outside>\d{{1,2}})(?P<bore>[1-9]){_END}", re.S)

_PARTS = {"1/2": "½", "1/4": "¼", "3/4": "¾"}
_INCHES = {"": Fraction(0), "½": Fraction(1, 2), "¼": Fraction(1, 4), "¾": Fraction(3, 4)}
_SIXTEENTHS = range(2, 25)
_EIGHTHS = range(2, 49)
_TRADE, _INCH = "inch series (ABMA)", "inch"
_BALL = "deep groove ball, inch"


def _inches(value: Fraction) -> int:
    return int(value * NM_PER_INCH)


def r_series(text: str) -> tuple[Basic, ...]:
    """R8, R4A, R1-5, R188: for R2 to R24 the number is the bore in sixteenths of an inch."""
    found = _R.match(text)
    if not found:
        return ()
    digits, dash, large = found["digits"], found["dash"] or "", found["large"] or ""
    by_rule = int(digits) in _SIXTEENTHS and not dash and digits[0] != "0"
    return (
        Basic(
            f"R{digits}{dash}{large}",
            _BALL,
            found["rest"],
            numbering=_INCH,
            standard=_TRADE,
            sizes={"bore": _inches(Fraction(int(digits), 16))} if by_rule else {},
            note="A: larger outside diameter than the plain number" if large else "",
            needs_table=not by_rule,
        ),
    )


def british(text: str) -> tuple[Basic, ...]:
    """RLS8, RMS10: light and medium British inch; the number is the bore in eighths of an inch."""
    found = _BRITISH.match(text)
    if not found or int(found["eighths"]) not in _EIGHTHS or found["eighths"][0] == "0":
        return ()
    return (
        Basic(
            found["letters"] + found["eighths"],
            _BALL,
            found["rest"],
            numbering=_INCH,
            standard=COMMON,
            sizes={"bore": _inches(Fraction(int(found["eighths"]), 8))},
            note="light series" if found["letters"] == "RLS" else "medium series",
        ),
    )


def british_by_bore(text: str) -> tuple[Basic, ...]:
    """LJ1, MJ 1 1/8, KLNJ1/2: old letters before the bore in inches: they are RLS, RMS and R
    bearings (common practice, no published source).

    Only in whole eighths of an inch, and KLNJ from 3/8 to 1 in: about the others readings differ.
    """
    found = _BY_BORE.match(text)
    if not found:
        return ()
    whole, part = found["whole"] or "0", found["part"] or "0"
    bore = Fraction(whole) + Fraction(part.translate(_HALF_SIGNS) if part in "½¼¾" else part)
    letters, eighths = found["letters"], bore * 8
    if eighths.denominator != 1 or int(eighths) not in _EIGHTHS:
        return ()
    if letters == "KLNJ" and bore not in _KLNJ:
        return ()
    same = f"R{int(bore * 16)}" if letters == "KLNJ" else f"R{letters[0]}S{int(eighths)}"
    shown = " ".join(text for text in (found["whole"] or "", found["part"] or "") if text)
    return (
        Basic(
            f"{letters}{shown.replace(' ', '-')}",
            _BALL,
            found["rest"],
            numbering=_INCH,
            standard=PRACTICE,
            sizes={"bore": _inches(bore)},
            aliases=(same,),
            of=same,
            note=f"old letters and the bore in inches: the sizes are those of {same}",
        ),
    )


def british_roller(text: str) -> tuple[Basic, ...]:
    """LRJ3½, MRJ4, XLRJ5 1/2: British inch cylindrical rollers, numbered by the bore in inches."""
    found = _ROLLER.match(text)
    if not found or int(found["whole"]) == 0:
        return ()
    part = _PARTS.get(found["part"] or "", found["part"] or "")
    if part not in _INCHES:
        return ()
    weights = {"XLRJ": "extra light series", "LRJ": "light series", "MRJ": "medium series"}
    return (
        Basic(
            f"{found['letters']}{found['whole']}{part}",
            "cylindrical roller, inch",
            found["rest"],
            numbering=_INCH,
            standard=COMMON,
            sizes={"bore": _inches(int(found["whole"]) + _INCHES[part])},
            note=weights[found["letters"]],
        ),
    )


def light_series(text: str) -> tuple[Basic, ...]:
    """1601 to 1654: the inch light series; its number says no size, so a table must have it."""
    found = _LIGHT.match(text)
    if not found or not 1601 <= int(found["number"]) <= 1654:
        return ()
    number = found["number"]
    return (
        Basic(number, _BALL, found["rest"], numbering=_INCH, standard=_TRADE, needs_table=True),
    )


def miniature(text: str) -> tuple[Basic, ...]:
    """MR105: outside diameter, then one digit of bore, in millimetres (common usage)."""
    found = _MINIATURE.match(text)
    if not found or int(found["outside"]) <= int(found["bore"]):
        return ()
    return (
        Basic(
            f"MR{found['outside']}{found['bore']}",
            "deep groove ball",
            found["rest"],
            standard="common usage",
            sizes={"bore": mm(found["bore"]), "outside": mm(found["outside"])},
        ),
    )
