"""Gather what is worth scoring, as physical things, with everything the scoring needs."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import replace

from sqlalchemy import Connection

from xref.domain.channel import distance
from xref.domain.model import Model
from xref.domain.number import folded
from xref.domain.part import Part
from xref.domain.population import Population
from xref.domain.query import Query
from xref.services.identify.evidence.marks import Near, Readable, agrees, differs_at, in_their_crowd
from xref.services.identify.evidence.words import wanted_in
from xref.services.identify.rest import LeftOut
from xref.store.index.near import casting_marks, group_members, spelling_rows
from xref.store.index.shortlist import nearest_spellings
from xref.store.read.load import load_parts
from xref.store.read.queries import parts_by_words

BY_MARK = 60
"""Things scored in full for a mark. The rest of the shortlist counts in *others*."""
BY_WORDS = 200


def mark_parts(
    conn: Connection, ways: Sequence[Readable], population: Population, model: Model
) -> tuple[list[int], list[LeftOut], tuple[Readable, ...]]:
    """The parts nearest the marks, what the shortlist leaves out of full scoring, and the ways to
    read the marks with what each says among the numbers near it."""
    if not ways:
        return [], [], ()
    rows = spelling_rows(conn, nearest_spellings(conn, [w.reading.mark for w in ways]))
    near = [
        Near(row, tuple(distance(way.reading, row.folded, row.takes_suffix) for way in ways))
        for row in rows
    ]
    ways = in_their_crowd(ways, near, population.weight, model)
    best: dict[str, tuple[float, int, float]] = {}
    for one in near:
        row = one.row
        bits = max(
            way.bits
            + differs_at(
                cost, row.weight, agrees(way.reading.mark, row.folded, row.takes_suffix), model
            )
            for way, cost in zip(ways, one.costs, strict=True)
        )
        if row.group not in best or bits > best[row.group][0]:
            best[row.group] = (bits, row.part_id, row.part_weight)
    ranked = sorted(best.values(), reverse=True)
    floor = model.mark_floor
    left = [LeftOut(w, bits, floor) for bits, _, w in ranked[BY_MARK:] if bits > floor]
    return [ident for _, ident, _ in ranked[:BY_MARK]], left, ways


def cast_parts(
    conn: Connection, query: Query, ways: Sequence[Readable]
) -> tuple[list[int], dict[str, float]]:
    """Parts that bear a casting mark or whose number lies near one, and who bears each mark."""
    if not query.casts:
        return [], {}
    bearers: dict[str, float] = defaultdict(float)
    marked = []
    for ident, text, weight in casting_marks(conn):
        bearers[text] += weight
        marked.append((ident, text))
    likely = {text for text in bearers if any(distance(way.reading, text) < 12.0 for way in ways)}
    near = spelling_rows(conn, nearest_spellings(conn, [w.reading.mark for w in ways]))
    near.sort(key=lambda row: min(distance(way.reading, row.folded) for way in ways))
    found = [ident for ident, text in marked if text in likely]
    return [*found, *(row.part_id for row in near[: 4 * BY_MARK])], dict(bearers)


def words_parts(conn: Connection, query: Query, population: Population) -> list[int]:
    """Parts whose description has one of the things asked for in words, the rarest first."""
    asked = sorted(wanted_in(query.words), key=lambda one: one.share(population))
    return parts_by_words(conn, [way for one in asked for way in one.ways], BY_WORDS)


def things(conn: Connection, part_ids: Iterable[int]) -> list[tuple[Part, ...]]:
    """The physical things these parts belong to, each with all its records."""
    ids = group_members(conn, list(dict.fromkeys(part_ids)))
    grouped: dict[str, list[Part]] = defaultdict(list)
    for part in load_parts(conn, ids):
        grouped[part.group].append(part)
    return [tuple(sorted(g, key=lambda p: (-p.weight, p.id))) for g in grouped.values()]


def merged(records: Sequence[Part]) -> Part:
    """One record for one physical thing: everything any of its records says, own ones first."""
    first = records[0]
    if len(records) == 1:
        return first
    sizes = {name: size for part in reversed(records) for name, size in part.sizes.items()}
    return replace(
        first,
        kind=next((p.kind for p in records if p.kind), ""),
        type=next((p.type for p in records if p.type), ""),
        words=next((p.words for p in records if p.words), ""),
        sizes=sizes,
        spellings=tuple(s for p in records for s in p.spellings),
        marks=tuple(m for p in records for m in p.marks),
        tables_agreeing=max(p.tables_agreeing for p in records),
        note="; ".join(dict.fromkeys(p.note for p in records if p.note)),
    )


def written(records: Sequence[Part], spelling_text: str) -> Part:
    """The record that owns the spelling which agreed best; the first where none does."""
    wanted = folded(spelling_text)
    for part in records:
        if any(folded(s.text) == wanted for s in part.spellings):
            return part
    return records[0]
