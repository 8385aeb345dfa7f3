"""The usual cautions, and the parts that are never offered on size alone."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache, lru_cache

from xref.domain.part import Part
from xref.tables import read_table

DEFER_SHORT = "Odds are not a fitting instruction: maker's data and qualified people decide."
"""The same as ``DEFER`` in one line of a screen."""
DEFER = (
    "Odds are not a fitting instruction: the maker's data, local codes and a qualified person "
    "decide what goes in."
)
NOT_BY_SIZE = (
    "Never chosen by its size: stronger is as wrong as weaker. Nothing is offered by size; find "
    "its number, on the part or in the parts book, and the maker's data."
)
NEVER_BY_SIZE = "never"
"""The name of what is told of parts that are never offered on size alone."""

Phrase = tuple[str, ...]
"""Words that must all stand in a description, in whatever order. "dampf*" is any that begins so,
"*kessel" any that ends so, "=shear" that word and not its plural."""

_TOKEN = re.compile(r"[^\W_]+|[,;:/()]")
_LETTERS = str.maketrans({"ß": "ss", "ł": "l", "ø": "o", "æ": "ae", "đ": "d"})
_SMALL = re.compile(
    "an?|the|of|for|to|with|and|from|on|in|s|de|d|du|des|la|les?|l|di|del|della|dello|da|per|aux?|"
    "voor|het|een|en|der|die|das|dem|den|fur|fuer|zum|zur|mit|av|till|med|och|dla|do|ze?|w"
)
"""Words between others that say nothing by themselves. Judged."""


@dataclass(frozen=True, slots=True)
class _Rule:
    """One row of words: what calls for the caution, what voids it, and where a word is harmless."""

    name: str
    words: tuple[Phrase, ...]
    unless: tuple[Phrase, ...]
    harmless: tuple[Phrase, ...]


def cautions(part: Part) -> tuple[str, ...]:
    """What to mind with this part, the gravest first and each once; kind and description decide.

    What is on record of other parts is not looked at (see ``cautions_of``).
    """
    return tuple(caution_text(name) for name in dangers(part.words, part.kind))


def dangers(words: str, kind: str = "") -> tuple[str, ...]:
    """The names of the cautions that a description and a kind call for, the gravest first.

    A word that is harmless beside another (a fuel *lift* pump, a *valve* spring) gives none.
    """
    told = _told(words) - {NEVER_BY_SIZE}
    return tuple(n for n, (kinds, _) in _cautions().items() if n in told or kind in kinds)


def caution_text(name: str) -> str:
    """The sentence of the caution called ``name``."""
    return _cautions()[name][1]


def each_once(texts: Iterable[str]) -> tuple[str, ...]:
    """The same without a caution that is told already, because of whatever part."""
    found: dict[str, str] = {}
    for text in texts:
        plain = next((told for _, told in _cautions().values() if text.startswith(told)), text)
        found.setdefault(plain, text)
    return tuple(found.values())


def never_on_size_alone(part: Part) -> bool:
    """Whether a stronger or weaker part of the same size would be as wrong as no part at all."""
    return never_by_size(part.words)


def never_by_size(words: str) -> bool:
    """Whether what these words describe must not be chosen by its size, however they stand.

    Shear pins, fusible plugs, relief springs, lifting and coupling parts: common practice, no
    published source.
    """
    return NEVER_BY_SIZE in _told(words)


@cache
def _cautions() -> Mapping[str, tuple[tuple[str, ...], str]]:
    """Kinds and sentence of every caution by name, the gravest first."""
    return {
        row["name"]: (tuple(row["kinds"].split("|")) if row["kinds"] else (), row["caution"])
        for row in read_table("caution")
    }


@cache
def _rules() -> tuple[_Rule, ...]:
    return tuple(
        _Rule(row["name"], *(_phrases(row[c]) for c in ("words", "unless", "harmless")))
        for row in read_table("caution_word")
    )


def _phrases(cell: str) -> tuple[Phrase, ...]:
    return tuple(tuple(phrase.split()) for phrase in cell.split("|") if phrase)


def _folded(text: str) -> str:
    """``text`` in small letters without accents, as the table of words is written."""
    parted = unicodedata.normalize("NFKD", text.lower().translate(_LETTERS))
    return "".join(char for char in parted if not unicodedata.combining(char))


def _split(words: str) -> list[tuple[str, int]]:
    """The words of a description in order, each with the number of signs that stand before it."""
    found = []
    signs = 0
    for token in _TOKEN.findall(_folded(words)):
        if not token.isalnum():
            signs += 1
        elif _SMALL.fullmatch(token) is None:
            found.append((token, signs))
    return found


@lru_cache(maxsize=4096)
def _told(words: str) -> frozenset[str]:
    """The names of all that the description calls for."""
    tokens = _split(words)
    meant = [_meant(token) for token, _ in tokens]
    every = frozenset().union(*meant)
    return frozenset(
        rule.name
        for rule in _rules()
        if _any(rule.words, every)
        and not _any(rule.unless, every)
        and _any(rule.words, _beside(rule, tokens, meant))
    )


def _any(phrases: Iterable[Phrase], held: frozenset[str]) -> bool:
    return any(held.issuperset(phrase) for phrase in phrases)


def _beside(
    rule: _Rule, tokens: list[tuple[str, int]], meant: list[frozenset[str]]
) -> frozenset[str]:
    """What is meant by the words that stand in none of the rule's harmless phrases."""
    harmless = {i for phrase in rule.harmless for i in _standing(phrase, tokens, meant)}
    return frozenset().union(*(held for i, held in enumerate(meant) if i not in harmless))


def _standing(
    phrase: Phrase, tokens: list[tuple[str, int]], meant: list[frozenset[str]]
) -> Iterator[int]:
    """The places of the phrase's words side by side; turned round as lists write it ("hook, coat").

    No sign stands between them, except where they are turned round.
    """
    for start in range(len(tokens) - len(phrase) + 1):
        places = range(start, start + len(phrase))
        one_piece = tokens[places[0]][1] == tokens[places[-1]][1]
        on = one_piece and all(word in meant[i] for word, i in zip(phrase, places, strict=True))
        back = all(w in meant[i] for w, i in zip(phrase, reversed(places), strict=True))
        if on or back:
            yield from places


@cache
def _patterns() -> tuple[frozenset[str], tuple[str, ...]]:
    """Every plain word of the table, and every one with a star."""
    every = {
        word
        for rule in _rules()
        for phrases in (rule.words, rule.unless, rule.harmless)
        for phrase in phrases
        for word in phrase
    }
    starred = sorted(word for word in every if "*" in word)
    return frozenset(every.difference(starred)), tuple(starred)


@lru_cache(maxsize=16384)
def _meant(token: str) -> frozenset[str]:
    """The words of the table that ``token`` is, or begins or ends with, as they are written."""
    plain, starred = _patterns()
    forms = {token, f"={token}"}
    forms |= {token[: -len(end)] for end in ("s", "es") if token.endswith(end) and len(token) > 3}
    return frozenset(forms & plain | {word for word in starred if _fits(word, token)})


def _fits(pattern: str, token: str) -> bool:
    if pattern.startswith("*"):
        inner = pattern[1:].rstrip("*")
        return inner in token if pattern.endswith("*") else token.endswith(inner)
    return token.startswith(pattern[:-1])
