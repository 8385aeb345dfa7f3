"""The odds of everything that was not scored in full: nothing is left out of the sum."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from xref.domain.evidence import Scored
from xref.domain.kinds import is_open
from xref.domain.model import Model
from xref.domain.population import Pattern, Population
from xref.domain.query import Query
from xref.services.identify.evidence.others import kind_bits, sort_floor, words_floor
from xref.services.identify.evidence.seen import seen_floor
from xref.services.identify.evidence.sizes import HARDNESS_DIFFERS, stored_name


@dataclass(frozen=True, slots=True)
class LeftOut:
    """The weight of things above the floor that were not scored in full, and their bits.

    ``sizes`` are those of the readings that such things have."""

    weight: float
    bits: float
    pattern_floor: float
    sizes: frozenset[str] = frozenset()


Together = Callable[[frozenset[str]], float]
"""The bits that sizes of these names have together, beside those of each."""


def pattern_floor(
    pattern: Pattern, query: Query, population: Population, model: Model, together: Together
) -> float:
    """The fewest bits that a thing with this pattern of known facts can have been given."""
    bits = model.mark_floor if query.marks else 0.0
    held = [n for n in query.sizes if stored_name(pattern.kind, pattern.sizes, n)]
    floors = [HARDNESS_DIFFERS if name == "hardness" else model.size_floor for name in held]
    if pattern.standard:
        lacking = [n for n in query.sizes if n not in held and not is_open(pattern.kind, n)]
        floors += [model.size_lacking] * len(lacking)
    bits += max(model.sizes_floor, math.fsum(floors)) + together(compared(query, held))
    if only_sizes(query) and not pattern.sizes:
        bits += model.unsized
    bits += kind_bits(pattern.kind, pattern.sizes, query, population, model)
    bits += seen_floor(pattern.kind, query)
    bits += sort_floor(pattern.kind, pattern.standard, query, model)
    if query.words and pattern.described:
        bits += words_floor(query, pattern.kind, model)
    return bits


def compared(query: Query, held: Iterable[str]) -> frozenset[str]:
    """Which of the sizes ``held`` are lengths: those have a background together."""
    read = query.sizes
    return frozenset(name for name in held if name in read and not read[name].counted)


def only_sizes(query: Query) -> bool:
    """Whether nothing but sizes, and perhaps a kind, was given."""
    return bool(query.sizes) and not (query.marks or query.casts or query.words)


def prior_bits(query: Query, model: Model) -> float:
    """C0: the whole store together against none of these, in bits."""
    if query.sizes and not (query.marks or query.casts):
        return model.sizes_prior_bits
    return model.prior_bits + (model.sizes_beside_mark if query.sizes else 0.0)


def rest_bits(
    scored: Sequence[Scored],
    left: Iterable[LeftOut],
    query: Query,
    population: Population,
    model: Model,
    together: Together,
) -> float:
    """log2 R: every thing in the store at its floor, less those scored, plus what is above it."""
    unit = 0.0
    if population.weight:
        unit = prior_bits(query, model) - math.log2(population.weight)
    floors = {
        pattern: pattern_floor(pattern, query, population, model, together)
        for pattern in population.patterns
    }
    mass = math.fsum(w * 2.0 ** floors[p] for p, w in population.patterns.items())
    for thing in scored:
        pattern = pattern_of(thing)
        floor = floors.get(pattern)
        if floor is None:
            floor = pattern_floor(pattern, query, population, model, together)
        mass -= 2.0 ** (thing.start_bits - unit + floor)
    for out in left:
        shared = 2.0 ** together(out.sizes)
        mass += out.weight * (2.0**out.bits - 2.0**out.pattern_floor) * shared
    return unit + math.log2(mass) if mass > 1e-12 else -math.inf


def pattern_of(thing: Scored) -> Pattern:
    """The pattern the store's tallies count this thing under."""
    part = thing.part
    return Pattern(part.kind, frozenset(part.sizes), bool(part.words), part.is_standard)
