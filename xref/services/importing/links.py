"""What rows say of other numbers and of machines: recorded once every part is in the store."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial

from xref.domain.number import key
from xref.domain.part import Part
from xref.domain.serial import read_serials
from xref.errors import InputError
from xref.services.applying import applies, serials_from
from xref.services.importing.several import GRADED, Several, models_in, numbers_in
from xref.services.interchanging import STATED, interchange
from xref.services.naming import find_or_mention
from xref.services.superseding import supersede
from xref.sheets.cells import with_point
from xref.sheets.part_row import PartRow
from xref.store.bulk import BulkWriter
from xref.store.links import applicabilities, interchanges, steps_forward
from xref.store.sheet_facts import Extra, extras_of, write_extras
from xref.store.unit import UnitOfWork

RANGE_FIELDS = ("serial from", "serial to", "serials", "assembly", "quantity")
_RANGES = frozenset(RANGE_FIELDS)


@dataclass(slots=True)
class LinkRow:
    """One row's links. ``outcome`` is what became of the row without them."""

    sheet: str
    line: int
    number: str
    maker: str
    outcome: str
    source: str
    told: dict[str, str]
    lists: dict[str, list[str]]


def links_of(row: PartRow, sheet: str, outcome: str, source: str) -> LinkRow | None:
    """The links in a row; None where it has none. A range without a model is kept as it stands."""
    told = row.told
    if "model" not in told and not row.lists:
        return None
    kept = {name: told[name] for name in ("model", *RANGE_FIELDS, "price note") if name in told}
    maker = told.get("maker", "")
    return LinkRow(sheet, row.line, row.number, maker, outcome, source, kept, row.lists or {})


def loose_ranges(row: PartRow) -> list[tuple[str, str]]:
    """Serials, assembly and quantity of a row that names no model, to be kept as they stand."""
    told = row.told
    if "model" in told or _RANGES.isdisjoint(told):
        return []
    return [(name, told[name]) for name in RANGE_FIELDS if name in told]


Say = Callable[[LinkRow, str, str, str], None]


class Linker:
    """Records links within ``unit``; what cannot be recorded is a finding and is kept."""

    def __init__(self, unit: UnitOfWork, writer: BulkWriter, say: Say) -> None:
        self.unit = unit
        self.writer = writer
        self.say = say

    def record(self, row: LinkRow) -> bool:
        """Record what the row says. True where anything of it is new."""
        part = find_or_mention(self.unit, row.number, row.maker).part
        self.writer.source_of(row.source)
        row.source = self.writer.source_name(row.source)
        new = False
        conn = self.unit.conn
        for number in numbers_in(conn, row.lists.get("replaces", ())).names:
            new |= self._try(row, part, "replaces", number, self._replaces)
        cells = row.lists.get("replaced by", ())
        if cells:
            news = numbers_in(conn, cells)
            step = partial(self._replaced, news)
            new |= self._try(row, part, "replaced by", " | ".join(cells), step)
        for text in numbers_in(conn, row.lists.get("interchange", ())).names:
            new |= self._try(row, part, "interchange", text, self._interchange)
        for text in models_in(conn, row.told.get("model", "")):
            new |= self._try(row, part, "model", text, self._applies)
        return new

    def _try(
        self, row: LinkRow, part: Part, what: str, text: str,
        step: Callable[[LinkRow, Part, str], bool],
    ) -> bool:  # fmt: skip
        try:
            return step(row, part, text)
        except InputError as error:
            new = self._keep(part, Extra(what, text))
            if what == "model":
                for name in RANGE_FIELDS:
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
        return find_or_mention(self.unit, text, None, beside.maker).part

    def _replaces(self, row: LinkRow, part: Part, text: str) -> bool:
        return self._step(row, self._named(text, part), [part], "")

    def _replaced(self, named: Several, row: LinkRow, part: Part, _: str) -> bool:
        news = [self._named(number, part) for number in named.names]
        kind = ""
        if len(news) > 1:
            kind = "set" if named.together else "choice"
        new = self._step(row, part, news, kind)
        if new and kind:
            how = "all of them together" if kind == "set" else "any one of them"
            numbers = ", ".join(n.number for n in news)
            self.say(row, "replaced by", "supersession", f"{numbers}: taken as {how}")
        return new

    def _step(self, row: LinkRow, old: Part, news: Sequence[Part], kind: str) -> bool:
        wanted = {n.id for n in news}
        steps = steps_forward(self.unit.conn, [old.id]).get(old.id, [])
        if any({ident for ident, _ in step.news} == wanted for step in steps):
            return False
        maker = "" if not any(p.maker for p in (old, *news)) else None
        addresses = [_address(n) for n in news]
        supersede(
            self.unit, _address(old), addresses, kind=kind, source=row.source, maker=maker
        )  # fmt: skip
        return True

    def _interchange(self, row: LinkRow, part: Part, text: str) -> bool:
        found = GRADED.fullmatch(text)
        number, grade = (found[1], found[2]) if found else (text, STATED)
        other = self._named(number, part)
        pair = {part.id, other.id}
        if any(
            {r.part_id, r.other_id} == pair and r.grade == grade
            for r in interchanges(self.unit.conn, [part.id])
        ):
            return False
        interchange(
            self.unit, _address(part), _address(other), grade=grade,
            one_way=bool(found and found[3]), source=row.source,
        )  # fmt: skip
        return True

    def _applies(self, row: LinkRow, part: Part, text: str) -> bool:
        told = row.told
        serials = told.get("serials", "") or serials_from(
            told.get("serial from", ""), told.get("serial to", "")
        )
        quantity = _quantity(told.get("quantity", ""))
        assembly = told.get("assembly", "")
        before = applicabilities(self.unit.conn, [part.id])
        shown = str(read_serials(serials))
        if any(
            key(a.model) == key(text) and a.serials in (shown, serials) and a.fits
            and (a.assembly, a.quantity) == (assembly, quantity)
            for a in before
        ):  # fmt: skip
            return False
        applies(
            self.unit, part.number, model=text, serials=serials, maker=part.maker,
            assembly=assembly, quantity=quantity, source=row.source,
        )  # fmt: skip
        return len(applicabilities(self.unit.conn, [part.id])) > len(before)


def _address(part: Part) -> str:
    return f"{part.maker}:{part.number}" if part.maker else part.number


def _quantity(text: str) -> float | None:
    if not text:
        return None
    try:
        return float(with_point(text, ",").split()[0])
    except ValueError:
        raise InputError(f'"{text[:40]}" is no quantity', "Write a number.") from None
