"""Descriptions as words."""

from __future__ import annotations

import re
import unicodedata

_WORD = re.compile(r"[^\W_]+")
_APOSTROPHES = re.compile("['’`´]")
_ALIKE = str.maketrans(
    {"ø": "o", "ł": "l", "æ": "ae", "œ": "oe", "ß": "ss", "đ": "d", "ð": "d", "þ": "th"}
)
"""Letters that no decomposition takes apart."""


def unaccented(text: str) -> str:
    """Lower-case ``text`` with plain letters: ä is a, ø is o, ß is ss."""
    if text.isascii():
        return text
    apart = unicodedata.normalize("NFKD", text.translate(_ALIKE))
    return "".join(c for c in apart if not unicodedata.combining(c))


def plain_words(text: str) -> str:
    """A sentence for comparing: lower case, no accents, one blank between words, no sign at an
    end of it; signs inside it stay."""
    flat = unaccented(unicodedata.normalize("NFKC", text).casefold())
    return " ".join(_APOSTROPHES.sub("", flat).split()).strip(" .:;,!*-–—=()[]")


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
