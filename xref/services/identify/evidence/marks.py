"""Evidence from a number mark: what could be read, and how far it differs from the numbers."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cache

from xref.designation.suffix import SUFFIXES
from xref.domain.alignment import align, faults
from xref.domain.channel import Reading, Tails, distance, prepare
from xref.domain.confusion import pair_costs
from xref.domain.evidence import Evidence, Topic
from xref.domain.mark import Mark, upside_down, without_words
from xref.domain.model import Model
from xref.domain.number import folded
from xref.domain.part import Part, Spelling
from xref.domain.population import Population
from xref.domain.rarity import nearness, rarity_bits
from xref.store.index.near import SpellingRow
from xref.tables import read_table

LN2 = math.log(2)
WORDS_BITS = 1.0
"""What it costs to take the words around a number for no part of it. Judged."""
RARITY = "how rare such a mark is among numbers"


@dataclass(frozen=True, slots=True)
class Readable:
    """One way to read one mark, ready for scoring.

    ``mark`` counts the marks of the query from 0; ``characters`` is the information of the legible
    signs in bits, ``bits`` what the mark says of any part it agrees with, once the numbers near it
    are known.
    """

    reading: Reading
    mark: int
    characters: float
    bits: float = 0.0


@dataclass(frozen=True, slots=True)
class Near:
    """A spelling that the store holds near a mark, and its cost in nats by each way to read it."""

    row: SpellingRow
    costs: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Match:
    """The best account of the marks for one part."""

    spelling: Spelling
    readable: Readable
    differs: float

    @property
    def total(self) -> float:
        """Bits of both items together."""
        return self.readable.bits + self.differs


def costs_of(model: Model) -> Model:
    """``model`` with the shipped look-alike costs in it."""
    pairs = pair_costs(read_table("look_alike"))
    return replace(model, faults=replace(model.faults, pairs=pairs))


def readables(marks: Sequence[Mark], model: Model, population: Population) -> tuple[Readable, ...]:
    """Every mark as found and, where it can be, turned upside down, or without its words."""
    tails = Tails({s.code: s.share for s in SUFFIXES if s.share > 0}, model.cost_scale)
    found = []
    for at, mark in enumerate(marks):
        bare = without_words(mark)
        for way in (mark, upside_down(mark), bare):
            if way is not None:
                signs = [population.sign_bits(sign.chars) for sign in way.signs]
                reading = prepare(way, model.faults, tails, signs)
                if way is bare:
                    reading = replace(reading, extra_cost=WORDS_BITS * LN2 / model.cost_scale)
                found.append(Readable(reading, at, math.fsum(signs)))
    return tuple(found)


def in_their_crowd(
    ways: Sequence[Readable], near: Sequence[Near], whole: float, model: Model
) -> tuple[Readable, ...]:
    """The same ways with what each says, now that the numbers near them are known.

    ``whole`` is the weight of all parts. A thing counts once for a mark, by its nearest spelling.
    """
    crowds: dict[int, dict[str, float]] = defaultdict(dict)
    for at, way in enumerate(ways):
        crowd = crowds[way.mark]
        for one in near:
            share = one.row.part_weight / whole * one.row.weight
            adds = nearness(one.costs[at], share, model)
            crowd[one.row.group] = max(adds, crowd.get(one.row.group, 0.0))
    said = {mark: math.fsum(crowd.values()) for mark, crowd in crowds.items()}
    return tuple(
        replace(way, bits=rarity_bits(way.characters, said.get(way.mark, 0.0), model))
        for way in ways
    )


def differs_bits(
    readable: Readable, text: str, weight: float, takes_suffix: bool, model: Model
) -> float:
    """``differs_at`` for a spelling whose folded text is ``text``."""
    cost = distance(readable.reading, text, takes_suffix)
    return differs_at(cost, weight, agrees(readable.reading.mark, text, takes_suffix), model)


def differs_at(cost: float, weight: float, clean: bool, model: Model) -> float:
    """−λ·cost/ln 2 + log2(weight) for a spelling at ``cost`` nats from a mark, and what it is
    worth that every legible character agrees (``clean``)."""
    bonus = model.mark_agrees if clean else 0.0
    return -model.cost_scale * cost / LN2 + math.log2(weight) + bonus


def agrees(mark: Mark, text: str, takes_suffix: bool = False) -> bool:
    """Whether every legible sign is the number's, or its and a known suffix's after it.

    False for a mark with a lost stretch, of which nobody knows what else was there.
    """
    signs = mark.signs
    size = len(text)
    if mark.has_lost_stretch or len(signs) < size:
        return False
    if any(sign.chars and char not in sign.chars for sign, char in zip(signs, text, strict=False)):
        return False
    if len(signs) == size:
        return True
    rest = "".join(sign.chars for sign in signs[size:])
    return takes_suffix and rest in _codes()


@cache
def _codes() -> frozenset[str]:
    return frozenset(folded(s.code) for s in SUFFIXES if s.share > 0)


def best_match(part: Part, ways: Sequence[Readable], model: Model) -> Match | None:
    """The spelling and the reading that agree best; None where the part has no spelling."""
    best: Match | None = None
    for spelling in part.spellings:
        text = folded(spelling.text)
        if not text:
            continue
        for way in ways:
            differs = differs_bits(way, text, spelling.weight, spelling.takes_suffix, model)
            if best is None or way.bits + differs > best.total:
                best = Match(spelling, way, differs)
    return best


def mark_evidence(match: Match, choices: int, model: Model) -> tuple[Evidence, ...]:
    """The two items, *read* and *differs*, together not below the floor.

    ``choices`` is how many marks the best was picked from; picking costs log2 of it.
    """
    mark = match.readable.reading.mark
    picked = match.differs - math.log2(choices)
    differs = max(picked, model.mark_floor - match.readable.bits)
    steps = align(match.readable.reading, folded(match.spelling.text), match.spelling.takes_suffix)
    said = faults(steps) or "every legible character agrees"
    if mark.turned:
        said += "; the mark is taken to be upside down"
    if match.spelling.weight < 1:
        said += f"; {match.spelling.text} is a less usual way to write it"
    shown = mark.shown()
    return (
        Evidence(Topic.MARK_READ, shown, "", match.readable.bits, RARITY),
        Evidence(Topic.MARK_DIFFERS, shown, match.spelling.text, differs, said),
    )
