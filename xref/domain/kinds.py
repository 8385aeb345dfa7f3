"""The kinds of part the tool knows, the words people use for them, and their sorts.

``kinds.csv`` has the kinds and the sizes parts of each have; ``kind_words.csv`` the words of nine
languages; ``sorts.csv`` the finer names within a kind, with the types that tables give to such
parts. All are common practice, no published source. A language is added by adding rows.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache, lru_cache

from xref.domain.number import visible
from xref.domain.words import HANDS, plain_words
from xref.errors import InputError
from xref.tables import read_table

SIZES_OF: dict[str, tuple[str, ...]] = {
    row["kind"]: tuple(row["sizes"].split()) for row in read_table("kinds", "domain")
}
"""The sizes parts of a kind may have, the most telling first."""
KINDS: tuple[str, ...] = tuple(SIZES_OF)
_OPEN = {row["kind"]: frozenset(row["open"].split()) for row in read_table("kinds", "domain")}

MOST_WORDS = 4
"""Words that name a kind together."""
TAIL = frozenset(
    [
        "only",
        "old",
        "new",
        "worn",
        "used",
        "broken",
        "steel",
        "brass",
        "bronze",
        "rubber",
        "leather",
        "copper",
        "nylon",
        "plastic",
        "small",
        "large",
        "big",
        "complete",
        "assembly",
        "assy",
        "alone",
    ]
)
"""Words behind a thing's name that leave it that thing."""
_CLAUSE = re.compile(r"[,;(]|\b(?:for|from|of|on|in|with|off|to|at|behind|under|beside)\b")
HEAD_FIRST = frozenset({"fr", "it", "es"})
"""Languages whose word for a thing stands before what tells it from others."""
TOO_GENERAL = frozenset({"joint", "joints", "ring", "cone", "cup", "split", "tap", "pen", "axe"})
"""Words that name a kind where they are asked for as one, but stand for much else in a text."""
SHORT = 4
"""A foreign word this short may be another in a description. Judged."""
RINGS = ("o-ring", "retaining ring", "washer")


@dataclass(frozen=True, slots=True)
class Named:
    """What a word names: the kind, the sort within it ("" for none), and how the tables' types of
    that sort begin. ``said`` is the word, in plain letters."""

    kind: str
    said: str
    sort: str = ""
    types: tuple[str, ...] = ()

    def is_type(self, type_: str) -> bool:
        """Whether a part of type ``type_`` is of this sort."""
        return type_.startswith(self.types)


def is_open(kind: str, size: str) -> bool:
    """Whether the number of such a part leaves this size open: a pin of 6 mm is had in any length,
    so that one without a length on record speaks neither for nor against it."""
    return size in _OPEN.get(kind, ())


def kind_from(text: str) -> str:
    """The kind ``text`` names: see ``named_from``."""
    return named_from(text).kind


def named_from(text: str) -> Named:
    """What ``text`` names: a kind in full, by a word of the trade ("circlip"), or by an unambiguous
    beginning ("shaft" → "shaft seal").

    Case, accents, and spaces against hyphens, do not matter. Raises InputError for none or several.
    """
    wanted = _flat(text[:LONGEST])
    plain = {kind.replace("-", " "): kind for kind in KINDS}
    if len(text) > LONGEST:
        wanted = ""
    if wanted in plain:
        return Named(plain[wanted], wanted)
    if wanted == "ring":
        raise InputError(f'kind "ring" may be {" or ".join(RINGS)}', "Write it in full.")
    word = _named(wanted)
    if word is not None:
        return word
    found = [kind for name, kind in plain.items() if wanted and name.startswith(wanted)]
    if len(found) == 1:
        return Named(found[0], wanted)
    if found:
        raise InputError(
            f'kind "{visible(text)}" may be {" or ".join(found)}', "Write one more letter."
        )
    raise InputError(f'no kind is called "{visible(text)}"', "Kinds: " + ", ".join(KINDS) + ".")


LONGEST = 80
"""Letters of the longest name of a kind, and some over."""


@lru_cache(maxsize=256)
def named_in(words: str) -> Named | None:
    """The kind that a description names: "lip seal, rubber", "taper roller cone only", but not
    "seal carrier", whose thing is a carrier. None where it names none.
    """
    clause = re.split(_CLAUSE, plain_words(words), maxsplit=1)[0]
    tokens = [t for t in re.findall(r"[^\W_]+", clause) if t not in HANDS]
    while tokens and tokens[-1] in TAIL:
        del tokens[-1]
    for count in range(min(MOST_WORDS, len(tokens)), 0, -1):
        last = _told(" ".join(tokens[-count:]))
        if last is not None:
            return last
        first = _told(" ".join(tokens[:count]))
        if first is not None and _languages().get(first.said) in HEAD_FIRST:
            return first
    return None


def _told(said: str) -> Named | None:
    """What ``said`` names in a description, where nearly everybody means that by it."""
    if said in TOO_GENERAL or (len(said) <= SHORT and _languages().get(said, "en") != "en"):
        return None
    plain = {kind.replace("-", " "): kind for kind in KINDS if kind != "other"}
    return Named(plain[said], said) if said in plain else _named(said)


def _named(said: str) -> Named | None:
    single = said[:-1] if said.endswith("s") and not said.endswith("ss") else said
    for text in (said, single):
        found = _sorts().get(text)
        if found is not None:
            return found
        kind = kind_words().get(text)
        if kind is not None:
            return Named(kind, text)
    plain = {kind.replace("-", " "): kind for kind in KINDS}
    return Named(plain[single], single) if single in plain else None


def _flat(text: str) -> str:
    return " ".join(plain_words(text).replace("-", " ").replace("_", " ").split())


@cache
def kind_words() -> dict[str, str]:
    """The kind for each word of the trade, the words in plain letters without hyphens."""
    return {_flat(row["word"]): row["kind"] for row in read_table("kind_words", "domain")}


@cache
def _languages() -> dict[str, str]:
    return {_flat(r["word"]): r["language"] for r in read_table("kind_words", "domain")}


@cache
def _sorts() -> dict[str, Named]:
    return {named.said: named for named in _each_sort()}


def _each_sort() -> Iterator[Named]:
    for row in read_table("sorts", "domain"):
        types = tuple(row["types"].split("|"))
        for word in row["words"].split("|"):
            yield Named(row["kind"], _flat(word), row["sort"], types)
