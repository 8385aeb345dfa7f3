"""Gather what is worth scoring, as physical things, with everything the scoring needs."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from sqlalchemy import Connection

from xref.domain.channel import distance
from xref.domain.model import Model
from xref.domain.number import folded
from xref.domain.part import BOUNDARY, Part, StoredSize
from xref.domain.population import Population
from xref.domain.query import Query, SizeReading
from xref.domain.size import NM_PER_MM
from xref.domain.words import split_words
from xref.services.scoring.marks import Readable, differs_bits
from xref.services.scoring.sizes import STANDS_FOR, SizeScale, scale, size_evidence
from xref.store.near import (
    BoundaryClass,
    Dimensions,
    boundary_classes,
    casting_marks,
    group_members,
    parts_on_dimensions,
    parts_with_size,
    spelling_rows,
)  # fmt: skip
from xref.store.queries import load_parts, name_weight, parts_by_words, value_weights
from xref.store.shortlist import nearest_spellings

BY_MARK = 60
"""Things scored in full for a mark. The rest of the shortlist counts in *others*."""
BY_SIZE = 250
"""Parts scored in full for sizes. The rest count in *others* by their class."""
BY_WORDS = 200
REACH = 4 * NM_PER_MM
"""How far from a reading a part may be nominal and still be looked at: worn through, or a seal."""
HARDNESS_REACH = 40
"""Shore A degrees: more than old rubber hardens."""
NEAR_SHARE = 2 * NM_PER_MM


@dataclass(frozen=True, slots=True)
class LeftOut:
    """The weight of things above the floor that were not scored in full, and their bits."""

    weight: float
    bits: float
    pattern_floor: float


def mark_parts(
    conn: Connection, ways: Sequence[Readable], model: Model
) -> tuple[list[int], list[LeftOut]]:
    """The parts nearest the marks, and what the shortlist leaves out of full scoring."""
    if not ways:
        return [], []
    rows = spelling_rows(conn, nearest_spellings(conn, [w.reading.mark for w in ways]))
    best: dict[str, tuple[float, int, float]] = {}
    for row in rows:
        bits = max(
            way.bits + differs_bits(way, row.folded, row.weight, row.takes_suffix, model)
            for way in ways
        )
        if row.group not in best or bits > best[row.group][0]:
            best[row.group] = (bits, row.part_id, row.part_weight)
    ranked = sorted(best.values(), reverse=True)
    floor = model.mark_floor
    left = [LeftOut(w, bits, floor) for bits, _, w in ranked[BY_MARK:] if bits > floor]
    return [ident for _, ident, _ in ranked[:BY_MARK]], left


def size_parts(
    conn: Connection, query: Query, scales: Mapping[str, SizeScale], model: Model
) -> tuple[list[int], list[LeftOut]]:
    """The parts nearest the sizes, and the classes left out of full scoring."""
    windows = {}
    found: list[int] = []
    for name, reading in query.sizes.items():
        held = STANDS_FOR.get(name, (name,))[0]
        if held in BOUNDARY:
            windows[held] = window(reading)
        if name not in BOUNDARY:
            found += parts_with_size(conn, name, window(reading), BY_SIZE, query.kind)
    if "laid-out" in query.sizes and "inside" not in query.sizes:
        found += _laid_out(conn, query.sizes["laid-out"])
    taken, left = _best_classes(boundary_classes(conn, windows), scales, query, model)
    return [*found, *parts_on_dimensions(conn, taken)], left


def window(reading: SizeReading) -> tuple[int, int]:
    """The values, in nanometres or as they are counted, that a reading is looked for among."""
    if reading.name == "hardness":
        return max(1, reading.value - HARDNESS_REACH), reading.value + HARDNESS_REACH
    if reading.counted:
        return reading.value, reading.value
    reach = REACH + 6 * (reading.error + reading.hand)
    return max(1, reading.value - reach), reading.value + reach


def _laid_out(conn: Connection, reading: SizeReading) -> list[int]:
    """O-rings that a broken ring of this length may have been: π × (inside + section)."""
    across = round(reading.value / math.pi)
    window = (max(1, across - 12 * NM_PER_MM), across)
    return parts_with_size(conn, "inside", window, 2 * BY_SIZE)


def _best_classes(
    classes: Iterable[BoundaryClass],
    scales: Mapping[str, SizeScale],
    query: Query,
    model: Model,
) -> tuple[list[Dimensions], list[LeftOut]]:
    ranked = []
    for held in classes:
        sizes = {name: StoredSize(value) for name, value in held.sizes.items()}
        stand_in = Part("", "", held.kind, "", "", held.weight, type=held.type, sizes=sizes)
        items, _ = size_evidence(stand_in, scales, query, model)
        bits = math.fsum(item.bits for item in items)
        floor = max(model.sizes_floor, model.size_floor * len(items))
        kind = _kind_bits(held.kind, query, model)
        ranked.append((bits + kind, held, bits, floor))
    ranked.sort(key=lambda row: -row[0])
    taken: list[Dimensions] = []
    left: list[LeftOut] = []
    count = 0
    for _, held, bits, floor in ranked:
        if count < BY_SIZE:
            taken.append(held.dimensions)
            count += held.count
        elif bits > floor:
            left.append(LeftOut(held.weight, bits, floor))
    return list(dict.fromkeys(taken)), left


def _kind_bits(kind: str, query: Query, model: Model) -> float:
    return model.kind_wrong if query.kind and kind != query.kind else 0.0


def size_scales(conn: Connection, query: Query) -> dict[str, SizeScale]:
    """Each reading with how common such a size is in the store (of the kind, if one was named)."""
    scales = {}
    kind = query.kind or None
    for name, reading in query.sizes.items():
        held = STANDS_FOR.get(name, (name,))[0]
        near = NEAR_SHARE if not reading.counted else 0
        stored = value_weights(conn, held, reading.value - near, reading.value + near, kind)
        scales[name] = scale(reading, stored, name_weight(conn, held, kind), query)
    return scales


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
    likely = {
        text for text in bearers
        if any(distance(way.reading, text) < 12.0 for way in ways)
    }  # fmt: skip
    near = spelling_rows(conn, nearest_spellings(conn, [w.reading.mark for w in ways]))
    near.sort(key=lambda row: min(distance(way.reading, row.folded) for way in ways))
    found = [ident for ident, text in marked if text in likely]
    return [*found, *(row.part_id for row in near[: 4 * BY_MARK])], dict(bearers)


def words_parts(conn: Connection, query: Query, population: Population) -> list[int]:
    """Parts whose description holds one of the words, the rarest word first."""
    words = sorted(split_words(query.words), key=lambda w: population.words.get(w, 0.0))
    return parts_by_words(conn, words, BY_WORDS) if words else []


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
