"""Several steps in one cell: "A -> B -> C", "was A, then B", "A superseded by B in 1952"."""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import pairwise

from xref.domain.number import folded
from xref.sheets.remarks import NEW, OLD, after_word, is_number_like

_ARROW = re.compile(
    r"\s*(?:-+>|=+>|→|⇒|➔|»|>+)\s*"
    r"|\s*[,;]?\s+(?:and\s+)?(?:then|later|dann|danach|später|puis|ensuite|daarna|later|poi|luego|"
    r"después|sedan|senare|derefter|siden|potem|następnie)\s+",
    re.I,
)
_DATED = re.compile(
    r"[\s,(]+(?:(?:in|from|since|ab|seit|im|en|depuis|dès|vanaf|sinds|dal|nel|desde|från|fra|od|w)\s+)?"
    r"(?:[^\W\d_]{3,9}\.?\s+)?(?:18|19|20)\d\d\)?$|\s*\(?\d{1,2}[./-]\d{1,2}[./-]\d{2,4}\)?$",
    re.I,
)

STEPS = "steps"
"""The field of a step between two other numbers, ``old`` and ``new`` on a line each."""


def undated(text: str) -> str:
    """``text`` without the year or date behind it: "CH 16 in 1952" is CH 16."""
    return _DATED.sub("", text).strip() or text


def steps_in(text: str) -> tuple[tuple[str, ...], bool]:
    """The numbers of a chain in their order, () where a cell is none; and whether it says that all
    of them are older than the part of the row ("was A, then B")."""
    pieces = [undated(p.strip(" ,;")) for p in _ARROW.split(" ".join(text.split()))]
    if len(pieces) < 2:
        return (), False
    older = bool(after_word(OLD, pieces[0]))
    numbers = [after_word(NEW, p) or after_word(OLD, p) or p for p in pieces if p]
    plain = len(numbers) > 1 and all(map(is_number_like, numbers))
    return (tuple(numbers), older) if plain else ((), False)


def links_of_chain(
    numbers: Sequence[str], own: str, field: str, *, older: bool
) -> list[tuple[str, str]]:
    """The links that a chain gives the part ``own``, and those between two others (``STEPS``).

    Where the chain does not name the part, it follows it in a column of newer numbers and leads to
    it in one of older.
    """
    chain = list(numbers)
    if folded(own) not in map(folded, chain):
        chain = [*chain, own] if older or field == "replaces" else [own, *chain]
    links = []
    for old, new in pairwise(chain):
        if folded(old) == folded(own):
            links.append(("replaced by", new))
        elif folded(new) == folded(own):
            links.append(("replaces", old))
        else:
            links.append((STEPS, f"{old}\n{new}"))
    return links
