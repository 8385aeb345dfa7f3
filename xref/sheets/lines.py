"""Lines of a list that are no parts: totals, tax, postage, foot lines; and names of sections."""

from __future__ import annotations

import re
from functools import cache, lru_cache
from typing import NamedTuple

from xref.sheets.plain import plain_words
from xref.sheets.remarks import says_nothing
from xref.sheets.words import word_list

MOST_SECTION = 60
"""Characters of a line that names a section. Judged."""

MOST_SECTION_WORDS = 7

_FOOT_SIGN = re.compile(r"[*†‡#§]+\s*[=:\-–]?\s*[^\W\d_]|\(?[a-zA-Z]\)?\s*=\s*\w|[=–-]{3,}|\(.*\)$")
_COUNTED = re.compile(r"\d+\s+([^\W\d_]+)\W*")
_AMOUNT = re.compile(r"\d+(?:[.,]\d+)?\s*[%£€$]?")
_DATE = re.compile(r"\d{1,4}[./-]\d{1,2}[./-]\d{2,4}")
_NUMBERED = re.compile(r"(?:\d+|[IVX]+|[A-Z])[.)]?\d*[.)]?\s*[-–:.]?\s+[^\W\d_]{3,}.*")
MAYBE = re.compile(r"[^\W\d_]{2,}[\s:.,@]|\d+\s+[^\W\d_]{3,}|[*†‡(=#§-]")
"""How a line of which the first cell has a digit must begin to be looked at."""


class LineSort(NamedTuple):
    """What a line is: total, foot or section; ``name`` is a section's, "" otherwise."""

    sort: str
    name: str = ""


_HAS_DIGIT = re.compile(r"\d").search

_ENDING = frozenset(
    {"total", "totals", "subtotal", "totaal", "subtotaal", "totale", "totalt", "summe", "summa"}
    | {"somme", "suma", "razem", "delsumma", "zwischensumme", "gesamtsumme"}
)
"""Words that end the name of a total, "Stocktake total", and no part's."""


@cache
def _words(sort: str) -> frozenset[str]:
    return frozenset(plain_words(r["word"]) for r in word_list("lines") if r["what"] == sort)


@cache
def _leading(*sorts: str) -> re.Pattern[str]:
    words = sorted((w for s in sorts for w in _words(s) if w), key=len, reverse=True)
    return re.compile(rf"(?:{'|'.join(map(re.escape, words))})(?![^\W_])")


@cache
def _continued() -> re.Pattern[str]:
    words = sorted((w for w in _words("continued") if w), key=len, reverse=True)
    return re.compile(
        rf"\s*[-–,(\[]*\s*\b(?:{'|'.join(map(re.escape, words))})\b[\s.)\]]*$", re.IGNORECASE
    )


@lru_cache(maxsize=4096)
def is_total(text: str) -> bool:
    """Whether a cell says that its line is a sum, a tax or what the post took, in any language."""
    flat = plain_words(text)
    found = _leading("total", "tax", "postage").match(flat)
    if found is None:
        # "Stocktake total", "Gearbox subtotal:", but not "total loss lubricator".
        last = flat.rstrip(" :.=").rpartition(" ")[2]
        return last in _ENDING and not _HAS_DIGIT(flat)
    rest = flat[found.end() :].strip()
    return not rest or not rest[0].isalnum() or bool(_AMOUNT.fullmatch(rest)) or _has_words(rest)


def _has_words(text: str) -> bool:
    return bool(re.search(r"[^\W\d_]{3,}", text))


@lru_cache(maxsize=4096)
def is_foot(text: str) -> bool:
    """Whether a cell is a remark below a list: "Updated 3/5/2021", "2 items", "* = not fitted"."""
    shown = text.strip()
    if _FOOT_SIGN.match(shown):
        return True
    counted = _COUNTED.fullmatch(shown)
    if counted and plain_words(counted[1]) in _words("items"):
        return True
    flat = plain_words(shown)
    found = _leading("foot").match(flat)
    if found is None:
        return False
    rest = flat[found.end() :].strip()
    if _leading("section").match(flat) and found[0] not in _PAGES:
        return False
    return not rest or bool(_DATE.search(rest)) or _has_words(rest) or found[0] in _PAGES


_PAGES = frozenset({"page", "seite", "pagina", "página", "sida", "side", "strona", "blz", "sheet"})


@lru_cache(maxsize=4096)
def section_of(text: str, *, beside: bool = False) -> str:
    """The section that a line of one cell names: GEARBOX, "SECTION 2 - GEARBOX", "Axle (cont.)".

    "" where it names none. ``beside``: the cell does not stand in the first column or that of the
    numbers, so that it must be in capitals or begin with a word such as "Section".
    """
    shown = _continued().sub("", " ".join(text.split())).strip(" :-–=*_")
    flat = plain_words(shown)
    if not flat or len(shown) > MOST_SECTION or len(shown.split()) > MOST_SECTION_WORDS:
        return ""
    if is_total(text) or is_foot(text) or says_nothing(shown) or not _has_words(flat):
        return ""
    named = bool(_leading("section").match(flat)) or bool(_NUMBERED.fullmatch(shown))
    if any(c.isdigit() for c in shown) and not named:
        return ""
    plainly = shown.isupper() or text.rstrip().endswith(":") or named
    if text.rstrip().endswith((".", "!", "?")) and not named:
        return ""
    return shown if plainly or not beside else ""
