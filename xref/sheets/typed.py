"""What a spreadsheet made of a number that somebody typed: recovered, or said what it may be."""

from __future__ import annotations

import datetime
import re
from dataclasses import dataclass

from xref.sheets.cells import text_of, typed_text
from xref.sheets.guard import XLSX
from xref.sheets.sheet import Cell

_MONTHS = (
    "jan|feb|mar|mär|mrz|apr|may|mai|maj|jun|jul|aug|sep|oct|okt|nov|dec|dez|des|janv|févr|fév|mars|"
    "avr|juin|juil|août|sept|déc|gen|mag|giu|lug|ago|set|ott|dic|ene|abr|mrt|mei|sty|lut|kwi|cze|"
    "lip|sie|wrz|paź|lis|gru"
)
_DATE_TEXT = re.compile(
    rf"\d{{1,2}}(?:[-. ]|\. )(?:{_MONTHS})\.?|(?:{_MONTHS})\.?[- ]\d\d"
    r"|\d{1,2}[./]\d{1,2}[./](?:19|20)\d\d|(?:19|20)\d\d-\d\d-\d\d",
    re.IGNORECASE,
)
_DAY_MONTH = re.compile(r"(\d{1,2})(?:[-. ]|\. )([^\W\d_]{3,5})\.?")
_BY_MONTH = (
    {"jan", "janv", "gen", "ene", "sty"},
    {"feb", "févr", "fév", "lut"},
    {"mar", "mär", "mrz", "mars", "mrt"},
    {"apr", "avr", "abr", "kwi"},
    {"may", "mai", "maj", "mag", "mei"},
    {"jun", "juin", "giu", "cze"},
    {"jul", "juil", "lug", "lip"},
    {"aug", "août", "ago", "sie"},
    {"sep", "sept", "set", "wrz"},
    {"oct", "okt", "ott", "paź"},
    {"nov", "lis"},
    {"dec", "dez", "des", "déc", "dic", "gru"},
)
_EXPONENT_TEXT = re.compile(r"\d[.,]\d+E\+\d\d", re.IGNORECASE)
_ERROR_TEXT = re.compile(
    r"#(?:REF!|NAME\?|VALUE!|DIV/0!|N/A|NUM!|NULL!|BEZUG!|WERT!|ZAHL!|NV|ERROR)|Err:\d{3}"
)
_LOST = {
    "#DIV/0!": "a formula that divided by an empty cell, or two numbers with a stroke between",
    "#N/A": "a look-up that found nothing, or the letters NA",
    "#NAME?": "a text that begins with = + or -, such as -2RS, taken for a formula",
    "#NULL!": "two numbers with a blank between, taken for a formula",
    "#REF!": "a formula that pointed to a cell since deleted",
    "#VALUE!": "a formula that reckoned with text, such as 6204-2RS",
}
_GERMAN = {"#BEZUG!": "#REF!", "#WERT!": "#VALUE!", "#ZAHL!": "#NUM!", "#NV": "#N/A"}
_FLOAT_TEXT = re.compile(r"\d+\.0")
_PADDED = re.compile(r"(?=.*0)(?:0|-|\\-|\\ | |\"-\"|\"/\"|/)+")


@dataclass(frozen=True, slots=True)
class Typed:
    """The text of an identifying cell; ``kind`` is "" where nothing need be said of it.

    ``lost``: what was typed cannot be told any more. ``loose``: a plain number, whose zeros in
    front may be gone.
    """

    text: str
    kind: str = ""
    message: str = ""
    lost: bool = False
    loose: bool = False


def typed(cell: Cell, kind: str, number_format: str = "") -> Typed:
    """What was typed into a cell that names something, as far as it can be told."""
    if isinstance(cell, str):
        return _written(cell)
    if isinstance(cell, bool):
        word = typed_text(cell)
        return Typed(word, "truth value", f"the spreadsheet made {word} a truth value of the text")
    if isinstance(cell, int | float):
        return _numeric(cell, kind, number_format)
    return _dated(cell, number_format)


def _written(cell: str) -> Typed:
    text = text_of(cell)
    if len(text) > 12 or not text:
        return Typed(text)
    if text[0] in "#E" and _ERROR_TEXT.fullmatch(text):
        return Typed("", "error", error_said(text), True)
    last = text[-1]
    if last == "0" and _FLOAT_TEXT.fullmatch(text):
        return Typed(text, "number", f'"{text}" may have been {text[:-2]}')
    if last.isdigit() and "+" in text and _EXPONENT_TEXT.fullmatch(text):
        return Typed(text, "exponent", f'"{text}" may be what a spreadsheet made of a long number')
    if _DATE_TEXT.fullmatch(text):
        return Typed(
            text,
            "date",
            f'"{text}" may be a date that a spreadsheet made of two numbers such as 3-4',
        )
    return Typed(text)


def no_size(cell: Cell) -> str:
    """What is said of a date or truth value where a size is looked for: the fraction that it was,
    where that can be one only."""
    shown = typed_text(cell)
    if not isinstance(cell, datetime.date):
        return f"{shown} is no size"
    pairs = ((cell.day, cell.month), (cell.month, cell.day))
    may_be = {f"{a}/{b}" for a, b in pairs if a < b and b in (2, 4, 8, 16) and a % 2}
    if len(may_be) == 1:
        return f"the spreadsheet made the date {shown} of a size; it may have been {may_be.pop()}"
    return f"the spreadsheet made the date {shown} of what was typed; what it was is lost"


def date_of_size(text: str) -> str:
    """What is said of a text such as 01-Feb where a size is looked for; "" for another text."""
    found = _DAY_MONTH.fullmatch(text.strip())
    if found is None:
        return ""
    month = next((n for n, names in enumerate(_BY_MONTH, 1) if found[2].lower() in names), 0)
    day = int(found[1])
    if not month or not 0 < day < 32:
        return ""
    may_be = {f"{a}/{b}" for a, b in ((day, month), (month, day)) if a < b and b in (2, 4, 8, 16)}
    one = f"; it may have been {may_be.pop()}" if len(may_be) == 1 else "; what it was is lost"
    return f"{text.strip()} is a date that the spreadsheet made of a size{one}"


def error_said(error: str) -> str:
    """What is said of a cell that holds an error: that it is lost, and what it may have been."""
    may_be = _LOST.get(_GERMAN.get(error, error), "a formula that could not be worked out")
    return f"the cell is the error {error}; what stood there is lost; it may have been {may_be}"


def _numeric(cell: float, kind: str, number_format: str) -> Typed:
    text = typed_text(cell)
    whole = text.isdigit()
    if whole and kind == XLSX and _PADDED.fullmatch(number_format):
        shown = _padded(text, number_format)
        if shown is not None:
            return Typed(shown)
    if whole and "E+" in number_format.upper():
        return Typed(text, "exponent", f"{text} may have been typed as {_exponent(text)}")
    if not whole:
        return Typed(text, "number", f"{text} is stored as a number; it may have been text")
    bare = text.rstrip("0")
    if kind != XLSX and len(text) - len(bare) >= 4 and len(bare) <= 3:
        return Typed(text, "exponent", f"{text} may have been typed as {_exponent(text)}")
    if len(text) > 15:
        return Typed(text, "number", f"{text} has lost its last digits: a number holds fifteen")
    return Typed(text, loose=True)


def _exponent(text: str) -> str:
    bare = text.rstrip("0")
    return f"{bare}E{len(text) - len(bare)}"


def _padded(digits: str, number_format: str) -> str | None:
    """The digits filled into a format such as 00000 or 000-000; None where they do not fit."""
    plain = re.sub(r'\\(.)|"(.)"', lambda m: m[1] or m[2], number_format)
    places = plain.count("0")
    if len(digits) > places:
        return None
    filled = iter(digits.zfill(places))
    return "".join(next(filled) if c == "0" else c for c in plain)


def _dated(cell: Cell, number_format: str) -> Typed:
    shown = typed_text(cell)
    may_be = "two numbers with a dash or a stroke between"
    if isinstance(cell, datetime.date):
        day, month = cell.day, cell.month
        may_be = f"{day}-{month}, {month}-{day}, {day}/{month} or {month}/{day}"
        if day == 1 and "d" not in number_format.lower():
            may_be += f", or {month}-{cell.year % 100:02d}, {month}/{cell.year}"
    return Typed(
        "",
        "date",
        f"the spreadsheet made the date {shown} of what was typed; it may have been {may_be}",
        True,
    )
