"""Record what rows say of other numbers and of machines, once every part is in the store."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from contextlib import suppress
from dataclasses import replace
from functools import partial

from xref.domain.machine import WORKS
from xref.domain.number import key, visible
from xref.domain.part import Part
from xref.errors import AmbiguousError, InputError
from xref.services.links.applies import entry_of
from xref.services.links.interchange import SAME, STATED, check_pair, joining
from xref.services.links.supersede import SUPERSEDED, Told, replaced_wholly, step_of
from xref.services.lists.link_book import LinkBook
from xref.services.lists.links import LinkRow
from xref.services.lists.machines_named import MachinesNamed
from xref.services.lists.ranges import SERIALS, counted_beside, serials_of, written
from xref.services.lists.several import GRADED, Several, numbers_in
from xref.services.lists.steps import Details, details_of, quantity_of, says
from xref.services.parts.naming import named_in
from xref.services.parts.part import plain_instead
from xref.sheets.chain_cell import STEPS
from xref.sheets.fields import INTERCHANGE_NOTE, ORDER_INSTEAD, OTHER_WAY, PERHAPS_ON, RANGE, STEP
from xref.store.read.links import InterchangeRow
from xref.store.write.link_unit import note_component
from xref.store.write.sheet_facts import Extra

Say = Callable[[LinkRow, str, str, str], None]

_FITS = (("model", True), ("does not fit", False), (PERHAPS_ON, True))

_BESIDE = {
    "model": RANGE,
    "does not fit": RANGE,
    PERHAPS_ON: RANGE,
    "replaces": STEP,
    "replaced by": STEP,
    "interchange": (INTERCHANGE_NOTE,),
}
"""What is kept beside a part with a cell that cannot be recorded."""


class Linker:
    """Records links in ``book``; what cannot be recorded is a finding and is kept."""

    def __init__(self, book: LinkBook, say: Say) -> None:
        self.book = book
        self.names, self.links = book.names, book.links
        self.say = say
        self.machines = MachinesNamed(book.links)
        self._counted: set[str] = set()

    def _tell_new(self, row: LinkRow, column: str) -> None:
        """Ask of the new names that are much like one on record; the others are no finding."""
        news = self.book.unit.news
        of_rows = [name for name in news if name.what != "maker"]
        for name in of_rows:
            if name.near:
                self.say(row, column, f"new {name.what}", name.told())
        news[:] = [name for name in news if name.what == "maker"]

    def name(self, row: LinkRow) -> None:
        """Write down the numbers that a row names and that are nowhere.

        Every row is to be named before one is recorded: else a number may be taken for another
        that is much like it, and the next time for itself.
        """
        self.machines.note(row.told)
        part = self.names.part(row.part_id)
        named: list[str] = []
        with suppress(InputError):
            companions = details_of(self.names, row.told, Several((), False)).companions
            steps = (*self._numbers(row, "replaces"), *self._numbers(row, "replaced by"))
            named += [*steps, *(companions if steps else ())]
        named += [_graded(text)[0] for text in self._numbers(row, "interchange")]
        named += [number for step in row.lists.get(STEPS, ()) for number in step.split("\n")]
        for number in named:
            with suppress(InputError):
                self._named(number, part)

    def _numbers(self, row: LinkRow, what: str) -> tuple[str, ...]:
        return numbers_in(self.names, row.lists.get(what, ())).names

    def record(self, row: LinkRow) -> bool:
        """Record what the row says. True where anything of it is new."""
        part = self.names.part(row.part_id)
        row.source = self.book.source_name(row.source)
        new = False
        for number in self._numbers(row, "replaces"):
            new |= self._try(row, part, "replaces", number, self._replaces)
        cells = row.lists.get("replaced by", ())
        if cells:
            step = partial(self._replaced, numbers_in(self.names, cells))
            new |= self._try(row, part, "replaced by", " | ".join(cells), step)
        for text in row.lists.get(STEPS, ()):
            new |= self._try(row, part, "replaced by", text, self._beside)
        for text in self._numbers(row, "interchange"):
            new |= self._try(row, part, "interchange", text, self._interchange)
        for what, fits in _FITS:
            if what in row.told:
                new |= self._machines(row, part, what, fits)
        if ORDER_INSTEAD in row.told:
            text = row.told[ORDER_INSTEAD]
            new |= self._try(row, part, ORDER_INSTEAD, text, self._order_instead)
        return new

    def _machines(self, row: LinkRow, part: Part, what: str, fits: bool) -> bool:
        """Record each machine that a cell names, and keep the cell where some of it is more."""
        text = row.told[what]
        found = self.machines.read(text)
        new = False
        for fit in dict.fromkeys(found.fits):
            step = partial(self._applies, fits == fit.fits, fit.serials)
            new |= self._try(row, part, what, fit.model, step)
        if found.rest and self.links.keep(part.id, Extra(what, text)):
            why = "which machines are all?" if found.every else "not all of it names a machine"
            self.say(row, what, what, f'"{visible(text, 60)}": {why}; kept beside the part')
            if not found.fits:
                for name in RANGE:
                    if name in row.told:
                        self.links.keep(part.id, Extra(name, row.told[name]))
            new = True
        return new

    def _try(
        self,
        row: LinkRow,
        part: Part,
        what: str,
        text: str,
        step: Callable[[LinkRow, Part, str], bool],
    ) -> bool:
        try:
            return step(row, part, text)
        except InputError as error:
            new = self.links.keep(part.id, Extra(what, text))
            for name in _BESIDE.get(what, ()):
                if name in row.told:
                    new |= self.links.keep(part.id, Extra(name, row.told[name]))
            if new:
                self.say(row, what, what, f"{error.message}; kept beside the part")
            return new

    def _named(self, text: str, beside: Part) -> Part:
        try:
            return named_in(self.names, text, None, beside.maker).part
        except AmbiguousError:
            return named_in(self.names, text, beside.maker).part

    def _replaces(self, row: LinkRow, part: Part, text: str) -> bool:
        details = details_of(self.names, row.told, Several((text,), False))
        return self._step(row, self._named(text, part), [part], details)

    def _replaced(self, named: Several, row: LinkRow, part: Part, _: str) -> bool:
        details = details_of(self.names, row.told, named)
        news = [self._named(number, part) for number in named.names]
        new = self._step(row, part, news, details)
        if new and len(news) > 1 and "replaced as" not in row.told:
            how = "all of them together" if named.together else "any one of them"
            numbers = ", ".join(n.number for n in news)
            self.say(row, "replaced by", "supersession", f"{numbers}: taken as {how}")
        return new

    def _beside(self, row: LinkRow, part: Part, text: str) -> bool:
        """Record a step between two others that a chain in the row has."""
        old, new = text.split("\n")
        named = Several((new,), False)
        return self._step(
            row, self._named(old, part), [self._named(new, part)], details_of(self.names, {}, named)
        )

    def _step(self, row: LinkRow, old: Part, news: Sequence[Part], details: Details) -> bool:
        wanted = {n.id for n in news}
        companions = [self._named(number, old) for number in details.companions]
        beside = {p.id for p in companions}
        for held in self.links.steps.of(old.id):
            same = {ident for ident, _ in held.news} == wanted and self._from(row, held.source)
            if same and says(self.links, held, details, beside):
                self.links.earlier_steps.say_again(held)
                return False
        told = Told(
            details.kind,
            details.serves_back,
            details.serials,
            details.model,
            details.quantity,
            details.in_cycle,
            row.source,
            details.date,
            details.reason,
        )
        step, _ = step_of(told, old, news, companions, self.book.cycle, self.links.ensure_model)
        self._tell_new(row, "model")
        self.links.earlier_steps.are_replaced(self.links.steps.of(old.id), step, row.source)
        self.links.add_step(step, self.book.source(row.source))
        now = self.names.part(old.id)
        if replaced_wholly(now, details.serials, details.model) and not self._stays(row, now):
            self.names.set_status(old.id, SUPERSEDED)
        return True

    def _stays(self, row: LinkRow, old: Part) -> bool:
        """Whether the row itself says that a part that is new with it has its status all the
        same."""
        said = row.told.get("status", "").casefold()
        return said == old.status and self.book.is_fresh(old) and key(old.number) == key(row.number)

    def _from(self, row: LinkRow, source: str) -> bool:
        """Whether a fact from ``source`` is the row's: one without a source asks for none."""
        return not row.sourced or source == row.source

    def _interchange(self, row: LinkRow, part: Part, text: str) -> bool:
        number, grade, way = _graded(text)
        other = self._named(number, part)
        first, second = (other, part) if way == OTHER_WAY else (part, other)
        note = row.told.get(INTERCHANGE_NOTE, "")
        directed = None
        for held in self.links.swaps.of(part.id):
            if {held.part_id, held.other_id} != {part.id, other.id} or held.grade != grade:
                continue
            ahead = held.part_id == first.id
            directed = held if ahead else directed
            implied = held.both_ways or (ahead and way is not None)
            if implied and note in ("", held.note) and self._from(row, held.source):
                return False
        source, one_way = row.source, way is not None
        if directed is not None:
            if not _fills(directed, other, one_way, note):
                return False
            source, one_way = directed.source, not directed.both_ways
        said = check_pair(first, second, grade, one_way, note)
        swap = InterchangeRow(0, first.id, second.id, grade, not one_way, said, source)
        self.links.add_swap(swap, self.book.source(source))
        if grade == SAME:
            self._join(first.id, second.id)
        return True

    def _join(self, first: int, second: int) -> None:
        one, two = self.names.part(first), self.names.part(second)
        if one.group != two.group:
            self.names.join(*joining(one, two))

    def _applies(self, fits: bool, own: str, row: LinkRow, part: Part, text: str) -> bool:
        if own:
            said_of = {name: row.told[name] for name in row.told if name not in SERIALS}
            row = replace(row, told={**said_of, "serials": own})
        told = row.told
        quantity = self._quantity(row, part)
        counted, plainly = counted_beside(row)
        component = counted or " ".join(told.get("serials of", WORKS).lower().split())
        assembly, note = told.get("assembly", ""), told.get("range note", "")
        model = self.links.ensure_model(text, part.own_maker)
        self._tell_new(row, "model")
        if component not in self._counted:
            self._counted.add(component)
            note_component(self.book.unit, component)
            self._tell_new(row, "serials of")
        if plainly:
            row = replace(row, told={**told, "serials": plainly})
        serials, said = serials_of(row, model.known(component), component)
        entry, _ = entry_of(
            part,
            lambda *_: model,
            model=text,
            serials=serials,
            fits=fits,
            component=component,
            assembly=assembly,
            quantity=quantity,
            source=row.source,
            note=note,
        )
        there = [
            a
            for a in self.links.ranges.of(part.id)
            if key(a.model) == key(text)
            and a.serials in (entry.serials, serials)
            and (a.fits, a.component) == (fits, component)
            and (a.assembly, a.quantity) == (assembly, quantity)
            and note in ("", a.note)
            and self._from(row, a.source)
        ]
        for same in there:
            self.links.earlier.say_again(same)
        if there:
            return False
        for message in said:
            self.say(row, *message)
        source_id = self.book.source(row.source)
        return self.links.add_range(entry, model.id, written(row), source_id)

    def _quantity(self, row: LinkRow, part: Part) -> float | None:
        """How many a machine has; None where the row is silent or says it in words ("AR")."""
        try:
            return quantity_of(row.told.get("quantity", ""))
        except InputError as error:
            if self.links.keep(part.id, Extra("quantity", row.told["quantity"])):
                self.say(row, "quantity", "quantity", f"{error.message}; kept beside the part")
            return None

    def _order_instead(self, _: LinkRow, part: Part, text: str) -> bool:
        held = self.links.order_instead(part.id)
        wanted = plain_instead(text)
        if held and held != wanted:
            raise InputError(
                f'"{visible(held)}" is to be ordered instead on record',
                "Change it with xref part change.",
            )
        if not held:
            self.links.set_order_instead(part.id, wanted)
        return not held


def _graded(text: str) -> tuple[str, str, str | None]:
    """The number of an interchange, its grade, and the way it goes (None: either way)."""
    found = GRADED.fullmatch(text)
    return (found[1], found[2], found[3]) if found else (text, STATED, None)


def _fills(held: InterchangeRow, other: Part, one_way: bool, note: str) -> bool:
    """Whether a note fills a gap of what is on record. Raises InputError where the two differ."""
    if not held.both_ways and not one_way:
        raise InputError(f"{other.number} is on record as serving one way only")
    if note and held.note and note != held.note:
        raise InputError(f'the note on {other.number} is "{visible(held.note)}" on record')
    return bool(note) and not held.note
