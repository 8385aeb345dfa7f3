"""Standard parts as a person measures them, from a store that lacks a quarter of all things.

Drawn otherwise than the model takes it: hand, wear and careless readings have shares of their own.
"""

from __future__ import annotations

import random
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from sqlalchemy import delete, select

from scripts.benches.faults import SHARES, make_mark
from xref.domain.number import folded
from xref.domain.part import Part, is_plain_number
from xref.domain.size import NM_PER_MM
from xref.domain.words import split_words
from xref.services.identify.gather import merged
from xref.standards.wear import measured_directly, wear
from xref.store.open.engine import Store, open_engine
from xref.store.read.load import load_parts
from xref.store.tables.tables import part
from xref.store.upkeep.checking import mend

ABSENT = 0.25
HAND = 0.03
"""Millimetres: the standard deviation of a reading by caliper. Judged."""
CARELESS = 0.08
"""How many readings are rounded to whole millimetres or taken askew. Judged."""
USUAL = 0.3
"""A spelling less usual than this is another thing's number: GOST 7206. Judged."""
WORN = 0.6
"""How many of the parts that may wear have worn. Judged."""


@dataclass(frozen=True, slots=True)
class Cell:
    """What is given of each thing: how many sizes (most), and with it a kind, words, a mark."""

    name: str
    sizes: int
    kind: bool = False
    words: bool = False
    mark: bool = False


CELLS = (
    Cell("two sizes", 2),
    Cell("three sizes", 3),
    Cell("two sizes, kind", 2, kind=True),
    Cell("three sizes, kind", 3, kind=True),
    Cell("two sizes, words", 2, words=True),
    Cell("three sizes, words", 3, words=True),
    Cell("mark, one size", 1, mark=True),
    Cell("mark, two sizes", 2, mark=True),
    Cell("mark, three sizes", 3, mark=True),
)


@dataclass(frozen=True, slots=True)
class Case:
    """What was given, and the group of the truth ("" where the store lacks it).

    ``names``: the ways to write the truth's number, folded; its kind."""

    sizes: dict[str, str]
    kind: str
    words: str
    mark: str
    group: str
    names: frozenset[str] = frozenset()
    truly: str = ""

    def is_named(self, part: Part) -> bool:
        """Whether ``part`` is the truth: the thing itself, or an entry that a grammar or a rule
        made of it where the store lacks it."""
        if self.group or part.is_standard:
            return part.group == self.group
        return part.kind == self.truly and folded(part.number) in self.names


def thinned(path: Path, seed: int) -> tuple[Store, list[Part], list[Part]]:
    """A new store without a quarter of its standard things; those it has and those it lacks."""
    store = open_engine(path)
    chance = random.Random(f"thin {seed}")
    with store.writing("leave a quarter of the things out") as unit:
        ids = list(unit.conn.scalars(select(part.c.id).order_by(part.c.id)))
        records: dict[str, list[Part]] = defaultdict(list)
        for record in load_parts(unit.conn, ids):
            records[record.group].append(record)
        things = {group: merged(held) for group, held in sorted(records.items())}
        away = {group for group in things if chance.random() < ABSENT}
        gone = [record.id for group in away for record in records[group]]
        for start in range(0, len(gone), 500):
            unit.conn.execute(delete(part).where(part.c.id.in_(gone[start : start + 500])))
        mend(unit.conn, lambda _: None)
        unit.commit()
    present = [thing for group, thing in things.items() if group not in away]
    return store, present, [things[group] for group in sorted(away)]


def drawn(
    cell: Cell, count: int, seed: int, present: Sequence[Part], away: Sequence[Part]
) -> Iterator[Case]:
    """``count`` cases of ``cell``, the same for the same seed; a quarter of the truths away."""
    chance = random.Random(f"{seed} {cell.name}")
    made = 0
    while made < count:
        absent = chance.random() < ABSENT
        truth = chance.choice(away if absent else present)
        case = case_of(cell, truth, "" if absent else truth.group, chance)
        if case is not None:
            made += 1
            yield case


def case_of(cell: Cell, truth: Part, group: str, chance: random.Random) -> Case | None:
    """What is given of ``truth``; None where it has not what the cell wants."""
    names = sorted(n for n in truth.sizes if not is_plain_number(n))
    if len(names) < cell.sizes or (cell.words and not truth.words):
        return None
    names = chance.sample(names, cell.sizes)
    mark = ""
    if cell.mark:
        if len(folded(truth.number)) < 3:
            return None
        faults = chance.choice((0, 0, 1, 1, 2))
        made = make_mark(truth.number, faults, SHARES, chance) if faults else None
        if faults and made is None:
            return None
        mark = made.mark if made else truth.number
    worn = chance.random() < WORN
    sizes = {name: read_size(truth, name, worn, chance) for name in names}
    words = " ".join(chance.sample(w := split_words(truth.words), min(2, len(w))))
    kind, words = truth.kind if cell.kind else "", words if cell.words else ""
    written = frozenset(folded(s.text) for s in truth.spellings if s.weight >= USUAL)
    return Case(sizes, kind, words, mark, group, written | {folded(truth.number)}, truth.kind)


def read_size(truth: Part, name: str, worn: bool, chance: random.Random) -> str:
    """What a caliper shows of a size."""
    nominal = truth.sizes[name].value
    direct = measured_directly(truth.kind, truth.type, name, nominal)
    value = (nominal + direct.offset + chance.gauss(0, 1) * direct.spread) / NM_PER_MM
    rule = wear(truth.kind, name, "used")
    if worn and rule.direction and chance.random() < rule.q + 0.1:
        value += rule.direction * chance.expovariate(1 / (1.2 * rule.w_nm / NM_PER_MM))
    value += chance.gauss(0, HAND)
    if chance.random() < CARELESS:
        value = round(value) if chance.random() < 0.5 else value + chance.gauss(0, 0.4)
    return f"{max(0.05, value):.2f} mm"
