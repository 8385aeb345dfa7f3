"""Evidence from the kind, the words, the hand and a casting number."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Sequence

from xref.domain.channel import Reading, distance
from xref.domain.evidence import Evidence, Topic
from xref.domain.mark import Mark
from xref.domain.model import Model
from xref.domain.number import folded
from xref.domain.part import Part
from xref.domain.population import Population
from xref.domain.query import Query
from xref.domain.size_names import another_sort
from xref.domain.words import hand, plain_words, split_words
from xref.services.identify.evidence.words import Wanted, wanted_in

LN2 = math.log(2)
WORD_HELD = 0.7
"""How often a word the user chose stands in the description as well. Judged."""
NEAR_NUMBERS = 9
"""How far a finished number may lie from its casting number and still be near it. Judged."""


def kind_bits(
    kind: str, sizes: Iterable[str], query: Query, population: Population, model: Model
) -> float:
    """What the kind that was named says of a part of ``kind`` with these sizes on record, the same
    for a part that is scored and for the rest; 0 where either kind is not known.

    The background p(K named) is K's share of the store, for none of these as for every part. Who
    names the wrong kind names any, each as often as it is there: p(K named | another kind) is a
    constant times that share, which falls out. So ``model.kind_wrong`` stays as it is as the share
    falls to 0, the right kind says ever more, and where the store holds no K every part of a known
    kind loses the same bits to none of these.
    """
    if not query.kind or not kind:
        return 0.0
    if kind != query.kind or another_sort(query.sizes, sizes):
        return model.kind_wrong
    # Only wrong figures give the kind of a part in the store no share: they say nothing.
    return math.log2(model.kind_right / (population.kind_share(kind) or model.kind_right))


def kind_item(part: Part, query: Query, population: Population, model: Model) -> Evidence | None:
    """Whether the part is of the kind the user names; None where either is not known."""
    if not query.kind or not part.kind:
        return None
    said = "the kind that was named"
    if query.named is None:
        said = "the kind that has such a size"
    if part.kind != query.kind:
        said = "another kind of part"
    elif another_sort(query.sizes, part.sizes):
        said = f"another sort of thing: it has no {' or '.join(sorted(query.sizes))}"
    bits = kind_bits(part.kind, part.sizes, query, population, model)
    return Evidence(Topic.KIND, query.kind, part.kind, bits, said)


def sort_item(part: Part, query: Query, population: Population, model: Model) -> Evidence | None:
    """Whether the part is of the sort that was named within its kind ("split pin" of the pins);
    None where none was named, the kind is another, or its sort is not known.

    A part of the user's own has no type: its description says it, or nothing does.
    """
    named = query.named
    if named is None or not named.types or part.kind != named.kind:
        return None
    own = not part.type and named.types[0] in part.words.lower()
    if not part.type and not own:
        return None
    if own or named.is_type(part.type):
        of_kind = population.kind_share(named.kind) or 1.0
        ways = Wanted(named.sort, tuple(tuple(split_words(t)) for t in named.types))
        share = min(1.0, ways.share(population) / of_kind)
        bits = max(0.0, math.log2(model.kind_right / share))
        return Evidence(Topic.SORT, named.sort, part.type or named.sort, bits, "the sort named")
    return Evidence(Topic.SORT, named.sort, part.type, model.sort_wrong, "another sort of it")


def sort_floor(kind: str, standard: bool, query: Query, model: Model) -> float:
    """The fewest bits a part of ``kind`` can be given for its sort."""
    named = query.named
    told = named is not None and named.types and kind == named.kind and standard
    return model.sort_wrong if told else 0.0


def words_items(
    part: Part, query: Query, population: Population, model: Model
) -> list[Evidence] | None:
    """How much likelier the words are under this description; None where it has none."""
    if not part.words:
        return None
    items = []
    asked = told_in(query, part.kind)
    if asked:
        held = frozenset(split_words(part.words))
        bits = 0.0
        for one in asked:
            share = one.share(population)
            there = WORD_HELD if one.way_in(held) else 0.0
            bits += math.log2((there + (1 - WORD_HELD) * share) / share)
        kept = max(-model.words_most, min(model.words_most, bits))
        seen = " ".join(one.said for one in asked)
        items.append(Evidence(Topic.WORDS, seen, part.words, kept, _said(asked, held)))
    seen, shown = hand(query.words), hand(part.words)
    if seen and shown:
        agrees = seen == shown
        items.append(
            Evidence(
                Topic.HAND,
                seen,
                shown,
                1.0 if agrees else model.hand_wrong,
                "the same hand" if agrees else "the mirrored part: hands must agree",
            )
        )
    return items


def told_in(query: Query, kind: str) -> tuple[Wanted, ...]:
    """What the words ask of a part of ``kind``: without those that named the kind, which its kind
    answers, where it has one."""
    asked = wanted_in(query.words)
    if not (query.kind_in_words and query.named and kind):
        return asked
    named = set(query.named.said.split())
    return tuple(one for one in asked if not named.issuperset(_plain(one.said)))


def _plain(said: str) -> list[str]:
    return plain_words(said).split()


def words_floor(query: Query, kind: str, model: Model) -> float:
    """The fewest bits the words can give a part that is described; 0 where none are given."""
    missed = math.log2(1 - WORD_HELD) * len(told_in(query, kind))
    return max(-model.words_most, missed)


def _said(asked: Sequence[Wanted], held: frozenset[str]) -> str:
    missing = [one.said for one in asked if not one.way_in(held)]
    if len(missing) == len(asked):
        return "none of the words stands in its description"
    if missing:
        return f"not in its description: {', '.join(missing)}"
    said = "every word stands in its description"
    ways = ((one, one.way_in(held)) for one in asked)
    other = [f"{one.said} as {' '.join(way)}" for one, way in ways if way and way != one.ways[0]]
    return f"{said}, {', '.join(other)}" if other else said


def cast_item(
    part: Part, casts: Sequence[Reading], bearers: dict[str, float], whole: float, model: Model
) -> Evidence | None:
    """A casting number narrows and never proves: at most log2(W/Wₙ) + 1.

    ``bearers`` gives for each casting mark on record the weight of the parts that bear it. A part
    with none on record may still lie a few digits from the casting number.
    """
    best: Evidence | None = None
    for reading in casts:
        for mark in part.marks:
            if mark.role != "casting":
                continue
            text = folded(mark.text)
            most = math.log2(whole / max(bearers.get(text, 1.0), 1.0)) + 1
            bits = max(model.mark_floor, most - model.cost_scale * distance(reading, text) / LN2)
            if best is None or bits > best.bits:
                best = Evidence(
                    Topic.CAST,
                    reading.mark.shown(),
                    mark.text,
                    bits,
                    "a casting number is shared: it narrows and never proves",
                )
    if best is None:
        return _near_cast(part, [reading.mark for reading in casts], model)
    return best


def _near_cast(part: Part, casts: Sequence[Mark], model: Model) -> Evidence | None:
    for cast in casts:
        if part.is_standard or not cast.certain:
            continue
        apart = digits_apart(cast.shown(), folded(part.number))
        if apart is not None and apart <= NEAR_NUMBERS:
            return Evidence(
                Topic.CAST,
                cast.shown(),
                part.number,
                model.cast_near,
                f"the finished number lies {apart} from the casting number (common practice)",
            )
    return None


def digits_apart(cast: str, number: str) -> int | None:
    """How far two numbers with the same letters before their last digits lie apart.

    None where they are not of one shape, or end in no digits.
    """
    one = re.fullmatch(r"(.*?)(\d{2,})", cast)
    two = re.fullmatch(r"(.*?)(\d{2,})", number)
    if not one or not two or one[1] != two[1] or len(one[2]) != len(two[2]):
        return None
    return abs(int(one[2]) - int(two[2]))
