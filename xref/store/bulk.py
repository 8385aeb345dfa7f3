"""Many parts at once inside one unit of work: bulk statements, the population's figures exact."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from itertools import chain

from sqlalchemy import bindparam, delete, func, insert, select, text, update

from xref.domain.number import folded, key
from xref.domain.part import BOUNDARY, Part, PartMark, Spelling, StoredSize
from xref.domain.words import split_words
from xref.store.load import load_parts, pieces
from xref.store.tables import boundary, maker, mark, part, size, source, spelling
from xref.store.tally import COUNTED_SPELLING, Key, add_tally, tally_of
from xref.store.unit import UnitOfWork, part_row, size_row, spelling_row

Placed = tuple[Part, int, int | None]
"""A part with the ids of its maker and of its source."""

_CACHE_KIB = 131_072


class BulkWriter:
    """Writes parts in bulk through ``unit``; call ``finish`` once, before the unit commits."""

    def __init__(self, unit: UnitOfWork) -> None:
        self.unit = unit
        self.conn = unit.conn
        self._delta: Counter[Key] = Counter()
        self._sources: dict[str, int] = {}
        self._makers: dict[str, tuple[int, bool]] = {
            known: (ident, bool(is_standard))
            for ident, known, is_standard in self.conn.execute(
                select(maker.c.id, maker.c.key, maker.c.is_standard)
            )
        }
        self._boundaries: dict[tuple[int, ...], int] | None = None
        if self.conn.dialect.name == "sqlite":
            self.conn.execute(text(f"PRAGMA cache_size = -{_CACHE_KIB}"))
        else:
            self.conn.execute(text("LOCK TABLE part, boundary IN EXCLUSIVE MODE"))

    def maker_of(self, name: str) -> tuple[int, bool]:
        """The id of the maker called ``name``, made if it is not there, and whether it is a
        standard, under whose name no part of the user's may stand."""
        maker_key = key(name) if name else ""
        found = self._makers.get(maker_key)
        if found is None:
            found = self._makers[maker_key] = (self.unit.ensure_maker(name), False)
        return found

    def source_of(self, title: str, kind: str = "") -> int:
        """The id of the source of this title (with or without its edition), made if not there."""
        found = self._sources.get(title)
        if found is None:
            full = func.trim(source.c.title + " " + source.c.edition)
            query = select(source.c.id).where((source.c.title == title) | (full == title))
            there = self.conn.scalar(query.order_by(source.c.id))
            if there is None:
                there = self.unit.add_source(title, "", kind, "")
            found = self._sources[title] = int(there)
        return found

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

    def add(self, placed: Sequence[Placed]) -> list[int]:
        """Add parts that are not there yet; their ids in order."""
        if not placed:
            return []
        first = int(self.conn.scalar(select(func.max(part.c.id))) or 0) + 1
        ids = list(range(first, first + len(placed)))
        shared = {p.group for p, _, _ in placed if not p.group.startswith("own:")}
        before = self._figures(shared)
        boundaries = self._boundary_ids([p.sizes for p, _, _ in placed])
        rows = [
            {"id": ident, "source_id": source_id, **part_row(record, maker_id, on)}
            for ident, (record, maker_id, source_id), on in zip(
                ids, placed, boundaries, strict=True
            )
        ]
        self.conn.execute(insert(part), rows)
        self._write_texts(zip(ids, (p for p, _, _ in placed), strict=True))
        own = [p for p, _, _ in placed if p.group not in shared]
        self._delta.update(figures_of_singles(own))
        self._move(before, shared)
        if self.conn.dialect.name == "postgresql":
            counter = func.pg_get_serial_sequence("part", "id")
            self.conn.execute(select(func.setval(counter, ids[-1])))
        return ids

    def change(self, changed: Mapping[int, Part]) -> None:
        """Put kind, words, status, note and sizes of each record in place of what the part with
        that id has; its number, group, spellings and marks stay."""
        if not changed:
            return
        groups = {p.group for p in changed.values()}
        before = self._figures(groups)
        boundaries = self._boundary_ids([p.sizes for p in changed.values()])
        rows = [
            {"row_id": ident, "kind": p.kind, "words": p.words, "status": p.status,
             "note": p.note, "boundary_id": on}
            for (ident, p), on in zip(changed.items(), boundaries, strict=True)
        ]  # fmt: skip
        self.conn.execute(update(part).where(part.c.id == bindparam("row_id")), rows)
        for some in pieces(list(changed)):
            self.conn.execute(delete(size).where(size.c.part_id.in_(some)))
        sizes = [
            size_row(ident, name, held)
            for ident, p in changed.items()
            for name, held in p.sizes.items()
            if name not in BOUNDARY
        ]
        if sizes:
            self.conn.execute(insert(size), sizes)
        self._move(before, groups)

    def add_marks(self, marks: Sequence[tuple[int, PartMark, int | None, bool]]) -> None:
        """Note marks on parts: id, mark, source, and whether trade suffixes may follow it."""
        if not marks:
            return
        ids = list({ident for ident, *_ in marks})
        groups = {
            group
            for some in pieces(ids)
            for group in self.conn.scalars(select(part.c.group_key).where(part.c.id.in_(some)))
        }
        before = self._figures(groups)
        rows, spelled = [], []
        for ident, found, source_id, suffixed in marks:
            flat = folded(found.text)
            rows.append(
                {"part_id": ident, "text": found.text, "role": found.role, "folded": flat,
                 "source_id": source_id}
            )  # fmt: skip
            if found.role == "number" and flat:
                spelled.append(spelling_row(ident, Spelling(found.text, 1.0, "mark", suffixed)))
        self.conn.execute(insert(mark), rows)
        if spelled:
            self.conn.execute(insert(spelling), spelled)
        self._move(before, groups)

    def finish(self) -> None:
        """Bring the stored figures of the population up to date."""
        add_tally(self.conn, self._delta)
        self._delta.clear()

    def _figures(self, groups: set[str]) -> Counter[Key]:
        ids = [
            ident
            for some in pieces(list(groups))
            for ident in self.conn.scalars(select(part.c.id).where(part.c.group_key.in_(some)))
        ]
        return tally_of(load_parts(self.conn, ids))

    def _move(self, before: Counter[Key], groups: set[str]) -> None:
        if groups:
            self._delta.update(self._figures(groups))
            self._delta.subtract(before)

    def _write_texts(self, records: Iterable[tuple[int, Part]]) -> None:
        spelled, sizes = [], []
        for ident, record in records:
            spelled += [spelling_row(ident, s) for s in record.spellings]
            sizes += [size_row(ident, n, s) for n, s in record.sizes.items() if n not in BOUNDARY]
        for table, rows in ((spelling, spelled), (size, sizes)):
            if rows:
                self.conn.execute(insert(table), rows)

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
        rows, ids = [], []
        for sizes in many:
            values = tuple(sizes[n].value if n in sizes else 0 for n in BOUNDARY)
            if any(values) and values not in held:
                held[values] = following
                rows.append({"id": following, **dict(zip(BOUNDARY, values, strict=True))})
                following += 1
            ids.append(held.get(values) if any(values) else None)
        if rows:
            self.conn.execute(insert(boundary), rows)
            if self.conn.dialect.name == "postgresql":
                counter = func.pg_get_serial_sequence("boundary", "id")
                self.conn.execute(select(func.setval(counter, following - 1)))
        return ids


def figures_of_singles(records: Sequence[Part]) -> Counter[Key]:
    """What parts count for that each are the only one of their group: as ``tally_of``, quicker."""
    patterns: Counter[str] = Counter()
    chars: Counter[str] = Counter()
    described = 0
    words: Counter[str] = Counter()
    for p in records:
        pattern = "|".join((p.kind, ",".join(sorted(p.sizes)), "w" if p.words else ""))
        patterns[pattern] += p.weight  # type: ignore[assignment]
        described += bool(p.words)
    chars.update(
        chain.from_iterable(
            folded(s.text) for p in records for s in p.spellings if s.weight >= COUNTED_SPELLING
        )
    )
    words.update(w[:100] for p in records if p.words for w in split_words(p.words))
    total: Counter[Key] = Counter({("things", ""): len(records), ("described", ""): described})
    total.update({("pattern", name): weight for name, weight in patterns.items()})
    total.update({("char", char): count for char, count in chars.items()})
    total.update({("word", word): count for word, count in words.items()})
    return total
