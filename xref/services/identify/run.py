"""Identify the part on the bench: gather, score, weigh, judge, and say what to check next."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace

from sqlalchemy import Connection

from xref.domain.alignment import align, lines
from xref.domain.evidence import Scored, odds
from xref.domain.model import Model
from xref.domain.number import folded
from xref.domain.order import Order
from xref.domain.part import Part
from xref.domain.population import Population
from xref.domain.query import Query
from xref.domain.verdict import NONE_AT_LEAST, OPEN_READING, Verdict, give_verdict
from xref.domain.weights import OTHER_SYSTEM
from xref.services.fit.counter import orders
from xref.services.identify import gather
from xref.services.identify.answer import Candidate, Identified
from xref.services.identify.evidence.marks import Readable, agrees, costs_of, readables
from xref.services.identify.evidence.seen import seen_count
from xref.services.identify.gather_sizes import size_parts, size_scales
from xref.services.identify.inch_bored import asks_for_inch_bore, inch_bored, without_bore
from xref.services.identify.next_check import next_checks
from xref.services.identify.remarks import FAR_OFF, nothing_of, remarks
from xref.services.identify.rest import LeftOut, Together, rest_bits
from xref.services.identify.ruled import ruled
from xref.services.identify.stamp import names_a_series, stamped, with_sizes_said
from xref.services.identify.together import SizesTogether
from xref.services.identify.weigh import Bench, Weighed, rank, weigh
from xref.services.identify.withhold import withheld_of
from xref.services.parts.cautioning import cautions_of
from xref.services.parts.cautions import caution_text, dangers, each_once
from xref.store.index.tally import population as read_population
from xref.store.read.queries import any_learned

NONE_LIKELY = 0.1
"""From such odds of none of these on, an unlisted number is read as a designation too. Judged."""
SOURCES_MOST = 50_000
"""In a larger store the sources of a shape are not looked up: no index serves that. Judged."""
UNREAD = -1.0
"""Bits: a mark that differs more than this from every number stands in none. Judged."""


def identify(
    conn: Connection, query: Query, limit: int = 10, model: Model | None = None
) -> Identified:
    """Ranked answers with odds and reasons for what was found on the bench.

    ``limit`` candidates at most are printed; the rest of the odds stands under "others".
    """
    model = _costs(conn, model or Model())
    query = with_sizes_said(query)
    if query.named is None or query.kind_in_words:
        return _identified(conn, query, limit, model)[0]
    strict = replace(model, kind_wrong=model.kind_excluded)
    answer, near = _identified(conn, query, limit, strict)
    if near:
        return answer
    answer, _ = _identified(conn, query, limit, model)
    return replace(answer, notes=(*answer.notes, nothing_of(query.kind)))


def _identified(
    conn: Connection, query: Query, limit: int, model: Model
) -> tuple[Identified, bool]:
    """The answer, and whether something of the kind that was named is near what was found."""
    population = read_population(conn)
    ways = readables(query.marks, model, population)
    cast_ways = readables(query.casts, model, population)
    scales = size_scales(conn, query, population)
    ids, left, ways = gather.mark_parts(conn, ways, population, model)
    more, left_sizes = size_parts(conn, query, scales, population, model)
    by_cast, bearers = gather.cast_parts(conn, query, cast_ways)
    by_words = gather.words_parts(conn, query, population)
    found = gather.things(conn, [*ids, *more, *by_cast, *by_words])
    if asks_for_inch_bore(query):
        others, _ = size_parts(conn, without_bore(query), scales, population, model)
        found += inch_bored(query, [*found, *gather.things(conn, others)])
    if not _read_plainly(ways, found) or names_a_series(query.marks):
        found = _joined(found, stamped(conn, query.marks))
    found = _joined(found, ruled(query))
    casts = tuple(w.reading for w in cast_ways if not w.reading.mark.turned)
    bench = Bench(query, model, population, ways, scales, bearers, casts)
    if query.machine:
        bench = _on_machine(conn, bench, [records[0] for records in found])
    weighed = [weigh(records, bench) for records in found]
    together = SizesTogether(conn, bench)
    together.learn(weighed)
    weighed = sorted(map(together.added, weighed), key=rank)
    answer = _answer(conn, weighed, [*left, *left_sizes], bench, together.bits, limit)
    return answer, any(_near(w.scored, query) for w in weighed)


def _near(scored: Scored, query: Query) -> bool:
    """Whether it is of the kind that was named and nothing speaks against it strongly."""
    if scored.part.kind != query.kind:
        return False
    return all(e.bits > FAR_OFF for e in scored.evidence)


def _read_plainly(ways: Sequence[Readable], found: Sequence[tuple[Part, ...]]) -> bool:
    """Whether a mark is wholly the number of one of the things; true where there is no mark."""
    spelled = {
        (folded(s.text), s.takes_suffix) for thing in found for p in thing for s in p.spellings
    }
    return not ways or any(agrees(way.reading.mark, *one) for way in ways for one in spelled)


def _joined(
    found: Sequence[tuple[Part, ...]], more: Sequence[tuple[Part, ...]]
) -> list[tuple[Part, ...]]:
    """The things of both, those of ``more`` in place of the same things."""
    things = {records[0].group: records for records in found}
    return list((things | {records[0].group: records for records in more}).values())


def _costs(conn: Connection, model: Model) -> Model:
    """The model with the look-alike costs, and with what was learned of this store's reader."""
    whole = costs_of(model)
    if not any_learned(conn):
        return whole
    from xref.services.identify.habits import costs_with_habits

    return costs_with_habits(conn, whole)


def _on_machine(conn: Connection, bench: Bench, parts: Sequence[Part]) -> Bench:
    """The same with what the books say of each part on the machine that was named."""
    from xref.services.links.belongs import judge_parts
    from xref.store.read.links import find_machine

    machine = find_machine(conn, bench.query.machine)
    return replace(bench, machine=machine, belongs=judge_parts(conn, parts, machine))


def _answer(
    conn: Connection,
    weighed: Sequence[Weighed],
    left: Sequence[LeftOut],
    bench: Bench,
    together: Together,
    limit: int,
) -> Identified:
    query = bench.query
    scores = [w.scored for w in weighed]
    rest = rest_bits(scores, left, query, bench.population, bench.model, together)
    weights = odds([w.scored.total_bits for w in weighed], rest)
    withheld = withheld_of(conn, weighed, weights.probabilities, query)
    order = [i for i in range(len(weighed)) if i not in withheld]
    kept_back = [(weighed[i].scored, weights.probabilities[i]) for i in sorted(withheld)]
    scored = [weighed[i].scored for i in order]
    probabilities = [weights.probabilities[i] for i in order]
    verdict = give_verdict(
        scored,
        probabilities,
        weights.none,
        (len(query.marks), len(query.sizes) + seen_count(query)),
        _open_systems([weighed[i] for i in order], probabilities),
    )
    printed = _printed(verdict, len(order), limit)
    parts = [weighed[order[i]].scored.part for i in printed]
    told = orders(conn, parts, bench.machine, _said(query, parts))
    said = [caution_text(name) for name in dangers(query.words)]
    mind = [each_once([*texts, *said]) for texts in cautions_of(conn, parts)]
    candidates = [
        _candidate(weighed[order[i]], probabilities[i], bench, ask, texts)
        for i, ask, texts in zip(printed, told, mind, strict=True)
    ]
    given = math.fsum(c.probability for c in candidates)
    checks = next_checks(
        scored, probabilities, query, bench.ways, 0.0 if verdict.word == "one" else weights.none
    )
    return Identified(
        query=query,
        verdict=verdict.word,
        caps=(*verdict.caps, *_kept_back_cap(kept_back)),
        candidates=tuple(candidates),
        others_count=_how_many_others(bench.population, len(candidates)),
        others_probability=max(0.0, 1.0 - given - weights.none),
        none_of_these=weights.none,
        next_check=checks,
        notes=(
            *remarks(query, scored, probabilities, kept_back),
            *_unlisted(conn, bench, weighed, weights.none),
        ),
        withheld_probability=math.fsum(p for _, p in kept_back),
    )


def _said(query: Query, parts: Sequence[Part]) -> dict[int, Mapping[str, str]]:
    """What the marks say of the likeliest part, by its place."""
    if not query.marks or not parts:
        return {}
    from xref.services.identify.said import said_by_marks

    return {0: said_by_marks(query.marks, parts[0])}


def _unlisted(
    conn: Connection, bench: Bench, weighed: Sequence[Weighed], none: float
) -> tuple[str, ...]:
    """What the marks may be where no number in the store agrees with them."""
    if not bench.query.marks or any(w.match and w.match.differs > UNREAD for w in weighed):
        return ()
    from xref.services.identify.unlisted import unlisted

    sources = bench.population.things <= SOURCES_MOST
    return tuple(unlisted(conn, bench.query.marks, none >= NONE_LIKELY, sources))


def _kept_back_cap(kept_back: Sequence[tuple[Scored, float]]) -> tuple[str, ...]:
    if math.fsum(p for _, p in kept_back) < NONE_AT_LEAST:
        return ()
    return ("the likeliest part must not be chosen by its size",)


def _how_many_others(population: Population, printed: int) -> int:
    return max(0, population.things - printed)


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


def _candidate(
    weighed: Weighed, probability: float, bench: Bench, ask: Order, mind: tuple[str, ...]
) -> Candidate:
    account: tuple[str, ...] = ()
    if weighed.match:
        spelling = weighed.match.spelling
        steps = align(weighed.match.readable.reading, folded(spelling.text), spelling.takes_suffix)
        account = lines(steps)
    part = weighed.scored.part
    belongs = bench.belongs.get(part.group)
    return Candidate(weighed.scored, probability, mind, account, ask, belongs)
