"""The usual cautions, and the parts that are never offered on size alone."""

from __future__ import annotations

from collections.abc import Sequence

from xref.domain.part import Part
from xref.domain.words import split_words
from xref.tables import read_table

DEFER = (
    "Odds are not a fitting instruction: the maker's data, local codes and a qualified person "
    "decide what goes in."
)


def _rows(column: str) -> list[tuple[frozenset[str], str]]:
    return [
        (frozenset(row["words"].split("|")), row["caution"])
        for row in read_table("caution")
        if row["topic"] == column
    ]


def cautions(part: Part) -> tuple[str, ...]:
    """What to mind with this part, the gravest first; kind and description decide."""
    held = set(split_words(part.words))
    found = [text for words, text in _rows("words") if held & words]
    found += [text for kinds, text in _rows("kind") if part.kind in kinds]
    return tuple(dict.fromkeys(found))


def never_on_size_alone(part: Part) -> bool:
    """Whether a stronger or weaker part of the same size would be as wrong as no part at all.

    Shear pins, fusible plugs, relief springs, lifting and coupling pins, in whatever order the
    words stand: common practice, no published source.
    """
    held = set(split_words(part.words))
    return any(held.issuperset(split_words(phrase)) for phrase in _critical())


def _critical() -> Sequence[str]:
    return [
        phrase
        for row in read_table("caution")
        if row["topic"] == "never on size alone"
        for phrase in row["words"].split("|")
    ]
