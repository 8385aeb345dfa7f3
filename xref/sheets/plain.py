"""Words made alike for comparing: case, accents, dots and strokes do not matter."""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache

from xref.domain.words import plain_words as plain_words
from xref.domain.words import unaccented as unaccented

_CAMEL = re.compile(r"(?<=[a-zà-ÿ])(?=[A-ZÀ-Ý][a-zà-ÿ])")
_APOSTROPHES = re.compile("['’`´]")
_PARTED = re.compile(r"[^\w]+|_")
_ROUND = frozenset("ø⌀φ∅")


@lru_cache(maxsize=16_384)
def plain_heading(text: str) -> str:
    """A heading for comparing: lower case, letters and digits, single letters put together.

    PartNo is two words, as PART_NO is; accents are dropped, ``ø`` alone is a diameter.
    """
    parted = _APOSTROPHES.sub("", _CAMEL.sub(" ", text))
    flat = unicodedata.normalize("NFKC", parted).casefold()
    joined: list[str] = []
    letters = False
    for piece in _PARTED.sub(" ", flat.replace("⌀", " ø ").replace("∅", " ø ")).split():
        single = len(piece) == 1 and piece.isalpha() and piece not in _ROUND
        if single and letters:
            joined[-1] += unaccented(piece)
        else:
            joined.append("ø" if piece in _ROUND else unaccented(piece))
        letters = single
    return " ".join(joined)
