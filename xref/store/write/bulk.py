"""Many parts at once inside one unit of work: bulk statements, the population's figures exact."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence

from sqlalchemy import Table, bindparam, delete, func, select, text, update

from xref.domain.number import folded, key
from xref.domain.part import BOUNDARY, PartMark, Spelling, StoredSize
from xref.domain.weights import ORIGIN_STORE
from xref.errors import InputError
from xref.store.index.tally import Key, add_tally, groups_tally
from xref.store.read.load import pieces
from xref.store.tables.tables import boundary, maker, mark, part, size, source, spelling
from xref.store.write.bulk_figures import figures_of_singles
from xref.store.write.record import Record
from xref.store.write.unit import UnitOfWork

_CACHE_KIB = 131_072

_MOST_FIGURES = 60_000
"""Figures of the population that wait in memory: with more they are written down between."""

_PART = (
    "id",
    "maker_id",
    "number",
    "key",
    "folded",
    "kind",
    "type",
    "words",
    "status",
    "origin",
    "group_key",
    "weight",
    "boundary_id",
    "tables_agreeing",
    "note",
    "source_id",
)
_SPELLING = ("part_id", "text", "folded", "weight", "role", "takes_suffix")
_SIZE = ("part_id", "name", "value", "lower", "upper")


class BulkWriter:
    """Writes parts in bulk through ``unit``; call ``finish`` once, before the unit commits."""

    def __init__(self, unit: UnitOfWork) -> None:
        self.unit = unit
        self.conn = unit.conn
        self._delta: Counter[Key] = Counter()
        self._sources: dict[str, int] = {}
        self._titles: dict[str, str] = {}
        columns = (source.c.id, source.c.title, source.c.edition)
        for ident, title, edition in self.conn.execute(select(*columns).order_by(source.c.id)):
            full = f"{title} {edition}".strip()
            self._sources[full] = int(ident)
            self._titles.setdefault(title, full)
            self._titles[full] = full
        self._makers: dict[str, tuple[int, bool]] = {}
        self._boundaries: dict[tuple[int, ...], int] | None = None
        self._known: dict[str, tuple[int, bool]] = {}
        self._names: dict[int, str] = {}
        named = select(maker.c.id, maker.c.key, maker.c.name, maker.c.is_standard)
        for ident, known, name, is_standard in self.conn.execute(named):
            self._known[known] = (int(ident), bool(is_standard))
            self._names[int(ident)] = name
        if self.conn.dialect.name == "sqlite":
            self.conn.execute(text(f"PRAGMA cache_size = -{_CACHE_KIB}"))
        else:
            self.conn.execute(text("LOCK TABLE part, boundary IN EXCLUSIVE MODE"))

    def maker_of(self, name: str) -> tuple[int, bool]:
        """The id of the maker called ``name``, made if it is not there, and whether it is a
        standard, under whose name no part of the user's may stand."""
        found = self._makers.get(name)
        if found is None:
            maker_key = key(name) if name else ""
            found = self._known.get(maker_key)
            if found is None:
                found = self._known[maker_key] = (self.unit.ensure_maker(name), False)
                # A list may name a hundred makers: only what may be a slip is worth a line.
                self.unit.news[:] = [new for new in self.unit.news if new.near]
                self._names[found[0]] = name.strip()
            self._makers[name] = found
        return found

    def knows_maker(self, name: str) -> bool:
        """Whether a maker of this name is on record."""
        try:
            return (key(name) if name else "") in self._known
        except InputError:
            return False

    def source_of(self, title: str, kind: str = "") -> int:
        """The id of the source of this title (with or without its edition), made if not there."""
        found = self._sources.get(self.source_name(title))
        if found is None:
            found = self._sources[title] = self.unit.add_source(title, "", kind, "")
            self._titles[title] = title
        return found

    def source_name(self, title: str) -> str:
        """Title and edition of the source that ``title`` names; itself where none does."""
        return self._titles.get(title, title)

    def ids_of(self, wanted: Iterable[tuple[int, str]]) -> dict[tuple[int, str], int]:
        """Ids of the parts that are there, by id of the maker and key of the number."""
        asked = set(wanted)
        keys = list(dict.fromkeys(number for _, number in asked))
        query = select(part.c.maker_id, part.c.key, part.c.id)
        return {
            (maker_id, number): ident
            for some in pieces(keys)
            for maker_id, number, ident in self.conn.execute(query.where(part.c.key.in_(some)))
            if (maker_id, number) in asked
        }

    def add(self, records: Sequence[Record]) -> None:
        """Add parts that are not there yet; each record is given its id."""
        if not records:
            return
        first = int(self.conn.scalar(select(func.max(part.c.id))) or 0) + 1
        shared = {p.group for p in records if not p.group.startswith("own:")}
        before = groups_tally(self.conn, shared)
        boundaries = self._boundary_ids([p.sizes for p in records])
        rows, spelled, sizes = [], [], []
        for ident, (p, on) in enumerate(zip(records, boundaries, strict=True), first):
            p.id = ident
            rows.append(
                (
                    ident,
                    p.maker_id,
                    p.number,
                    p.key,
                    p.folded,
                    p.kind,
                    p.type,
                    p.words,
                    p.status,
                    ORIGIN_STORE,
                    p.group,
                    p.weight,
                    on,
                    0,
                    p.note,
                    p.source_id,
                )
            )
            if p.spellings:
                spelled += [_spelling(ident, s) for s in p.spellings]
            else:
                spelled.append((ident, p.number, p.folded, 1.0, "number", False))
            sizes += _sizes(ident, p.sizes)
        self.unit.insert_rows(part, _PART, rows)
        self.unit.insert_rows(spelling, _SPELLING, spelled)
        self.unit.insert_rows(size, _SIZE, sizes)
        alone = [p for p in records if p.group not in shared]
        self._delta.update(figures_of_singles(alone, self._names))
        self._move(before, shared)
        self.move_counter(part, records[-1].id)
        if len(self._delta) > _MOST_FIGURES:
            self.finish()

    def change(self, records: Sequence[Record]) -> None:
        """Put kind, words, status, note and sizes of each record in place of what the part of
        its id has; its number, group, spellings and marks stay."""
        if not records:
            return
        groups = {p.group for p in records}
        before = groups_tally(self.conn, groups)
        boundaries = self._boundary_ids([p.sizes for p in records])
        rows = [
            {
                "row_id": p.id,
                "kind": p.kind,
                "words": p.words,
                "status": p.status,
                "note": p.note,
                "boundary_id": on,
            }
            for p, on in zip(records, boundaries, strict=True)
        ]
        self.conn.execute(update(part).where(part.c.id == bindparam("row_id")), rows)
        self._change_sizes(records)
        self._move(before, groups)

    def _change_sizes(self, records: Sequence[Record]) -> None:
        """Put these sizes in place of what there is; what stays the same is let be."""
        wanted = dict.fromkeys(row for p in records for row in _sizes(p.id, p.sizes))
        query = select(size.c.id, *(size.c[name] for name in _SIZE))
        held = {
            tuple(row): ident
            for some in pieces([p.id for p in records])
            for ident, *row in self.conn.execute(query.where(size.c.part_id.in_(some)))
        }
        for some in pieces([ident for row, ident in held.items() if row not in wanted]):
            self.conn.execute(delete(size).where(size.c.id.in_(some)))
        self.unit.insert_rows(size, _SIZE, [row for row in wanted if row not in held])

    def regroup(self, groups: Mapping[int, str]) -> None:
        """Make parts, by id, the same physical things as these groups."""
        if not groups:
            return
        touched = self._groups_of(list(groups)) | set(groups.values())
        before = groups_tally(self.conn, touched)
        rows = [{"row_id": ident, "group_key": group} for ident, group in groups.items()]
        self.conn.execute(update(part).where(part.c.id == bindparam("row_id")), rows)
        self._move(before, touched)

    def add_marks(self, marks: Sequence[tuple[int, PartMark, int | None, bool]]) -> None:
        """Note marks on parts: id, mark, source, and whether trade suffixes may follow it."""
        if not marks:
            return
        groups = self._groups_of(list({ident for ident, *_ in marks}))
        before = groups_tally(self.conn, groups)
        rows, spelled = [], []
        for ident, found, source_id, suffixed in marks:
            flat = folded(found.text)
            rows.append((ident, found.text, found.role, flat, source_id))
            if found.role == "number" and flat:
                spelled.append(_spelling(ident, Spelling(found.text, 1.0, "mark", suffixed)))
        self.unit.insert_rows(mark, ("part_id", "text", "role", "folded", "source_id"), rows)
        self.unit.insert_rows(spelling, _SPELLING, spelled)
        self._move(before, groups)

    def finish(self) -> None:
        """Bring the stored figures of the population up to date."""
        add_tally(self.conn, self._delta)
        self._delta.clear()

    def _groups_of(self, ids: Sequence[int]) -> set[str]:
        return {
            group
            for some in pieces(ids)
            for group in self.conn.scalars(select(part.c.group_key).where(part.c.id.in_(some)))
        }

    def _move(self, before: Counter[Key], groups: set[str]) -> None:
        if groups:
            self._delta.update(groups_tally(self.conn, groups))
            self._delta.subtract(before)

    def move_counter(self, table: Table, last: int) -> None:
        """Tell PostgreSQL which ids were given out here; SQLite looks for itself."""
        if self.conn.dialect.name == "postgresql":
            counter = func.pg_get_serial_sequence(table.name, "id")
            self.conn.execute(select(func.setval(counter, last)))

    def _boundary_ids(self, many: Sequence[Mapping[str, StoredSize]]) -> list[int | None]:
        if self._boundaries is None:
            table = boundary.c
            self._boundaries = {
                (bore, outside, width): ident
                for ident, bore, outside, width in self.conn.execute(
                    select(table.id, table.bore, table.outside, table.width)
                )
            }
        held = self._boundaries
        following = max(held.values(), default=0) + 1
        rows: list[tuple[object, ...]] = []
        ids: list[int | None] = []
        for sizes in many:
            bore, outside, width = map(sizes.get, BOUNDARY)
            if bore is outside is width is None:
                ids.append(None)
                continue
            values = (
                bore.value if bore else 0,
                outside.value if outside else 0,
                width.value if width else 0,
            )
            on = held.get(values)
            if on is None:
                on = held[values] = following
                rows.append((following, *values))
                following += 1
            ids.append(on)
        self.unit.insert_rows(boundary, ("id", *BOUNDARY), rows)
        if rows:
            self.move_counter(boundary, following - 1)
        return ids


def _spelling(part_id: int, spelled: Spelling) -> tuple[object, ...]:
    flat = folded(spelled.text)
    return (part_id, spelled.text, flat, spelled.weight, spelled.role, spelled.takes_suffix)


def _sizes(part_id: int, sizes: Mapping[str, StoredSize]) -> list[tuple[object, ...]]:
    return [
        (part_id, name, held.value, held.lower, held.upper)
        for name, held in sizes.items()
        if name not in BOUNDARY
    ]
