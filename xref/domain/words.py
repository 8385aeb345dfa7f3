"""Descriptions as words."""

from __future__ import annotations

import re

_WORD = re.compile(r"[^\W_]+")


def split_words(text: str) -> list[str]:
    """The words of a description in lower case, each once, in order."""
    return list(dict.fromkeys(_WORD.findall(text.lower())))


HANDS = {
    "left": "left",
    "lh": "left",
    "l.h.": "left",
    "right": "right",
    "rh": "right",
    "r.h.": "right",
}
"""Words of a hand: they are evidence by themselves."""


def hand(text: str) -> str:
    """ "left" or "right" where ``text`` names just one hand, otherwise ""."""
    named = {HANDS[w] for w in re.split(r"[\s,;()/-]+", text.lower()) if w in HANDS}
    return named.pop() if len(named) == 1 else ""
