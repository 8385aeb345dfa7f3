"""The usual cautions, and the parts that are never offered on size alone."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache

from xref.domain.part import Part
from xref.domain.words import split_words
from xref.tables import read_table

DEFER = (
    "Odds are not a fitting instruction: the maker's data, local codes and a qualified person "
    "decide what goes in."
)


Phrase = tuple[str, ...]
"""Words that must all stand in a description, in whatever order; "dampf*" is any that begins so."""


@cache
def _rules() -> tuple[tuple[tuple[Phrase, ...], tuple[Phrase, ...], str], ...]:
    """Of each row on words: what calls for its caution, what voids that, and the caution."""
    return tuple(
        (_phrases(row["words"]), _phrases(row["unless"]), row["caution"])
        for row in read_table("caution")
        if row["topic"] == "words"
    )


def _phrases(cell: str) -> tuple[Phrase, ...]:
    return tuple(tuple(phrase.split()) for phrase in cell.split("|") if phrase)


def _says(phrase: Phrase, held: frozenset[str]) -> bool:
    return all(
        any(have.startswith(word[:-1]) for have in held) if word.endswith("*") else word in held
        for word in phrase
    )


def cautions(part: Part) -> tuple[str, ...]:
    """What to mind with this part, the gravest first and each once; kind and description decide.

    A word that is harmless beside another (a fuel *lift* pump, a *valve* spring) gives none.
    """
    held = frozenset(split_words(part.words))
    found = [
        text
        for words, unless, text in _rules()
        if any(_says(p, held) for p in words) and not any(_says(p, held) for p in unless)
    ]
    found += [
        row["caution"]
        for row in read_table("caution")
        if row["topic"] == "kind" and part.kind in row["words"].split("|")
    ]
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
