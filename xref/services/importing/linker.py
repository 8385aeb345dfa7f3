"""Record what rows say of other numbers and of machines, once every part is in the store."""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from dataclasses import replace
from functools import partial

from xref.domain.machine import WORKS
from xref.domain.number import key, visible
from xref.domain.part import Part
from xref.domain.serial import read_serials
from xref.errors import AmbiguousError, InputError
from xref.services.applying import applies, serials_from
from xref.services.importing.links import LinkRow
from xref.services.importing.several import GRADED, Several, models_in, numbers_in
from xref.services.importing.steps import Details, details_of, quantity_of, says
from xref.services.interchanging import STATED, interchange
from xref.services.naming import find_or_mention
from xref.services.parts import plain_instead
from xref.services.superseding import WITHOUT_STEP, supersede
from xref.sheets.fields import INTERCHANGE_NOTE, ORDER_INSTEAD, OTHER_WAY, RANGE, STEP
from xref.store.bulk import BulkWriter
from xref.store.link_unit import set_order_instead
from xref.store.links import (
    InterchangeRow,
    applicabilities,
    interchanges,
    order_instead,
    steps_forward,
)
from xref.store.load import load_parts
from xref.store.sheet_facts import Extra, extras_of, write_extras
from xref.store.unit import UnitOfWork

Say = Callable[[LinkRow, str, str, str], None]

_BESIDE = {
    "model": RANGE, "does not fit": RANGE, "replaces": STEP, "replaced by": STEP,
    "interchange": (INTERCHANGE_NOTE,),
}  # fmt: skip
"""What is kept beside a part with a cell that cannot be recorded."""


class Linker:
    """Records links within ``unit``; what cannot be recorded is a finding and is kept.

    ``fresh`` holds the ids of the parts that this import added.
    """

    def __init__(
        self, unit: UnitOfWork, writer: BulkWriter, fresh: Collection[int], say: Say
    ) -> None:
        self.unit = unit
        self.writer = writer
        self.fresh = fresh
        self.say = say

    def record(self, row: LinkRow) -> bool:
        """Record what the row says. True where anything of it is new."""
        part = find_or_mention(self.unit, row.number, row.maker).part
        if row.source:
            self.writer.source_of(row.source)
            row.source = self.writer.source_name(row.source)
        new = False
        conn = self.unit.conn
        for number in numbers_in(conn, row.lists.get("replaces", ())).names:
            new |= self._try(row, part, "replaces", number, self._replaces)
        cells = row.lists.get("replaced by", ())
        if cells:
            step = partial(self._replaced, numbers_in(conn, cells))
            new |= self._try(row, part, "replaced by", " | ".join(cells), step)
        for text in numbers_in(conn, row.lists.get("interchange", ())).names:
            new |= self._try(row, part, "interchange", text, self._interchange)
        for what, fits in (("model", True), ("does not fit", False)):
            step = partial(self._applies, fits)
            for text in models_in(conn, row.told.get(what, "")):
                new |= self._try(row, part, what, text, step)
        if ORDER_INSTEAD in row.told:
            text = row.told[ORDER_INSTEAD]
            new |= self._try(row, part, ORDER_INSTEAD, text, self._order_instead)
        return new

    def _try(
        self, row: LinkRow, part: Part, what: str, text: str,
        step: Callable[[LinkRow, Part, str], bool],
    ) -> bool:  # fmt: skip
        try:
            return step(row, part, text)
        except InputError as error:
            new = self._keep(part, Extra(what, text))
            for name in _BESIDE.get(what, ()):
                if name in row.told:
                    new |= self._keep(part, Extra(name, row.told[name]))
            if new:
                self.say(row, what, what, f"{error.message}; kept beside the part")
            return new

    def _keep(self, part: Part, extra: Extra) -> bool:
        held = extras_of(self.unit.conn, [part.id]).get(part.id, [])
        if any(e.label == extra.label and e.value == extra.value for e in held):
            return False
        write_extras(self.unit, [(part.id, extra)])
        return True

    def _named(self, text: str, beside: Part) -> Part:
        try:
            return find_or_mention(self.unit, text, None, beside.maker).part
        except AmbiguousError:
            return find_or_mention(self.unit, text, beside.maker).part

    def _replaces(self, row: LinkRow, part: Part, text: str) -> bool:
        details = details_of(self.unit.conn, row.told, Several((text,), False))
        return self._step(row, self._named(text, part), [part], details)

    def _replaced(self, named: Several, row: LinkRow, part: Part, _: str) -> bool:
        details = details_of(self.unit.conn, row.told, named)
        news = [self._named(number, part) for number in named.names]
        new = self._step(row, part, news, details)
        if new and len(news) > 1 and "replaced as" not in row.told:
            how = "all of them together" if named.together else "any one of them"
            numbers = ", ".join(n.number for n in news)
            self.say(row, "replaced by", "supersession", f"{numbers}: taken as {how}")
        return new

    def _step(self, row: LinkRow, old: Part, news: Sequence[Part], details: Details) -> bool:
        conn = self.unit.conn
        wanted = {n.id for n in news}
        companions = [self._named(number, old) for number in details.companions]
        beside = {p.id for p in companions}
        for step in steps_forward(conn, [old.id]).get(old.id, []):
            same = {ident for ident, _ in step.news} == wanted and self._from(row, step.source)
            if same and says(conn, step, details, beside):
                return False
        # With one maker for all the numbers alone are exact, and found at once.
        alike = len({p.maker for p in (old, *news, *companions)}) == 1
        names = [p.number if alike else _address(p) for p in (old, *news, *companions)]
        supersede(
            self.unit, names[0], names[1 : 1 + len(news)], kind=details.kind,
            serves_back=details.serves_back, serials=details.serials, model=details.model,
            quantity=details.quantity, companions=names[1 + len(news) :],
            record_anyway=details.in_cycle, source=row.source, date=details.date,
            reason=details.reason, maker=old.maker if alike else None,
        )  # fmt: skip
        self._status(row, old)
        return True

    def _status(self, row: LinkRow, old: Part) -> None:
        """Let stand what the row says of the status of a part that is new with it."""
        said = row.told.get("status", "").casefold()
        if said in WITHOUT_STEP and old.id in self.fresh and key(old.number) == key(row.number):
            [held] = load_parts(self.unit.conn, [old.id])
            if held.status != said:
                self.unit.change_part(old.id, replace(held, status=said))

    def _from(self, row: LinkRow, source: str) -> bool:
        """Whether a fact from ``source`` is the row's: one without a source asks for none."""
        return not row.sourced or source == row.source

    def _interchange(self, row: LinkRow, part: Part, text: str) -> bool:
        found = GRADED.fullmatch(text)
        number, grade, way = found.group(1, 2, 3) if found else (text, STATED, None)
        other = self._named(number, part)
        first, second = (other, part) if way == OTHER_WAY else (part, other)
        note = row.told.get(INTERCHANGE_NOTE, "")
        directed = None
        for held in interchanges(self.unit.conn, [part.id]):
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
        interchange(
            self.unit, _address(first), _address(second), grade=grade, one_way=one_way,
            source=source, note=note,
        )  # fmt: skip
        return True

    def _applies(self, fits: bool, row: LinkRow, part: Part, text: str) -> bool:
        told = row.told
        serials = told.get("serials", "") or serials_from(
            told.get("serial from", ""), told.get("serial to", "")
        )
        quantity = quantity_of(told.get("quantity", ""))
        component = " ".join(told.get("serials of", WORKS).lower().split())
        assembly, note = told.get("assembly", ""), told.get("range note", "")
        before = applicabilities(self.unit.conn, [part.id])
        shown = str(read_serials(serials))
        if any(
            key(a.model) == key(text) and a.serials in (shown, serials)
            and (a.fits, a.component) == (fits, component)
            and (a.assembly, a.quantity) == (assembly, quantity)
            and note in ("", a.note) and self._from(row, a.source)
            for a in before
        ):  # fmt: skip
            return False
        applies(
            self.unit, part.number, model=text, serials=serials, maker=part.maker, fits=fits,
            component=component, assembly=assembly, quantity=quantity, source=row.source,
            note=note,
        )  # fmt: skip
        return len(applicabilities(self.unit.conn, [part.id])) > len(before)

    def _order_instead(self, _: LinkRow, part: Part, text: str) -> bool:
        held = order_instead(self.unit.conn, part.id)
        wanted = plain_instead(text)
        if held and held != wanted:
            raise InputError(
                f'"{visible(held)}" is to be ordered instead on record',
                "Change it with xref part change.",
            )
        if not held:
            set_order_instead(self.unit, part.id, wanted)
        return not held


def _fills(held: InterchangeRow, other: Part, one_way: bool, note: str) -> bool:
    """Whether a note fills a gap of what is on record. Raises InputError where the two differ."""
    if not held.both_ways and not one_way:
        raise InputError(f"{other.number} is on record as serving one way only")
    if note and held.note and note != held.note:
        raise InputError(f'the note on {other.number} is "{visible(held.note)}" on record')
    return bool(note) and not held.note


def _address(part: Part) -> str:
    """A number that names this part and no other: ":NUMBER" where no maker is known."""
    return f"{part.maker}:{part.number}"
