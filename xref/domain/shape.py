"""The shape of a number: where its letters, digits and separators stand."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable

from xref.domain.mark import Mark

LETTER, DIGIT, GAP = "A", "9", "-"
FEW = 3
"""Numbers of one shape below which a shape says nothing of how a maker numbers. Judged."""


def shape(number: str) -> str:
    """``QF-2214`` is ``AA-9999``: letters A, digits 9, runs of separators one dash, ``/`` kept."""
    told: list[str] = []
    for char in unicodedata.normalize("NFKC", number.strip()):
        if char.isdigit():
            told.append(DIGIT)
        elif char.isalpha():
            told.append(LETTER)
        elif char == "/":
            told.append("/")
        elif told and told[-1] != GAP:
            told.append(GAP)
    return "".join(told).strip(GAP)


def may_have(mark: Mark, known: str) -> bool:
    """Whether a reading may be of a number of the shape ``known``; separators are left out.

    False for a mark with a lost stretch, which may be of any shape.
    """
    places = [c for c in known if c in (LETTER, DIGIT)]
    if mark.has_lost_stretch or len(places) != len(mark.signs):
        return False
    return all(
        not sign.chars or place in {DIGIT if c.isdigit() else LETTER for c in sign.chars}
        for sign, place in zip(mark.signs, places, strict=True)
    )


def best_shapes(
    mark: Mark, known: Iterable[tuple[str, str, float]], most: int = 2
) -> list[tuple[str, str, int]]:
    """Maker, shape and count of the shapes the mark may have, the commonest first.

    ``known`` are (maker, shape, how many numbers); shapes of fewer than FEW numbers say nothing.
    """
    found = [
        (maker, form, round(count))
        for maker, form, count in known
        if count >= FEW and may_have(mark, form)
    ]
    return sorted(found, key=lambda f: (-f[2], f[0], f[1]))[:most]
