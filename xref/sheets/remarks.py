"""Words that stand in a cell instead of a number: none, ditto, no longer available, use, was."""

from __future__ import annotations

import re
from functools import cache, lru_cache

from xref.sheets.plain import plain_words
from xref.sheets.words import word_list

DITTO, NONE, REMARK, EVERY = "ditto", "none", "remark", "every"
NEW, OLD, LIKE, NOT = "new", "old", "like", "not"

MOST_TOKENS = 5
"""Words a part number has at most. Judged."""

MOST_LETTERS = 40

_WEB = re.compile(
    r"https?://|www\.|\b[\w-]+\.(?:com|org|net|co\.uk|de|fr|nl|it|es|se|dk|pl|eu)\b|@\w"
)
_LOWER_WORD = re.compile(r"(?<!\w)[^\W\d_]{3,}(?!\w)")
_MARKED_QUOTES = re.compile(r"[\s\-–—/]*[\"″”“„〃]{1,2}[\s\-–—/]*|[\s\-–—]*''[\s\-–—]*")
_SIGNS_ONLY = re.compile(r"[\s?.\-–—_/*]+")


@cache
def _by_sort() -> dict[str, frozenset[str]]:
    found: dict[str, set[str]] = {}
    for row in word_list("remarks"):
        flat = plain_words(row["word"])
        if flat:
            found.setdefault(row["what"], set()).add(flat)
    return {what: frozenset(words) for what, words in found.items()}


@cache
def _leading(sort: str) -> re.Pattern[str]:
    words = sorted((w for w in _by_sort()[sort] if len(w) > 1), key=len, reverse=True)
    return re.compile(rf"(?:{'|'.join(map(re.escape, words))})\b[\s.:=]*")


@lru_cache(maxsize=32_768)
def is_ditto(text: str) -> bool:
    """Whether a cell says that it is as the one above: ditto, do., or a mark of quotes."""
    if len(text) > MOST_LETTERS:
        return False
    return bool(_MARKED_QUOTES.fullmatch(text)) or plain_words(text) in _by_sort()[DITTO]


def says_none(text: str) -> bool:
    """Whether a cell says that there is nothing: n/a, none, a dash, a question mark."""
    if len(text) > MOST_LETTERS:
        return False
    return bool(_SIGNS_ONLY.fullmatch(text)) or plain_words(text) in _by_sort()[NONE]


def says_every(text: str) -> bool:
    """Whether a cell says "all", in one of the languages."""
    return len(text) <= MOST_LETTERS and plain_words(text) in _by_sort()[EVERY]


def says_nothing(text: str) -> bool:
    """Whether a cell is a remark by the table alone: n/a, NLA, TBC, see above."""
    return says_none(text) or is_ditto(text) or plain_words(text) in _by_sort()[REMARK]


def after_word(sort: str, text: str) -> str | None:
    """What follows a leading word of a sort (use, was, same as, not); None where none leads."""
    flat = plain_words(text)
    found = _leading(sort).match(flat)
    if found is None or (found.end() < len(flat) and flat[found.end() - 1].isalnum()):
        return None
    if found.end() == len(flat):
        return ""
    # Plain writing drops accents and signs at the ends, never a word: count words instead.
    gone = len(flat[: found.end()].split())
    words = text.strip(" .:;,!*-–—=()[]").split()
    rest = " ".join(words[gone:]) if len(words) == len(flat.split()) else flat[found.end() :]
    return rest.strip(" .:=") if rest else ""


@lru_cache(maxsize=16_384)
def is_remark(text: str) -> bool:
    """Whether a cell is words about a part and no number: NLA, ask Dave, make from bar, 6 volt
    only, a web address. Text without a digit is one unless it is a single word in capitals."""
    flat = plain_words(text)
    if not flat or says_none(text) or flat in _by_sort()[REMARK] or flat in _by_sort()[EVERY]:
        return True
    if _WEB.search(text):
        return True
    first = flat.split()[0].strip(".:,")
    if not any(c.isdigit() for c in text):
        alone = len(text.split()) == 1 and text.isupper()
        return not alone or after_word(REMARK, text) is not None
    return _is_prose(text) or (first in _by_sort()[REMARK] and len(flat.split()) > 1)


def _is_prose(text: str) -> bool:
    """Whether there are words among the figures that no part number has."""
    if len(text.split()) > MOST_TOKENS or len(text) > MOST_LETTERS:
        return True
    return any(word.islower() or _common(word) for word in _LOWER_WORD.findall(text))


@cache
def _common_words() -> frozenset[str]:
    sorts = (REMARK, NOT, NEW, OLD)
    return frozenset(w for s in sorts for w in _by_sort()[s] if w.isalpha() and len(w) >= 3)


def _common(word: str) -> bool:
    return plain_words(word) in _common_words()


def is_number_like(text: str) -> bool:
    """Whether a text reads as a part number: with a digit, few words, none of them a remark."""
    return any(c.isdigit() for c in text) and not is_remark(text)
