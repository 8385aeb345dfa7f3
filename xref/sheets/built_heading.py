"""Headings that are put together from words of the trade: "Indv. dia.", "Teilenummer alt".

"From loco", "Pris kr." and "MODEL_CODE" are others. What they mean is told by the sorts of their
words, in any order.
"""

from __future__ import annotations

from functools import cache
from typing import NamedTuple

from xref.domain import serial_words as w
from xref.domain.serial_tokens import tokens
from xref.errors import InputError
from xref.sheets.plain import plain_heading
from xref.sheets.words import word_list

SURE = 0.85
"""How sure a heading is that was put together. Judged."""

_SIZES = {frozenset({"inner", "across"}): "bore", frozenset({"outer", "across"}): "outside"}
_NUMBERS = {frozenset({"old", "number"}): "replaces", frozenset({"new", "number"}): "replaced by"}


class Built(NamedTuple):
    """What a heading means that is put together; ``rest`` is the title without the words that say
    nothing, "" where none was left out."""

    field: str = ""
    rest: str = ""


@cache
def _sorts() -> dict[str, frozenset[str]]:
    found: dict[str, set[str]] = {}
    for row in word_list("heading_pieces"):
        found.setdefault(plain_heading(row["word"]), set()).add(row["what"])
    return {word: frozenset(sorts) for word, sorts in found.items()}


def built_heading(title: str) -> Built:
    """What the words of a title mean together; the plain words are to be looked up before."""
    pieces = plain_heading(title).split()
    sorts = [_sorts().get(piece, frozenset()) for piece in pieces]
    if len(pieces) > 1 and all(sorts):
        said = frozenset(s for some in sorts for s in some) - {"idle", "code"}
        for wanted, field in (*_SIZES.items(), *_NUMBERS.items()):
            if wanted == said:
                return Built(field)
    end = _end_of_range(title)
    if end:
        return Built(end)
    idle = [bool(s & {"idle", "code"}) for s in sorts]
    if any(idle) and not all(idle) and len(pieces) > 1:
        return Built(rest=" ".join(p for p, no in zip(pieces, idle, strict=True) if not no))
    return Built()


def _end_of_range(title: str) -> str:
    """The end of a range of serials that a title names: "From loco", "Lok-Nr. bis"; else ""."""
    flat = title.replace("_", " ").replace("|", " ").replace(":", " ")
    if any(sign.isdigit() for sign in flat):
        return ""
    try:
        found = tokens(flat, ())
    except InputError:
        return ""
    means = [token.means for token in found]
    if len(means) < 2 or not all(means) or not any(w.LABEL in m for m in means):
        return ""
    ends = {e for m in means for e in (w.FROM, w.TO) if e in m and w.LABEL not in m}
    if len(ends) != 1:
        return ""
    return "serial from" if w.FROM in ends else "serial to"
