"""Evidence from a number mark: what could be read, and how far it differs from the numbers."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cache

from xref.designation.suffix import SUFFIXES
from xref.domain.alignment import align, faults
from xref.domain.channel import Reading, Tails, distance, prepare
from xref.domain.confusion import pair_costs
from xref.domain.evidence import Evidence
from xref.domain.mark import Mark, upside_down
from xref.domain.model import Model
from xref.domain.number import folded
from xref.domain.part import Part, Spelling
from xref.domain.population import Population
from xref.tables import read_table

LN2 = math.log(2)


@dataclass(frozen=True, slots=True)
class Readable:
    """One way to read one mark, ready for scoring, with its information in bits."""

    reading: Reading
    bits: float


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
    """Every mark as found and, where it can be, turned upside down."""
    tails = Tails({s.code: s.share for s in SUFFIXES if s.share > 0}, model.cost_scale)
    found = []
    for mark in marks:
        for way in (mark, upside_down(mark)):
            if way is not None:
                signs = [population.sign_bits(sign.chars) for sign in way.signs]
                reading = prepare(way, model.faults, tails, signs)
                said = min(model.mark_most, math.fsum(signs)) - model.mark_discount
                found.append(Readable(reading, max(0.0, said)))
    return tuple(found)


def differs_bits(
    readable: Readable, text: str, weight: float, takes_suffix: bool, model: Model
) -> float:
    """−λ·cost/ln 2 + log2(weight) for a spelling whose folded text is ``text``, and what it is
    worth that every legible character agrees."""
    cost = distance(readable.reading, text, takes_suffix)
    clean = model.mark_agrees if agrees(readable.reading.mark, text, takes_suffix) else 0.0
    return -model.cost_scale * cost / LN2 + math.log2(weight) + clean


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
        Evidence("mark: read", shown, "", match.readable.bits, "how rare such a mark is"),
        Evidence("mark: differs", shown, match.spelling.text, differs, said),
    )
