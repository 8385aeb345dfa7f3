"""The machine that a list's title names: "Spares for the Whimbrel", "Onderdelenlijst Dotterel"."""

from __future__ import annotations

import re
from functools import cache

from xref.sheets.cells import kind_in
from xref.sheets.headings import meanings_of
from xref.sheets.plain import plain_words
from xref.sheets.words import word_list

MOST_TITLE = 80
MOST_NAME_WORDS = 2

_WORD = re.compile(r"[^\W_][\w'’-]*")
_MACHINE_WORDS = frozenset(
    [
        "loco",
        "locomotive",
        "locomotives",
        "locotracteur",
        "locotracteurs",
        "tractor",
        "tractors",
        "engine",
        "engines",
        "machine",
        "lok",
        "lokomotive",
        "maschine",
        "traktor",
        "schlepper",
        "tracteur",
        "machine",
        "locomotora",
        "locomotiva",
        "trattore",
        "lokomotiv",
        "traktor",
        "lokomotyw",
        "lokomotywa",
        "ciągnik",
        "wheel",
        "railcar",
    ]
)
_FOR = frozenset(
    [
        "for",
        "für",
        "fuer",
        "pour",
        "voor",
        "per",
        "para",
        "för",
        "til",
        "till",
        "do",
        "to",
        "fits",
        "of",
        "zu",
        "zur",
        "zum",
        "della",
        "del",
        "des",
        "du",
    ]
)
_IDLE = frozenset(
    [
        "the",
        "a",
        "an",
        "my",
        "our",
        "your",
        "and",
        "all",
        "der",
        "die",
        "das",
        "den",
        "dem",
        "le",
        "la",
        "les",
        "l",
        "de",
        "het",
        "een",
        "il",
        "lo",
        "un",
        "en",
        "un",
        "det",
        "old",
        "new",
        "complete",
        "full",
        "stock",
        "home",
        "workshop",
        "quarry",
        "narrow",
        "gauge",
        "steam",
        "diesel",
    ]
)


@cache
def _listed() -> frozenset[str]:
    sorts = ("sheet", "foot", "total", "assembly", "continued", "section")
    words = (plain_words(r["word"]) for r in word_list("lines") if r["what"] in sorts)
    return frozenset(piece for word in words for piece in word.split())


def machine_in_title(text: str, *, ranged: bool) -> str:
    """The machine's name in a title; "" where it names none for certain.

    A word for a machine or "for" must stand beside the name. ``ranged``: the list has serials, so
    that a word for a list is enough.
    """
    text = " ".join(text.split())
    if len(text) > MOST_TITLE:
        return ""
    words: list[str] = _WORD.findall(re.split(r"\s[-–—|]\s|[:;(]", text)[0])
    flat = [plain_words(w) for w in words]
    listed = any(w in _listed() for w in flat)
    beside = {at + step for at, w in enumerate(flat) if w in _MACHINE_WORDS for step in (-1, 1)}
    names = [at for at, w in enumerate(flat) if _may_be_name(words[at], w)]
    near = [at for at in names if at in beside]
    if len(near) == 1 and (listed or ranged):
        return words[near[0]]
    if not 0 < len(names) <= MOST_NAME_WORDS or names[-1] - names[0] != len(names) - 1:
        return ""
    before = [w for w in flat[: names[0]] if w not in _IDLE]
    after_for = bool(before) and before[-1] in _FOR and listed
    if after_for or (ranged and listed and len(names) == 1):
        return " ".join(words[at] for at in names)
    return ""


def _may_be_name(word: str, flat: str) -> bool:
    """Whether a word of a title may be a machine's name: capitalised, and no word of the trade."""
    if not word[0].isupper() or any(c.isdigit() for c in word) or len(word) < 3:
        return False
    if flat in _listed() | _MACHINE_WORDS | _FOR | _IDLE:
        return False
    return not meanings_of(word) and not kind_in(word)
