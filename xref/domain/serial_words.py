"""The words that people put around serial numbers, in several languages, and what they mean.

They stand in ``serial_words.csv``; a language is added by adding rows. Common practice, no
published source: "up to" and its like include the number they name, "before" and "after" do not.
"""

from __future__ import annotations

import csv
import io
import re
import unicodedata
from functools import cache
from importlib import resources

FROM, TO, BETWEEN, PAIR, BEFORE, AFTER = "from", "to", "between", "open pair", "before", "after"
ONWARD, EARLIER, EXCEPT, AND, INCLUDING = "onward", "earlier", "except", "and", "including"
ALL, ONLY, BARE, ABOUT, MARK, DATE, LABEL = "all", "only", "bare", "about", "mark", "date", "label"
DASH = "dash"

COMPONENTS = frozenset({"engine", "gearbox", "boiler"})
"""Meanings that say of which component the number is."""

_SHORT = frozenset({"TO", "UP", "NO", "NR", "MK"})
"""Words of two letters that are no prefix even where they are joined to a number."""

_OPENING = frozenset({FROM, TO, BEFORE, AFTER, EXCEPT, ABOUT})


@cache
def _rows() -> dict[str, frozenset[str]]:
    text = resources.files("xref.domain").joinpath("serial_words.csv").read_text("utf-8")
    found: dict[str, set[str]] = {}
    for row in csv.DictReader(io.StringIO(text, newline="")):
        found.setdefault(plain_letters(flattened(row["words"])), set()).add(row["means"])
    return {words: frozenset(means) for words, means in found.items()}


def flattened(text: str) -> str:
    """Upper case, accents in one sign, one space between words, every long dash the same."""
    upper = unicodedata.normalize("NFC", text).upper()
    for sign in "—―‒−":
        upper = upper.replace(sign, "–")
    upper = re.sub(r"\.\.+", "…", upper.replace("’", "'").replace("`", "'"))
    return " ".join(upper.replace("&", " AND ").split())


def plain_letters(text: str) -> str:
    """``text`` without accents, sign for sign, so that places in it stay what they were."""
    return "".join(unicodedata.normalize("NFD", sign)[0] for sign in text)


def means_of(word: str) -> frozenset[str]:
    """What a word means beside a serial; nothing for one that is not in the table."""
    return _rows().get(plain_letters(flattened(word)), frozenset())


def never_prefix(letters: str) -> bool:
    """Whether letters joined to a number are a word all the same: BIS4511, MK2."""
    return letters in _SHORT or ((len(letters) > 2 or "/" in letters) and bool(means_of(letters)))


def opens_range(letters: str) -> bool:
    """Whether the letters are a word that stands before a serial: "ab 4512"."""
    about = {ABOUT} if len(letters) == 1 else set[str]()
    return bool((means_of(letters) & _OPENING) - about)


@cache
def phrases() -> re.Pattern[str]:
    """Any of the words, longest first, at the place where a match is tried."""
    longest = sorted(_rows(), key=lambda words: (-len(words), words))
    return re.compile("|".join(f"(?:{_pattern(words)})" for words in longest))


def _pattern(words: str) -> str:
    apart = r"[ .\-]*".join(map(re.escape, words.split()))
    if not words[-1].isalpha():
        return apart
    dotted = len(words) > 1 or _rows()[words] & {ABOUT, LABEL} or words == "U"
    ending = r"(?:[.:]+|(?![^\W_]|/|\.\d))" if dotted else r"(?![^\W_]|[./])"
    # An S/N or a t/m is joined to its number as often as not.
    return apart + (r"(?:[.:]+|(?![^\W\d_]|/))" if "/" in words else ending)


def means_matched(text: str) -> frozenset[str]:
    """What the words of a match of ``phrases`` mean."""
    plain = text.rstrip(".:") or text
    known = _rows()
    if plain in known:
        return known[plain]
    flat = " ".join(re.split(r"[ .\-]+", plain)).strip()
    if flat in known:
        return known[flat]
    return _squeezed().get(re.sub(r"[ .\-]", "", plain), frozenset())


@cache
def _squeezed() -> dict[str, frozenset[str]]:
    return {re.sub(r"[ .\-]", "", words): means for words, means in _rows().items()}
