"""The parts that the rows of a list name: read many at once, and new ones written many at once."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Sequence
from dataclasses import replace

from sqlalchemy import ColumnElement, func, select, update

from xref.domain.number import folded, key
from xref.domain.part import Part
from xref.errors import InputError
from xref.store.read.load import pieces
from xref.store.read.resolving import (
    FOLDED,
    KEY,
    NUMBER,
    SPELLED,
    SPELLING_LEAST,
    SPELLING_ROLES,
    find_by,
    own_first,
)
from xref.store.tables.tables import maker, part, spelling
from xref.store.write.bulk import BulkWriter
from xref.store.write.record import Record
from xref.store.write.unit import standard_name


class BulkNames:
    """Parts by their numbers and ids, as they stand with what waits to be written.

    They are without sizes, spellings and marks. ``read`` many names before they are asked for: what
    was not read is read one by one. ``flush`` writes what waits. ``new_ids`` takes the ids of the
    parts that are added.
    """

    def __init__(self, writer: BulkWriter, new_ids: set[int]) -> None:
        self._writer = writer
        self._conn = writer.conn
        self._new_ids = new_ids
        self._new: list[Record] = []
        self._next = 0
        self._status: dict[int, str] = {}
        self._groups: dict[int, str] = {}
        self.forget()

    def forget(self) -> None:
        """Hold nothing any longer; only after ``flush``."""
        self._parts: dict[int, Part] = {}
        self._whose: dict[int, str] = {}
        self._by: dict[tuple[str, str], list[int]] = defaultdict(list)
        self._numbers: set[str] = set()
        self._keys: set[str] = set()
        self._folds: set[str] = set()

    def read(self, texts: Iterable[str]) -> None:
        """Read the parts that these texts may name, as numbers or as ``M:NUMBER``."""
        asked: dict[str, str] = {}
        for text in texts:
            for number in (text, text.partition(":")[2]) if ":" in text else (text,):
                try:
                    asked[key(number)] = folded(number)
                except InputError:
                    continue
                self._numbers.add(number.strip())
        self._read_keys(asked)
        self._read_folds({flat for known, flat in asked.items() if (KEY, known) not in self._by})

    def read_ids(self, ids: Collection[int]) -> None:
        """Read the parts with these ids."""
        for some in pieces(sorted(ids - self._parts.keys())):
            self._load(part.c.id.in_(some))

    def ids(self) -> Collection[int]:
        """Ids of all that is held."""
        return self._parts.keys()

    def part(self, ident: int) -> Part:
        """The part with this id, which is on record."""
        if ident not in self._parts:
            self.read_ids({ident})
        return self._parts[ident]

    def find(self, text: str, maker_name: str | None) -> Part | None:
        """As ``queries.find_own_first``."""
        return find_by(own_first(self._held), text, maker_name)

    def has_number(self, text: str) -> bool:
        """Whether a part is numbered just as ``text``."""
        try:
            return bool(self._held(NUMBER, text, None))
        except InputError:
            return False

    def has_maker(self, name: str) -> bool:
        """Whether a maker of this name is on record."""
        return self._writer.knows_maker(name)

    def add(self, new: Part) -> Part:
        """Add a part of the user's own and return it with the id that it is going to have.

        Raises InputError under the name of a standard.
        """
        maker_id, is_standard = self._writer.maker_of(new.maker)
        if is_standard:
            raise standard_name(new.maker)
        if not self._new:
            self._next = int(self._conn.scalar(select(func.max(part.c.id))) or 0) + 1
        ident = self._next + len(self._new)
        record = Record.of(new, maker_id)
        self._new.append(record)
        self._new_ids.add(ident)
        whose = key(new.maker) if new.maker else ""
        added = replace(new, id=ident)
        self._note(added, record.key, record.folded, whose)
        return added

    def set_status(self, ident: int, status: str) -> None:
        """Give a part this status."""
        self._status[ident] = status
        self._parts[ident] = replace(self.part(ident), status=status)

    def join(self, ident: int, group: str) -> None:
        """Make a part of the user's own the same physical thing as ``group``."""
        self._groups[ident] = group
        self._parts[ident] = replace(self.part(ident), group=group)

    def flush(self) -> None:
        """Write the parts, statuses and groups that wait."""
        for at, record in enumerate(self._new, self._next):
            record.status = self._status.pop(at, record.status)
        self._writer.add(self._new)
        assert not self._new or self._new[0].id == self._next
        self._new.clear()
        by_status: dict[str, list[int]] = defaultdict(list)
        for ident, status in self._status.items():
            by_status[status].append(ident)
        for status, ids in by_status.items():
            for some in pieces(ids):
                changed = part.c.id.in_(some), part.c.status != status
                self._conn.execute(update(part).where(*changed).values(status=status))
        self._status.clear()
        self._writer.regroup(self._groups)
        self._groups.clear()

    def _held(self, step: str, value: str, whose: str | None) -> Sequence[Part]:
        if step == NUMBER:
            if value not in self._numbers:
                self._read_keys((key(value),))
                self._numbers.add(value)
        elif step == KEY:
            self._read_keys((value,))
        else:
            self._read_folds((value,))
        found = self._by.get((step, value), ())
        return [self._parts[i] for i in found if whose is None or self._whose[i] == whose]

    def _read_keys(self, keys: Iterable[str]) -> None:
        new = sorted({known for known in keys if known not in self._keys})
        self._keys.update(new)
        for some in pieces(new):
            self._load(part.c.key.in_(some))

    def _read_folds(self, folds: Iterable[str]) -> None:
        new = sorted({flat for flat in folds if flat and flat not in self._folds})
        self._folds.update(new)
        for some in pieces(new):
            self._load(part.c.folded.in_(some))
            s = spelling.c
            rows = self._conn.execute(
                select(s.folded, s.part_id)
                .distinct()
                .where(s.folded.in_(some), s.role.in_(SPELLING_ROLES), s.weight >= SPELLING_LEAST)
            ).all()
            self.read_ids({ident for _, ident in rows})
            for flat, ident in sorted(rows):
                _once(self._by[SPELLED, flat], ident)

    def _load(self, which: ColumnElement[bool]) -> None:
        p, m = part.c, maker.c
        query = (
            select(
                p.id,
                p.number,
                p.key,
                p.folded,
                p.kind,
                p.group_key,
                p.origin,
                p.weight,
                p.status,
                m.name,
                m.key,
            )
            .join(maker, m.id == p.maker_id)
            .where(which)
            .order_by(p.id)
        )
        for row in self._conn.execute(query):
            ident, number, known, flat, kind, group, origin, weight, status, name, whose = row
            if ident not in self._parts:
                record = Part(number, name, kind, group, origin, weight, ident, status=status)
                self._note(record, known, flat, whose)

    def _note(self, record: Part, known: str, flat: str, whose: str) -> None:
        self._parts[record.id] = record
        self._whose[record.id] = whose
        self._by[NUMBER, record.number].append(record.id)
        self._by[KEY, known].append(record.id)
        self._by[FOLDED, flat].append(record.id)


def _once(ids: list[int], ident: int) -> None:
    if ident not in ids:
        ids.append(ident)
