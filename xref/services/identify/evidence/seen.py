"""Evidence from what was looked for and seen: how many of the kind would show it."""

from __future__ import annotations

import math

from xref.domain.evidence import Evidence, Topic
from xref.domain.part import Part
from xref.domain.query import Query
from xref.services.parts.traits import shown
from xref.standards.check import kinds_of, sights

SLIP = 1 / 64
"""How often an answer is a slip, and then any that is usual on such a thing. Judged."""
OTHERWISE = math.log2(SLIP)
"""Bits: the part shows another thing, or has nothing of the sort."""
ANY_KIND = frozenset({"", "other", "casting"})
"""What a part of these kinds is remains open: nothing that was seen on it rules it out."""


def seen_items(part: Part, query: Query) -> tuple[list[Evidence], list[str]]:
    """One item for each answer that the part's record speaks to, and the keys of the others."""
    items: list[Evidence] = []
    absent: list[str] = []
    shows = shown(part) if query.seen else {}
    for key, answer in looked_for(query).items():
        item = _item(part, key, answer, shows.get(key, ()))
        if item is None:
            absent.append(key)
        else:
            items.append(item)
    return items, absent


def looked_for(query: Query) -> dict[str, str]:
    """The answers that are evidence by themselves; a size, the kind and a mark count elsewhere."""
    return {key: word for key, word in query.seen.items() if kinds_of(key)}


def seen_count(query: Query) -> int:
    """How many things were looked for and seen: each helps to settle on one, like a size."""
    return len(looked_for(query))


def _item(part: Part, key: str, answer: str, shows: tuple[str, ...]) -> Evidence | None:
    if not possible(part.kind, key, answer):
        said = f"a {part.kind} shows nothing of the sort"
        return Evidence(Topic.SEEN, answer, "", OTHERWISE, said, key, agrees=False)
    if not shows:
        return None
    held = sights(key, part.kind)
    bits = answer_bits(answer, shows, held[answer].share)
    expected = " or ".join(held[word].shows for word in shows)
    agrees = answer in shows
    said = "agrees" if agrees else "another answer"
    return Evidence(Topic.SEEN, held[answer].shows, expected, bits, said, key, agrees=agrees)


def answer_bits(answer: str, shows: tuple[str, ...], share: float) -> float:
    """log2 of how much likelier the answer is of a part that ``shows`` one of these, each as
    likely, than of any thing of its kind."""
    there = shows.count(answer) / len(shows)
    return math.log2((1 - SLIP) * there / share + SLIP)


def possible(kind: str, key: str, answer: str) -> bool:
    """Whether the answer can be seen on a part of ``kind``; yes where that is open."""
    if kind in ANY_KIND and kind not in kinds_of(key):
        return True
    return answer in sights(key, kind)


def seen_floor(kind: str, query: Query) -> float:
    """Bits for all things of ``kind`` that were not scored: what is usual among them averages to
    nothing, and what they cannot show speaks against each."""
    return OTHERWISE * sum(not possible(kind, key, word) for key, word in looked_for(query).items())
