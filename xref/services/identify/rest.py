"""The odds of everything that was not scored in full: nothing is left out of the sum."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from xref.domain.evidence import Scored
from xref.domain.model import Model
from xref.domain.population import Pattern, Population
from xref.domain.query import Query
from xref.services.identify.evidence.others import kind_bits, words_floor
from xref.services.identify.evidence.sizes import HARDNESS_DIFFERS, stored_name


@dataclass(frozen=True, slots=True)
class LeftOut:
    """The weight of things above the floor that were not scored in full, and their bits."""

    weight: float
    bits: float
    pattern_floor: float


def pattern_floor(pattern: Pattern, query: Query, population: Population, model: Model) -> float:
    """The fewest bits that a thing with this pattern of known facts can have been given."""
    bits = model.mark_floor if query.marks else 0.0
    held = [n for n in query.sizes if stored_name(pattern.kind, pattern.sizes, n)]
    floors = [HARDNESS_DIFFERS if name == "hardness" else model.size_floor for name in held]
    bits += max(model.sizes_floor, math.fsum(floors))
    bits += kind_bits(pattern.kind, pattern.sizes, query, population, model)
    if query.words and pattern.described:
        bits += words_floor(query, model)
    return bits


def rest_bits(
    scored: Sequence[Scored],
    left: Iterable[LeftOut],
    query: Query,
    population: Population,
    model: Model,
) -> float:
    """log2 R: every thing in the store at its floor, less those scored, plus what is above it."""
    unit = model.prior_bits - math.log2(population.weight) if population.weight else 0.0
    floors = {
        pattern: pattern_floor(pattern, query, population, model) for pattern in population.patterns
    }
    mass = math.fsum(w * 2.0 ** floors[p] for p, w in population.patterns.items())
    for thing in scored:
        pattern = pattern_of(thing)
        floor = floors.get(pattern)
        if floor is None:
            floor = pattern_floor(pattern, query, population, model)
        mass -= 2.0 ** (thing.start_bits - unit + floor)
    for out in left:
        mass += out.weight * (2.0**out.bits - 2.0**out.pattern_floor)
    return unit + math.log2(mass) if mass > 1e-12 else -math.inf


def pattern_of(thing: Scored) -> Pattern:
    """The pattern the store's tallies count this thing under."""
    part = thing.part
    return Pattern(part.kind, frozenset(part.sizes), bool(part.words))
