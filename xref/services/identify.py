"""Identify the part on the bench: gather, score, weigh, judge, and say what to check next."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from sqlalchemy import Connection

from xref.domain.alignment import align, lines
from xref.domain.evidence import Evidence, Scored, odds
from xref.domain.model import Model
from xref.domain.number import folded
from xref.domain.order import Order
from xref.domain.part import Part
from xref.domain.population import Population
from xref.domain.query import Query
from xref.domain.verdict import NONE_AT_LEAST, OPEN_READING, Verdict, give_verdict
from xref.domain.weights import OTHER_SYSTEM
from xref.services import gather
from xref.services.cautions import cautions, never_on_size_alone
from xref.services.checks import next_checks
from xref.services.counter import orders
from xref.services.identified import Candidate, Identified
from xref.services.remarks import remarks
from xref.services.rest import rest_bits
from xref.services.scoring.marks import (
    Match,
    Readable,
    best_match,
    costs_of,
    mark_evidence,
    readables,
)  # fmt: skip
from xref.services.scoring.others import cast_item, kind_item, words_items
from xref.services.scoring.sizes import SizeScale, size_evidence
from xref.store.queries import any_learned
from xref.store.queries import population as read_population

if TYPE_CHECKING:
    from xref.domain.machine import Belongs, Machine

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
    machine: Machine | None = None
    belongs: Mapping[str, Belongs] = field(default_factory=dict)


@dataclass(frozen=True)
class Weighed:
    """One thing scored, with the match that its mark evidence came from."""

    scored: Scored
    match: Match | None


def identify(
    conn: Connection, query: Query, limit: int = 10, model: Model | None = None
) -> Identified:
    """Ranked answers with odds and reasons for what was found on the bench.

    ``limit`` candidates at most are printed; the rest of the odds stands under "others".
    """
    model = _costs(conn, model or Model())
    population = read_population(conn)
    ways = readables(query.marks, model, population)
    cast_ways = readables(query.casts, model, population)
    scales = gather.size_scales(conn, query)
    ids, left = gather.mark_parts(conn, ways, model)
    more, left_sizes = gather.size_parts(conn, query, scales, model)
    by_cast, bearers = gather.cast_parts(conn, query, cast_ways)
    by_words = gather.words_parts(conn, query, population)
    found = gather.things(conn, [*ids, *more, *by_cast, *by_words])
    bench = Bench(query, model, population, ways, scales, bearers)
    if query.machine:
        bench = _on_machine(conn, bench, [records[0] for records in found])
    weighed = [_weigh(records, bench) for records in found]
    weighed.sort(key=_rank)
    return _answer(conn, weighed, [*left, *left_sizes], bench, limit)


def _costs(conn: Connection, model: Model) -> Model:
    """The model with the look-alike costs, and with what was learned of this store's reader."""
    whole = costs_of(model)
    if not any_learned(conn):
        return whole
    from xref.services.habits import costs_with_habits

    return costs_with_habits(conn, whole)


def _on_machine(conn: Connection, bench: Bench, parts: Sequence[Part]) -> Bench:
    """The same with what the books say of each part on the machine that was named."""
    from xref.services.belonging import judge_parts
    from xref.store.links import find_machine

    machine = find_machine(conn, bench.query.machine)
    return replace(bench, machine=machine, belongs=judge_parts(conn, parts, machine))


def _rank(weighed: Weighed) -> tuple[float, int, str]:
    """Best first; of equals the one that most tables know, then by number."""
    part = weighed.scored.part
    return (-round(weighed.scored.total_bits, 6), -part.tables_agreeing, part.number)


def _weigh(records: tuple[Part, ...], bench: Bench) -> Weighed:
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
    if query.words:
        told = words_items(thing, query, bench.population, model)
        items += told or []
        absent += ["words"] if told is None else []
    if query.casts:
        cast = cast_item(thing, query.casts, bench.bearers, bench.population.weight, model)
        _add(items, absent, "cast", "cast", cast)
    if bench.machine is not None:
        from xref.services.belonging import serial_evidence

        serial = serial_evidence(bench.belongs[thing.group], bench.machine)
        _add(items, absent, "serial", "serial", serial)
    absent += [f"{name} (not measured)" for name in sorted(thing.sizes) if name not in query.sizes]
    part = replace(thing, number=shown.number, maker=shown.maker, origin=shown.origin, id=shown.id)
    start = model.prior_bits + math.log2(thing.weight / bench.population.weight)
    scored = Scored(part, _also(records, part), start, tuple(items), tuple(absent))
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
    texts += [s.text for r in records for s in r.spellings if s.weight >= USUAL_SPELLING]
    seen = {folded(shown.number)}
    also = []
    for text in texts:
        if folded(text) not in seen:
            seen.add(folded(text))
            also.append(text)
    return tuple(also)


def _answer(
    conn: Connection,
    weighed: Sequence[Weighed],
    left: Sequence[gather.LeftOut],
    bench: Bench,
    limit: int,
) -> Identified:
    query = bench.query
    rest = rest_bits([w.scored for w in weighed], left, query, bench.population, bench.model)
    weights = odds([w.scored.total_bits for w in weighed], rest)
    withheld = {i for i, w in enumerate(weighed) if _withhold(w, query)}
    order = [i for i in range(len(weighed)) if i not in withheld]
    kept_back = [(weighed[i].scored, weights.probabilities[i]) for i in sorted(withheld)]
    scored = [weighed[i].scored for i in order]
    probabilities = [weights.probabilities[i] for i in order]
    verdict = give_verdict(
        scored,
        probabilities,
        weights.none,
        (len(query.marks), len(query.sizes)),
        _open_systems([weighed[i] for i in order], probabilities),
    )
    printed = _printed(verdict, len(order), limit)
    told = orders(conn, [weighed[order[i]].scored.part for i in printed], bench.machine)
    candidates = [
        _candidate(weighed[order[i]], probabilities[i], bench, ask)
        for i, ask in zip(printed, told, strict=True)
    ]
    given = math.fsum(c.probability for c in candidates)
    checks = next_checks(scored, probabilities, query, [w.reading for w in bench.ways])
    return Identified(
        query=query,
        verdict=verdict.word,
        caps=(*verdict.caps, *_kept_back_cap(kept_back)),
        candidates=tuple(candidates),
        others_count=_how_many_others(bench.population, len(candidates)),
        others_probability=max(0.0, 1.0 - given - weights.none),
        none_of_these=weights.none,
        next_check=checks,
        notes=remarks(query, scored, probabilities, kept_back),
        withheld_probability=math.fsum(p for _, p in kept_back),
    )


def _kept_back_cap(kept_back: Sequence[tuple[Scored, float]]) -> tuple[str, ...]:
    if math.fsum(p for _, p in kept_back) < NONE_AT_LEAST:
        return ()
    return ("the likeliest part must not be chosen by its size",)


def _how_many_others(population: Population, printed: int) -> int:
    return max(0, population.things - printed)


def _withhold(weighed: Weighed, query: Query) -> bool:
    """Whether nothing but sizes (and a kind) speaks for a part that must not be chosen so."""
    if query.marks or query.casts or query.words:
        return False
    return never_on_size_alone(weighed.scored.part)


def _open_systems(weighed: Sequence[Weighed], probabilities: Sequence[float]) -> bool:
    """Whether the mark reads as two bearings in two numbering systems and both hold 1 %."""
    rare: set[str] = set()
    plain: set[str] = set()
    for w, p in zip(weighed, probabilities, strict=True):
        if p >= OPEN_READING and w.match:
            text = folded(w.match.spelling.text)
            (rare if w.match.spelling.weight <= OTHER_SYSTEM else plain).add(text)
    return bool(rare & plain)


def _printed(verdict: Verdict, count: int, limit: int) -> list[int]:
    """The best ``limit``; with a conflict the best by marks and the best by sizes as well."""
    printed = list(range(min(limit, count)))
    for extra in (verdict.best_by_marks, verdict.best_by_sizes):
        if extra is not None and extra not in printed:
            printed.append(extra)
    return printed


def _candidate(weighed: Weighed, probability: float, bench: Bench, ask: Order) -> Candidate:
    account: tuple[str, ...] = ()
    if weighed.match:
        spelling = weighed.match.spelling
        steps = align(weighed.match.readable.reading, folded(spelling.text), spelling.takes_suffix)
        account = lines(steps)
    part = weighed.scored.part
    belongs = bench.belongs.get(part.group)
    return Candidate(weighed.scored, probability, cautions(part), account, ask, belongs)
