"""The card of a part: everything that is on record of it, each fact with where it is from."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from sqlalchemy import Connection

from xref.domain.machine import Applicability
from xref.domain.part import Part, PartMark
from xref.domain.supersession import Step
from xref.services.bench.wanted import Line, lines
from xref.services.changing.fact import Fact
from xref.services.changing.noted import SORTS, of_part
from xref.services.links.trace import Traced, trace_part
from xref.services.parts.cautioning import every_caution
from xref.services.parts.designated import look_up
from xref.store.index.near import group_members
from xref.store.notes import bench
from xref.store.notes.bench import BenchItem
from xref.store.read.links import (
    InterchangeRow,
    applicabilities,
    interchanges,
    order_instead,
    steps_beside,
)
from xref.store.read.load import load_parts
from xref.store.read.sheet_links import mark_sources_of
from xref.store.write.facts import mark_rows
from xref.store.write.sheet_facts import sources_of_parts

EVERY = 1_000_000
"""More facts than any part has."""
BOTH, THIS_FOR_THAT, THAT_FOR_THIS = "both", "this for that", "that for this"
"""Which serves for which: the part of the card is this, the other one that."""


@dataclass(frozen=True, slots=True)
class Swap:
    """An interchange as seen from the part of the card."""

    other: Part
    grade: str
    way: str
    note: str
    source: str
    id: int


@dataclass(frozen=True, slots=True)
class Card:
    """A part and what hangs on it.

    ``source`` is where its record is from, "" where none is named; ``mark_sources`` has the marks
    that name one. ``same`` are the other numbers of the same physical thing. ``traced`` is its
    chain; ``beside`` are the steps of others with which it must be changed together, and ``named``
    the parts of these by id. ``wants`` includes what was got. ``mark_ids`` has the numbers of the
    marks, and ``noted_facts`` what lists brought along, by its sort, with its numbers.
    """

    part: Part
    source: str
    order_instead: str
    mark_sources: Mapping[PartMark, str]
    same: tuple[Part, ...]
    ranges: tuple[Applicability, ...]
    traced: Traced
    beside: tuple[Step, ...]
    named: Mapping[int, Part]
    swaps: tuple[Swap, ...]
    items: tuple[BenchItem, ...]
    wants: tuple[Line, ...]
    cautions: tuple[str, ...]
    mark_ids: Mapping[PartMark, int]
    noted_facts: Mapping[str, tuple[Fact, ...]]


def card(conn: Connection, number: str, maker: str | None = None) -> Card:
    """The card of the part that ``number`` names. Raises NotFoundError or AmbiguousError."""
    part = look_up(conn, number, maker)
    ident = part.id
    beside = steps_beside(conn, ident)
    rows = interchanges(conn, [ident])
    named = _named(conn, part, beside, rows)
    same = [i for i in group_members(conn, [ident]) if i != ident]
    return Card(
        part=part,
        source=sources_of_parts(conn, [ident]).get(ident, ""),
        order_instead=order_instead(conn, ident),
        mark_sources=mark_sources_of(conn, [ident]).get(ident, {}),
        same=tuple(sorted(load_parts(conn, same), key=lambda p: p.id)),
        ranges=tuple(applicabilities(conn, [ident])),
        traced=trace_part(conn, part),
        beside=tuple(beside),
        named=named,
        swaps=tuple(_swap(row, ident, named) for row in rows),
        items=tuple(bench.items(conn, part_id=ident)),
        wants=tuple(lines(conn, done=True, part_id=ident)),
        cautions=every_caution(conn, [part]),
        mark_ids={PartMark(m.text, m.role): m.id for m in mark_rows(conn, EVERY, ident)},
        noted_facts={kind: tuple(of_part(conn, kind, ident, EVERY)) for kind in SORTS},
    )


def _named(
    conn: Connection, part: Part, beside: Sequence[Step], rows: Sequence[InterchangeRow]
) -> dict[int, Part]:
    ids = {node for row in rows for node in (row.part_id, row.other_id)}
    for step in beside:
        ids |= {step.old, *(node for node, _ in step.news), *step.companions}
    return {p.id: p for p in load_parts(conn, sorted(ids - {part.id}))} | {part.id: part}


def _swap(row: InterchangeRow, ident: int, named: Mapping[int, Part]) -> Swap:
    first = row.part_id == ident
    way = BOTH if row.both_ways else THIS_FOR_THAT if first else THAT_FOR_THIS
    other = named[row.other_id if first else row.part_id]
    return Swap(other, row.grade, way, row.note, row.source, row.id)
