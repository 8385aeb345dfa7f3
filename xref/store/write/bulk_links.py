"""The links of many parts: read many at once, and new ones written many at once."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import replace
from functools import lru_cache
from typing import TypeVar

from sqlalchemy import select

from xref.domain.machine import Applicability
from xref.domain.number import key
from xref.domain.serial_text import stored
from xref.domain.supersession import Step, path_between
from xref.store.read.links import (
    InterchangeRow,
    ModelRow,
    applicabilities,
    find_model,
    interchanges,
    steps_forward,
)
from xref.store.read.load import pieces
from xref.store.read.sheet_links import orders_of
from xref.store.read.shelf import Shelf
from xref.store.tables.links import (
    NEW,
    WITH,
    applicability,
    interchange,
    supersession,
    supersession_part,
)
from xref.store.write.bulk import BulkWriter
from xref.store.write.earlier_words import EarlierSteps, EarlierWords
from xref.store.write.link_unit import ensure_model, set_order_instead
from xref.store.write.numbers import next_number
from xref.store.write.sheet_facts import Extra, extras_of, write_extras

T = TypeVar("T")

_key = lru_cache(maxsize=4096)(key)
"""The same models are named again and again."""

_STEP = (
    "id",
    "old_id",
    "kind",
    "serves_back",
    "model_id",
    "serials",
    "as_found",
    "dated",
    "reason",
    "source_id",
)
_STEP_PART = ("supersession_id", "part_id", "role", "quantity")
_RANGE = (
    "part_id",
    "model_id",
    "component",
    "serials",
    "as_found",
    "fits",
    "assembly",
    "quantity",
    "note",
    "source_id",
)
_SWAP = ("part_id", "other_id", "grade", "both_ways", "note", "source_id")


class BulkLinks:
    """Links as they stand with those that wait to be written; ``flush`` writes these.

    ``fresh`` are ids of parts that are new in this unit of work: the store has no link of theirs.
    """

    def __init__(self, writer: BulkWriter, fresh: Collection[int]) -> None:
        self._writer = writer
        self._unit, self._conn = writer.unit, writer.conn
        self._fresh = fresh
        self._linked: set[int] = set()
        self.earlier = EarlierWords(self._unit)
        self.earlier_steps = EarlierSteps(self._unit)
        self._models: dict[str, ModelRow | None] = {}
        self.forget()

    def forget(self) -> None:
        """Hold nothing any longer; only after ``flush``."""
        self.steps: Shelf[Step] = Shelf(self._steps_from, self._blank)
        self.ranges: Shelf[Applicability] = Shelf(self._ranges_of, self._blank)
        self.swaps: Shelf[InterchangeRow] = Shelf(self._swaps_of, self._blank)
        self.extras: Shelf[Extra] = Shelf(lambda ids: extras_of(self._conn, ids), lambda _: False)
        self.orders: Shelf[str] = Shelf(self._orders_of, self._blank)
        self.led: Shelf[int] = Shelf(self._led_to, self._blank)
        self._new_steps: list[tuple[Step, int | None]] = []
        self._new_ranges: list[tuple[object, ...]] = []
        self._new_swaps: dict[tuple[int, int, str], tuple[object, ...]] = {}
        self._new_extras: list[tuple[int, Extra]] = []

    def model(self, name: str) -> ModelRow | None:
        """As ``links.find_model``."""
        known = _key(name)
        if known not in self._models:
            self._models[known] = find_model(self._conn, name)
        return self._models[known]

    def ensure_model(self, name: str, maker_name: str) -> ModelRow:
        """As ``link_unit.ensure_model``."""
        held = self.model(name)
        if held is None or (maker_name and not held.maker):
            held = self._models[_key(name)] = ensure_model(self._unit, name, maker_name)
        return held

    def path(self, starts: Sequence[int], goal: int) -> tuple[int, ...] | None:
        """The way along supersessions from the first of ``starts`` that leads to ``goal``."""
        # Nearly every step is the first from its new number, or the first to its old one.
        if any(self.steps.of(ident) for ident in starts) and self.led.of(goal):
            for ident in starts:
                found = path_between(ident, goal, self.steps.held)
                if found:
                    return found
        return None

    def add_step(self, step: Step, source_id: int | None) -> None:
        """Write down one step."""
        for ident, _ in step.news:
            self.steps.of(ident)
            self.led.of(ident).append(step.old)
        self.steps.of(step.old).append(step)
        self._new_steps.append((step, source_id))
        self._linked.update((step.old, *(new for new, _ in step.news), *step.companions))

    def add_range(
        self, entry: Applicability, model_id: int, as_found: str, source_id: int | None
    ) -> bool:
        """Write down one entry; False where the same is there.

        It takes the place of what the same source said before this import, but for what the import
        says again: that is known when every row is in (``earlier.drop``).
        """
        held = self.ranges.of(entry.part_id)
        same = [other for other in held if replace(other, id=0) == entry]
        if same:
            self.earlier.say_again(same[0])
            return False
        self.earlier.are_replaced(held, entry, model_id, source_id)
        held.append(entry)
        self._linked.add(entry.part_id)
        self._new_ranges.append(
            (
                entry.part_id,
                model_id,
                entry.component,
                stored(entry.serials),
                as_found,
                entry.fits,
                entry.assembly,
                entry.quantity,
                entry.note,
                source_id,
            )
        )
        return True

    def add_swap(self, row: InterchangeRow, source_id: int | None) -> None:
        """Write down an interchange, in place of one of the same two parts and grade."""
        pair = (row.part_id, row.other_id, row.grade)
        there = [s for s in self.swaps.of(row.part_id) if (s.part_id, s.other_id, s.grade) == pair]
        values = (row.both_ways, row.note, source_id)
        if there and pair not in self._new_swaps:
            row = replace(row, id=there[0].id)
            said = dict(zip(_SWAP[3:], values, strict=True))
            self._unit.update(interchange, row.id, said)
        else:
            self._new_swaps[pair] = (*pair, *values)
        for ident in pair[:2]:
            held = self.swaps.of(ident)
            if there:
                held[held.index(there[0])] = row
            else:
                held.append(row)
        self._linked.update(pair[:2])

    def keep(self, ident: int, extra: Extra) -> bool:
        """Keep a cell with a part; False where it is there."""
        held = self.extras.of(ident)
        if any((e.label, e.value) == (extra.label, extra.value) for e in held):
            return False
        held.append(extra)
        self._new_extras.append((ident, extra))
        return True

    def order_instead(self, ident: int) -> str:
        """As ``links.order_instead``."""
        return "".join(self.orders.of(ident))

    def set_order_instead(self, ident: int, text: str) -> None:
        """Write down what to order in place of a part that has nothing on record yet."""
        # At once: the history takes one row at a time of a table whose ids come in no order.
        set_order_instead(self._unit, ident, text)
        self.orders.of(ident).append(text)
        self._linked.add(ident)

    def flush(self) -> None:
        """Write what waits; the parts must have been written before."""
        unit = self._unit
        if self._new_steps:
            self._write_steps()
        unit.insert_rows(applicability, _RANGE, self._new_ranges)
        unit.insert_rows(interchange, _SWAP, list(self._new_swaps.values()))
        write_extras(unit, self._new_extras)
        self._new_steps, self._new_ranges = [], []
        self._new_swaps, self._new_extras = {}, []

    def _write_steps(self) -> None:
        first = next_number(self._conn, supersession)
        rows, beside = [], []
        for ident, (step, source_id) in enumerate(self._new_steps, first):
            rows.append(
                (
                    ident,
                    step.old,
                    step.kind,
                    step.serves_back,
                    step.model,
                    stored(step.condition),
                    step.as_found,
                    step.dated,
                    step.reason,
                    source_id,
                )
            )
            beside += [(ident, new, NEW, quantity) for new, quantity in step.news]
            beside += [(ident, other, WITH, 1.0) for other in step.companions]
        self._unit.insert_rows(supersession, _STEP, rows)
        self._unit.insert_rows(supersession_part, _STEP_PART, beside)
        self._writer.move_counter(supersession, first + len(rows) - 1)

    def _blank(self, ident: int) -> bool:
        return ident in self._fresh and ident not in self._linked

    def _led_to(self, ids: Sequence[int]) -> dict[int, list[int]]:
        """The parts that each of these follows."""
        p = supersession_part.c
        query = select(p.part_id, supersession.c.old_id).join(
            supersession, supersession.c.id == p.supersession_id
        )
        rows = [
            (ident, old)
            for some in pieces(ids)
            for ident, old in self._conn.execute(query.where(p.role == NEW, p.part_id.in_(some)))
        ]
        return _by(rows, ids)

    def _steps_from(self, ids: Sequence[int]) -> dict[int, list[Step]]:
        found: dict[int, list[Step]] = {}
        for some in pieces(ids):
            for old, steps in steps_forward(self._conn, some).items():
                found[old] = steps
                for step in steps:
                    for new, _ in step.news:
                        found.setdefault(new, [])
        return found

    def _ranges_of(self, ids: Sequence[int]) -> dict[int, list[Applicability]]:
        return _by(((entry.part_id, entry) for entry in applicabilities(self._conn, ids)), ids)

    def _swaps_of(self, ids: Sequence[int]) -> dict[int, list[InterchangeRow]]:
        rows = interchanges(self._conn, ids)
        return _by(((ident, row) for row in rows for ident in (row.part_id, row.other_id)), ids)

    def _orders_of(self, ids: Sequence[int]) -> dict[int, list[str]]:
        return {ident: [text] for ident, text in orders_of(self._conn, ids).items()}


def _by(pairs: Iterable[tuple[int, T]], ids: Iterable[int]) -> dict[int, list[T]]:
    """What stands with each of ``ids``."""
    found: dict[int, list[T]] = {ident: [] for ident in ids}
    for ident, item in pairs:
        if ident in found:
            found[ident].append(item)
    return found
