"""The bench book: what was found, and what it was decided to be."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass, replace
from pathlib import Path
from typing import Any

from sqlalchemy import Connection

from xref.domain.line import needed_line, one_line, optional_line
from xref.domain.nextcheck import Check
from xref.domain.number import visible
from xref.domain.part import Part
from xref.errors import InputError
from xref.services.bench.photos import keep
from xref.services.identify.answer import Identified
from xref.services.identify.habits import learn
from xref.services.identify.run import identify
from xref.services.links.donor import Donor, Item, donor_of
from xref.services.parts.cautioning import cautions_of, every_caution
from xref.services.parts.cautions import caution_text, dangers, each_once, never_by_size
from xref.services.parts.naming import find_or_mention
from xref.services.question import Asked, understand
from xref.store.file.clock import now
from xref.store.notes import bench
from xref.store.notes.bare_unit import default_unit
from xref.store.notes.bench import BenchItem
from xref.store.read.links import find_machine
from xref.store.read.load import load_parts
from xref.store.write.unit import UnitOfWork

FOUND = ("side", "position", "orientation", "shims", "neighbours")
MOST, MOST_ASSEMBLY, MOST_NOTE = 200, 80, 500
"""Characters of a place and of each thing found, of an assembly, of a note."""
LEAST_ODDS = 0.01
"""A candidate below this has no say in where an assembly came from. Judged."""


@dataclass(frozen=True, slots=True)
class Open:
    """An undecided item with its best answers and its best next check."""

    item: BenchItem
    answer: Identified
    check: Check | None


def add(
    unit: UnitOfWork,
    place: str,
    asked: Asked,
    *,
    assembly: str = "",
    found: Mapping[str, str] | None = None,
    note: str = "",
    photos: Sequence[Path] = (),
) -> int:
    """Put a part on the bench and return the number for its label.

    ``place`` is where the part came off. Raises InputError for a question that is not understood,
    or an empty place.
    """
    row: dict[str, Any] = {
        "place": needed_line(place, MOST, "place"),
        "assembly": optional_line(assembly, MOST_ASSEMBLY, "assembly"),
        "found": {
            what: needed_line(text, MOST, what) for what, text in (found or {}).items() if text
        },
        "note": optional_line(note, MOST_NOTE, "note"),
        "part_id": None,
        "odds": None,
    }
    if not any((asked.marks, asked.casts, asked.sizes, asked.words)):
        asked = replace(asked, words=asked.words or place)
    asked = replace(asked, unit=default_unit(unit.conn))
    understand(asked)
    machine = find_machine(unit.conn, asked.machine) if asked.machine else None
    kept = [keep(unit.where, photo) for photo in photos]
    row |= {"machine_id": machine.id if machine else None, "asked": typed(asked)}
    ident = bench.add_item(unit, row)
    for digest, name in kept:
        bench.add_photo(unit, ident, digest, name)
    return ident


def typed(asked: Asked) -> dict[str, Any]:
    """The question as typed, only what was given; the unit too where it is not millimetres."""
    return {
        name: list(value) if isinstance(value, tuple) else value
        for name, value in asdict(asked).items()
        if value and (name, value) != ("unit", "mm")
    }


def question(item: BenchItem) -> Asked:
    """The item's question, as it was typed; with its place, where that says what is never chosen
    by its size."""
    asked = Asked(**dict(item.asked))
    if never_by_size(item.place) and not never_by_size(asked.words):
        return replace(asked, words=f"{asked.words} {item.place}".strip()[:MOST])
    return asked


def answer(conn: Connection, item: BenchItem, limit: int = 10) -> Identified:
    """What the item may be, by all the store knows today."""
    return identify(conn, understand(question(item)), limit)


def undecided(conn: Connection) -> list[Open]:
    """Every undecided item with its best next check."""
    found = []
    for item in bench.items(conn, undecided=True):
        told = answer(conn, item, 3)
        check = told.next_check[0] if told.next_check else None
        found.append(Open(item, told, check))
    return found


def answer_for(conn: Connection, label: int, limit: int = 10) -> Identified | None:
    """What an item may be; None where it was decided. Raises NotFoundError."""
    item = bench.item(conn, label)
    return None if item.part_id is not None else answer(conn, item, limit)


@dataclass(frozen=True, slots=True)
class Overview:
    """Items, the undecided ones with their answers, the numbers they were decided to be by part
    id, and what to mind with each by its label."""

    items: Sequence[BenchItem]
    still: Sequence[Open]
    numbers: Mapping[int, str]
    cautions: Mapping[int, tuple[str, ...]]


def overview(conn: Connection, undecided_only: bool = False) -> Overview:
    """All that lies on the bench, or only what is not decided."""
    items, still = bench.items(conn, undecided=undecided_only), undecided(conn)
    return Overview(items, still, numbers(conn, items), cautions_on(conn, items, still))


def one(conn: Connection, label: int) -> Overview:
    """One item, not asked anew. Raises NotFoundError."""
    items = [bench.item(conn, label)]
    return Overview(items, (), numbers(conn, items), cautions_on(conn, items))


@dataclass(frozen=True, slots=True)
class Decided:
    """What an item was decided to be, what its odds were (0 to 1), and the number made for it."""

    part: Part
    odds: float
    made: tuple[str, ...]
    cautions: tuple[str, ...] = ()


def decide(unit: UnitOfWork, ident: int, number: str, maker: str | None = None) -> Decided:
    """Write down what an item was decided to be.

    Raises NotFoundError for a label that is not there. A number that is not in the store is made
    as mentioned only.
    """
    item = bench.item(unit.conn, ident)
    told = answer(unit.conn, item, 50)
    named = find_or_mention(unit, number, maker)
    part = named.part
    _teach(unit, item, part)
    odds = next((c.probability for c in told.candidates if c.part.group == part.group), 0.0)
    bench.change_item(unit, ident, {"part_id": part.id, "odds": odds, "decided_at": now()})
    mind = _of_place(item, every_caution(unit.conn, [part]))
    return Decided(part, odds, (part.number,) if named.made else (), mind)


def _teach(unit: UnitOfWork, item: BenchItem, part: Part) -> None:
    """Learn from the decision how its marks were read; a changed decision unteaches the old one."""
    marks = understand(question(item)).marks
    if item.part_id is not None:
        learn(unit, marks, load_parts(unit.conn, [item.part_id])[0], times=-1)
    learn(unit, marks, part)


def donor(conn: Connection, assembly: str, machine: str | None) -> Donor:
    """The donor of the bench items of one assembly, each with its odds.

    Raises InputError where no item of that assembly is on the bench.
    """
    found = bench.items(conn, assembly=one_line(assembly))
    if not found:
        raise InputError(
            f'nothing on the bench is of the assembly "{visible(assembly)}"', "See xref bench list."
        )
    items = [Item(f"label {item.id}", tuple(_choices(conn, item))) for item in found]
    return donor_of(conn, items, find_machine(conn, machine) if machine else None)


def _choices(conn: Connection, item: BenchItem) -> list[tuple[Part, float]]:
    if item.part_id is not None:
        return [(load_parts(conn, [item.part_id])[0], 1.0)]
    told = answer(conn, item, 10)
    return [(c.part, c.probability) for c in told.candidates if c.probability >= LEAST_ODDS]


def numbers(conn: Connection, items: Sequence[BenchItem]) -> dict[int, str]:
    """The number of every part the items were decided to be, by part id."""
    ids = [item.part_id for item in items if item.part_id is not None]
    return {part.id: part.number for part in load_parts(conn, ids)}


def cautions_on(
    conn: Connection, items: Sequence[BenchItem], still: Sequence[Open] = ()
) -> dict[int, tuple[str, ...]]:
    """What to mind with each item by its label: of what it was decided to be, else of what it most
    likely is, and of where it came off."""
    likely = {
        found.item.id: found.answer.candidates[0].cautions
        for found in still
        if found.answer.candidates and found.answer.verdict != "none"
    }
    ids = list(dict.fromkeys(item.part_id for item in items if item.part_id is not None))
    parts = load_parts(conn, ids)
    by_id = {p.id: texts for p, texts in zip(parts, cautions_of(conn, parts), strict=True)}
    return {
        item.id: _of_place(item, by_id.get(item.part_id or 0, likely.get(item.id, ())))
        for item in items
    }


def _of_place(item: BenchItem, texts: Sequence[str]) -> tuple[str, ...]:
    """The same with what the words written down with the item call for."""
    said = " ".join((item.place, str(item.asked.get("words", "")), item.assembly))
    return each_once([*texts, *map(caution_text, dangers(said))])
