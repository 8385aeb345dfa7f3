"""A whole stamp: the number in it, with words, suffixes and codes around it.

What a grammar reads in a fully legible stamp leads to the row of the store that it names, or, where
no row has it, is itself something the part may be ("in no table here"). Either is then weighed like
any other part: the stamp counts as one more way to write its number.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from sqlalchemy import Connection

from xref.designation.letters import begins_a_series
from xref.designation.three_sizes import outside_first, three_sizes
from xref.domain.mark import Mark, is_word, pieces_of, read_mark
from xref.domain.number import folded
from xref.domain.part import Part, Spelling, StoredSize
from xref.domain.query import Query
from xref.domain.size import NM_PER_MM
from xref.errors import XrefError
from xref.services.question import read_size
from xref.store.index.near import group_members
from xref.store.read.load import load_parts
from xref.store.read.queries import find_part

if TYPE_CHECKING:
    from xref.services.decode.decode import DecodedReading

ORIGIN_MARK = "mark"
"""Where a candidate is from that stands in no table: read off the mark by its grammar."""
SIZED, UNSIZED = 0.05, 0.004
"""How likely such a part is beside a row of a standard: where the number's own series gives sizes,
and where the grammar alone speaks. Judged."""
AS_STAMPED = 0.6
"""How usual it is to write a number so, whole and legible, with what stands around it. Judged."""
PIECE_LEFT = 0.7
"""And for every piece of it that is not understood. Judged."""
MOST_RUNS = 12
_BESIDE = re.compile(r"\+?(?:U|HJ|H[AES]?|AHX?|KML?|MBL?)\d{2,4}")
"""What is sold and stamped beside a bearing: its washer, angle ring, sleeve, nut. From memory."""


@dataclass(frozen=True, slots=True)
class Stamped:
    """What one stamp was read as: a part, and what of the stamp that leaves over."""

    part: Part
    left_over: tuple[str, ...]


def runs(text: str) -> list[tuple[str, tuple[str, ...]]]:
    """The runs of pieces of ``text`` that may be its number, each with the pieces around it, the
    longest first; words before and behind are no number, though the first letters of one may be."""
    pieces = pieces_of(text)
    found = []
    for size in range(len(pieces), 0, -1):
        for at in range(len(pieces) - size + 1):
            inside = pieces[at : at + size]
            if any(any(c.isdigit() or c == "?" for c in piece) for piece in inside):
                around = (*pieces[:at], *pieces[at + size :])
                found.append((" ".join(inside), around))
    return found[:MOST_RUNS]


def with_sizes_said(query: Query) -> Query:
    """The same where a mark holds three sizes behind a number ("QJ206 30 × 62 × 16"): the number is
    the mark, and they are sizes, in millimetres, where none were measured."""
    marks: list[Mark] = []
    sizes = dict(query.sizes)
    for mark in query.marks:
        three = three_sizes(mark.text) if mark.certain else None
        number = f"{three.before} {three.after}".strip() if three else ""
        if three is None or not any(c.isdigit() for c in number):
            marks.append(mark)
            continue
        marks.append(read_mark(number))
        if not query.sizes:
            said = {"bore": three.bore, "outside": three.outside, "width": three.width}
            for name, nm in said.items():
                sizes[name] = read_size(name, f"{nm / NM_PER_MM:g}mm", query.tool, "mm")
    return replace(query, marks=tuple(marks), sizes=sizes)


def stamped(conn: Connection, marks: Sequence[Mark]) -> list[tuple[Part, ...]]:
    """The things that the legible ``marks`` name by a grammar, each with all its records."""
    things: dict[str, tuple[Part, ...]] = {}
    for mark in marks:
        if mark.turned or not mark.certain:
            continue
        for one in _read(conn, mark):
            spelled = Spelling(mark.text, _usual(one), "mark")
            records = things.get(one.part.group) or _records(conn, one.part)
            first = replace(records[0], spellings=(*records[0].spellings, spelled))
            things[one.part.group] = (first, *records[1:])
    return list(things.values())


def _usual(one: Stamped) -> float:
    codes = [piece for piece in one.left_over if not is_word(piece)]
    return AS_STAMPED * PIECE_LEFT ** len(codes)


def _records(conn: Connection, part: Part) -> tuple[Part, ...]:
    if not part.id:
        return (part,)
    held = load_parts(conn, group_members(conn, [part.id]))
    return tuple(sorted(held, key=lambda p: (-p.weight, p.id)))


def _read(conn: Connection, mark: Mark) -> Iterator[Stamped]:
    """What the run that leaves least over is read as."""
    from xref.services.decode.decode import decode  # its patterns cost more than a search

    best: list[Stamped] = []
    fewest, length = 1 + len(mark.text), 0
    swapped = [(text, ()) for text in [outside_first(mark.text)] if text]
    for run, around in (*runs(mark.text), *swapped):
        try:
            decoded = decode(run)
        except XrefError:
            continue
        codes = _unread(around)
        for reading in decoded.readings:
            left = codes + _unread(reading.unknown)
            # A part of a run that is read to its end says no more than the run: GOST 7206.
            if left > fewest or (left == fewest and len(run) < length):
                continue
            if 2 * left > len(folded(run)):
                continue
            part = _row(conn, reading) or _made(reading)
            if part is None:
                continue
            if left < fewest:
                best, fewest, length = [], left, len(run)
            best.append(Stamped(part, (*around, *reading.unknown)))
        for row in decoded.same_sizes if not codes else ():
            part = find_part(conn, row.number, row.maker)
            if part is not None:
                best.append(Stamped(part, around))
    yield from best


def names_a_series(marks: Sequence[Mark]) -> bool:
    """Whether a word of a mark is the letters of a series or of a standard (UCFC 210, GOST 7206),
    without which its digits name another thing."""
    words = {word.upper() for mark in marks for word in pieces_of(mark.text) if is_word(word)}
    return any(begins_a_series(word) or word in ("GOST", "ГОСТ") for word in words)


def _unread(pieces: Sequence[str]) -> int:
    """Characters of the pieces that are neither words nor named beside a bearing."""
    return sum(len(p) for p in pieces if not is_word(p) and not _BESIDE.fullmatch(p))


def _row(conn: Connection, reading: DecodedReading) -> Part | None:
    """The row of the store that the reading names."""
    for number in dict.fromkeys((reading.designation, reading.canonical, *reading.also_written)):
        try:
            part = find_part(conn, number)
        except XrefError:
            continue
        if part is not None and part.kind in ("", reading.kind):
            return part
    return None


def _made(reading: DecodedReading) -> Part | None:
    """A part that has no row in the store, as the grammar describes it; None where the reading
    leaves something over."""
    if _unread(reading.unknown) or len(folded(reading.designation)) < 2:
        return None
    origin = "read off the mark"
    told = (reading.note, origin if reading.tables_agreeing else f"{origin}; in no table here")
    return Part(
        reading.designation,
        reading.standard,
        reading.kind,
        f"mark::{folded(reading.designation)}",
        ORIGIN_MARK,
        SIZED if reading.sizes else UNSIZED,
        type=reading.type,
        words=reading.type,
        sizes={name: StoredSize(value) for name, value in reading.sizes.items()},
        spellings=(Spelling(reading.designation, 1.0, "number"),),
        note="; ".join(note for note in told if note),
    )
