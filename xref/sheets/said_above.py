"""What a line beside a list, or the name of its sheet, says of the whole of it."""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import cache, lru_cache

from xref.sheets.cells import kind_in
from xref.sheets.plain import plain_words
from xref.sheets.words import word_list

_INCH = re.compile(
    r"\b(?:inch(?:es)?|ins|imperial|zoll|pouces?|pollici|pulgadas|duim|tum|tommer|cale|calach|cali)\b"
)
_MM = re.compile(r"\b(?:mm|mil+imet\w*|mil+imè?tr\w*|metric|metri(?:sch|skt?|que|co))\b")
_YEAR = re.compile(r"(?:18|19|20)\d\d(?:\s*[-–/]\s*\d{2,4})?")
MOST_SENTENCE = 120


@lru_cache(maxsize=1024)
def unit_said(text: str) -> str:
    """The unit that a sentence gives for a list: "All dimensions in inches"; "" for none."""
    if len(text) > MOST_SENTENCE or any(c.isdigit() for c in text):
        return ""
    flat = plain_words(text)
    inch, mm = bool(_INCH.search(flat)), bool(_MM.search(flat))
    return "" if inch == mm else "inch" if inch else "mm"


@cache
def _of(sort: str) -> frozenset[str]:
    return frozenset(plain_words(r["word"]) for r in word_list("lines") if r["what"] == sort)


def named_by_sheet(name: str, others: Iterable[str]) -> tuple[str, str]:
    """What a sheet's name says of its rows: "model", "assembly" or "year", and the name itself.

    ("", "") where it says nothing, and where it is the only sheet: its name is then the file's.
    """
    if not any(True for _ in others):
        return "", ""
    tokens = [re.sub(r"\d+$", "", t) or t for t in re.findall(r"[^\W_]+", plain_words(name))]
    if _YEAR.fullmatch(name.strip()):
        return "year", name.strip()
    words = [t for t in tokens if not t.isdigit()]
    if not words or all(t in _of("sheet") for t in words) or plain_words(name) in _of("sheet"):
        return "", ""
    if kind_in(name):
        return "", ""
    if any(t in _of("assembly") for t in words):
        return "assembly", " ".join(name.split())
    kept = [w for w in name.split() if plain_words(w) not in _of("sheet")]
    return "model", " ".join(kept)
