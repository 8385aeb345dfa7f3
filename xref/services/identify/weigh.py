"""Weigh one physical thing against everything that was found on the bench."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from xref.domain.channel import Reading
from xref.domain.evidence import Evidence, Scored, Topic
from xref.domain.model import Model
from xref.domain.number import folded
from xref.domain.part import Part
from xref.domain.population import Population
from xref.domain.query import Query
from xref.services.identify import gather
from xref.services.identify.evidence.marks import Match, Readable, best_match, mark_evidence
from xref.services.identify.evidence.others import cast_item, kind_item, sort_item, words_items
from xref.services.identify.evidence.seen import seen_items
from xref.services.identify.evidence.sizes import SizeScale, size_evidence
from xref.services.identify.rest import only_sizes, prior_bits

if TYPE_CHECKING:
    from xref.domain.belongs import Belongs
    from xref.domain.machine import Machine

USUAL_SPELLING = 0.3
"""Spellings rarer than this are not printed among "also". Judged."""


@dataclass(frozen=True)
class Bench:
    """Everything that is the same for every candidate of one query."""

    query: Query
    model: Model
    population: Population
    ways: tuple[Readable, ...]
    scales: Mapping[str, SizeScale]
    bearers: dict[str, float]
    casts: tuple[Reading, ...]
    machine: Machine | None = None
    belongs: Mapping[str, Belongs] = field(default_factory=dict)


@dataclass(frozen=True)
class Weighed:
    """One thing scored, with the match that its mark evidence came from."""

    scored: Scored
    match: Match | None


def rank(weighed: Weighed) -> tuple[float, int, str]:
    """Best first; of equals the one that most tables know, then by number."""
    part = weighed.scored.part
    return (-round(weighed.scored.total_bits, 6), -part.tables_agreeing, part.number)


def weigh(records: tuple[Part, ...], bench: Bench) -> Weighed:
    """One physical thing: all its records together, its best spelling first."""
    query, model = bench.query, bench.model
    thing = gather.merged(records)
    items: list[Evidence] = []
    absent: list[str] = []
    match = best_match(thing, bench.ways, model) if bench.ways else None
    shown = gather.written(records, match.spelling.text) if match else records[0]
    if match:
        items += mark_evidence(match, len(query.marks), model)
    sizes, missing = size_evidence(thing, bench.scales, query, model)
    items += sizes
    absent += missing
    _add(items, absent, "kind", query.kind, kind_item(thing, query, bench.population, model))
    sort = sort_item(thing, query, bench.population, model)
    items += [sort] if sort else []
    if query.words:
        told = words_items(thing, query, bench.population, model)
        items += told or []
        absent += ["words"] if told is None else []
    if query.seen:
        looked, unsaid = seen_items(thing, query)
        items += looked
        absent += unsaid
    if query.casts:
        cast = cast_item(thing, bench.casts, bench.bearers, bench.population.weight, model)
        _add(items, absent, "cast", "cast", cast)
    if bench.machine is not None:
        from xref.services.links.belongs import serial_evidence

        serial = serial_evidence(bench.belongs[thing.group], bench.machine)
        _add(items, absent, "serial", "serial", serial)
    unread = tuple(name for name in sorted(thing.sizes) if name not in query.sizes)
    part = replace(thing, number=shown.number, maker=shown.maker, origin=shown.origin, id=shown.id)
    if only_sizes(query) and not thing.sizes:
        said = "no size of it is on record"
        items.append(Evidence(Topic.SIZES_UNKNOWN, "", "", model.unsized, said))
    start = prior_bits(query, model) + math.log2(thing.weight / bench.population.weight)
    scored = Scored(part, _also(records, part), start, tuple(items), tuple(absent), unread)
    return Weighed(scored, match)


def _add(
    items: list[Evidence], absent: list[str], name: str, given: str, item: Evidence | None
) -> None:
    if item is not None:
        items.append(item)
    elif given:
        absent.append(name)


def _also(records: Sequence[Part], shown: Part) -> tuple[str, ...]:
    """The other ways the same thing is numbered, each once."""
    texts = [r.number for r in records]
    texts += [
        s.text
        for r in records
        for s in r.spellings
        if s.weight >= USUAL_SPELLING and s.role != "spanner"
    ]
    seen = {folded(shown.number)}
    also = []
    for text in texts:
        if folded(text) not in seen:
            seen.add(folded(text))
            also.append(text)
    return tuple(also)
