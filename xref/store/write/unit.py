"""The unit of work: every write goes through here, and is gone unless it is committed."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence

from sqlalchemy import Connection, Table, delete, insert, select, update

from xref.domain.new_name import NewName
from xref.domain.number import folded, key
from xref.domain.part import BOUNDARY, Part, PartMark, Spelling, StoredSize
from xref.errors import InputError
from xref.store.file.seal import put_seal
from xref.store.index.scan import fold_in
from xref.store.index.tally import add_tally, groups_tally
from xref.store.read.load import load_parts
from xref.store.tables.tables import boundary, maker, mark, part, size, source, spelling
from xref.store.write.copy_in import copy_in
from xref.store.write.history import Recorder, keep


class UnitOfWork:
    """One command's writes; the history keeps them under ``command`` if they are ``watched``.

    ``where`` is the place of the store. ``news`` are the names of models, components, sources and
    makers that this made, for whoever mistyped.
    """

    def __init__(self, conn: Connection, command: str, where: str, watched: bool = True) -> None:
        self.conn = conn
        self.command = command
        self.where = where
        self._recorder = Recorder(conn) if watched else None
        self.news: list[NewName] = []
        self._done = False
        self._before: dict[str, Counter[tuple[str, str]]] = {}

    def commit(self) -> None:
        """Bring the population's figures and the scan up to date and keep everything."""
        for group, before in self._before.items():
            delta = groups_tally(self.conn, [group])
            delta.subtract(before)
            add_tally(self.conn, delta)
        self._before.clear()
        fold_in(self.conn)
        self._keep()
        if self.conn.dialect.name == "sqlite":
            put_seal(self.conn.connection.driver_connection)
        self.conn.commit()
        self._done = True

    @property
    def committed(self) -> bool:
        """Whether everything so far was kept."""
        return self._done

    def _keep(self) -> None:
        if self._recorder is not None:
            self._recorder.stop()
            keep(self.conn, self.command, self._recorder.changes)
            self._recorder = None

    def close(self) -> None:
        """Take back whatever was not committed."""
        if self._recorder is not None:
            self._recorder.stop()
        if not self._done:
            self.conn.rollback()

    def touch(self, groups: Iterable[str]) -> None:
        """Remember what these groups counted for, before their parts are changed."""
        for group in groups:
            if group not in self._before:
                self._before[group] = groups_tally(self.conn, [group])

    def insert(self, table: Table, row: Mapping[str, object]) -> int:
        """Insert one row into a table with an id of its own, and return the id."""
        return _new_id(self.conn, table, row)

    def insert_rows(
        self, table: Table, columns: Sequence[str], rows: Sequence[tuple[object, ...]]
    ) -> None:
        """Insert many rows whose values are ready for the database as they are.

        The driver takes them as they stand, which is a third quicker; the history has them too.
        """
        if not rows:
            return
        was = self._recorder.highest(table) if self._recorder is not None else 0
        if self.conn.dialect.name == "postgresql":
            copy_in(self.conn, table, columns, rows)
        else:
            self._insert_plainly(table, columns, rows)
        if self._recorder is not None:
            self._recorder.inserted(table, was)

    def _insert_plainly(
        self, table: Table, columns: Sequence[str], rows: Sequence[tuple[object, ...]]
    ) -> None:
        statement = insert(table).compile(dialect=self.conn.dialect, column_keys=list(columns))
        order = statement.positiontup or list(columns)
        if tuple(order) != tuple(columns):
            places = [columns.index(name) for name in order]
            rows = [tuple(row[at] for at in places) for row in rows]
        self.conn.exec_driver_sql(str(statement), list(rows))

    def update(self, table: Table, ident: int, values: Mapping[str, object]) -> None:
        """Change the row of ``table`` with this id."""
        self.conn.execute(update(table).where(table.c.id == ident).values(**values))

    def delete(self, table: Table, ident: int) -> None:
        """Remove the row of ``table`` with this id."""
        self.conn.execute(delete(table).where(table.c.id == ident))

    def ensure_maker(self, name: str, is_standard: bool = False) -> int:
        """The id of the maker called ``name`` ("" for none known), made if it is not there."""
        maker_key = key(name) if name else ""
        found = self.conn.scalar(select(maker.c.id).where(maker.c.key == maker_key))
        if found is not None:
            return int(found)
        if name.strip() and not is_standard:
            self._tell_new_maker(name.strip())
        row = {"name": name.strip(), "key": maker_key, "is_standard": is_standard}
        return _new_id(self.conn, maker, row)

    def _tell_new_maker(self, name: str) -> None:
        # What tells near names is only imported where there is a new one.
        from xref.store.read.near_names import new_name

        own = select(maker.c.name).where(maker.c.is_standard.is_(False), maker.c.name != "")
        self.news.append(new_name("maker", name, self.conn.scalars(own).all()))

    def ensure_boundary(self, sizes: Mapping[str, StoredSize]) -> int | None:
        """The id of these boundary dimensions; None where not one of them is known."""
        values = {name: sizes[name].value if name in sizes else 0 for name in BOUNDARY}
        if not any(values.values()):
            return None
        same = [boundary.c[name] == value for name, value in values.items()]
        found = self.conn.scalar(select(boundary.c.id).where(*same))
        return int(found) if found is not None else _new_id(self.conn, boundary, values)

    def add_part(self, record: Part, source_id: int | None = None) -> int:
        """Add a part whole and return its id.

        Raises InputError where its maker already has a part of the same key.
        """
        maker_id = self.ensure_maker(record.maker)
        if self._is_standard(maker_id) and not record.is_standard:
            raise standard_name(record.maker)
        number_key = key(record.number)
        there = select(part.c.id).where(part.c.maker_id == maker_id, part.c.key == number_key)
        if self.conn.scalar(there) is not None:
            named = f"{record.maker} {record.number}".strip()
            raise InputError(
                f"{named} is already in the store", "Use xref part change to change it."
            )
        self.touch([record.group])
        row = part_row(record, maker_id, self.ensure_boundary(record.sizes))
        part_id = _new_id(self.conn, part, {**row, "source_id": source_id})
        self._write_texts(part_id, record)
        self._write_marks(part_id, record)
        return part_id

    def change_part(self, part_id: int, record: Part) -> None:
        """Put ``record`` in place of the part with this id; the marks noted on it stay."""
        self.touch([self._one(part_id).group, record.group])
        maker_id = self.ensure_maker(record.maker)
        row = part_row(record, maker_id, self.ensure_boundary(record.sizes))
        self.conn.execute(update(part).where(part.c.id == part_id).values(**row))
        self._write_texts(part_id, record)

    def remove_part(self, part_id: int) -> None:
        """Remove the part with everything that hangs on it."""
        self.touch([self._one(part_id).group])
        self.conn.execute(delete(part).where(part.c.id == part_id))

    def add_mark(
        self,
        part_id: int,
        found: PartMark,
        source_id: int | None = None,
        takes_suffix: bool = False,
        ident: int | None = None,
    ) -> None:
        """Note a mark on a part; one of the number role is searched as a number from then on.

        ``ident`` is the id of a mark that it takes the place of, None for a new one.
        """
        self.touch([self._one(part_id).group])
        row = {
            **({} if ident is None else {"id": ident}),
            "part_id": part_id,
            "text": found.text,
            "role": found.role,
            "folded": folded(found.text),
            "source_id": source_id,
        }
        self.conn.execute(insert(mark), row)
        if found.role == "number" and folded(found.text):
            spelled = Spelling(found.text, 1.0, "mark", takes_suffix)
            self.conn.execute(insert(spelling), spelling_row(part_id, spelled))

    def add_source(self, title: str, edition: str, kind: str, note: str) -> int:
        """Add a source; raises InputError where the same title and edition is there."""
        same = (source.c.title == title, source.c.edition == edition)
        if self.conn.scalar(select(source.c.id).where(*same)) is not None:
            raise InputError(f"the source {title} {edition}".strip() + " is already there")
        row = {"title": title, "edition": edition, "kind": kind, "note": note}
        return _new_id(self.conn, source, row)

    def _is_standard(self, maker_id: int) -> bool:
        return bool(self.conn.scalar(select(maker.c.is_standard).where(maker.c.id == maker_id)))

    def _one(self, part_id: int) -> Part:
        return load_parts(self.conn, [part_id])[0]

    def _write_texts(self, part_id: int, record: Part) -> None:
        """Write spellings and sizes in place of what there is; what stays the same is let be."""
        spelled = [spelling_row(part_id, s) for s in record.spellings if folded(s.text)]
        sizes = [size_row(part_id, n, s) for n, s in record.sizes.items() if n not in BOUNDARY]
        for table, rows in ((spelling, spelled), (size, sizes)):
            held = self.conn.execute(select(table).where(table.c.part_id == part_id)).mappings()
            for there in held.all():
                same = {name: value for name, value in there.items() if name != "id"}
                if same in rows:
                    rows.remove(same)
                else:
                    self.delete(table, there["id"])
            if rows:
                self.conn.execute(insert(table), rows)

    def _write_marks(self, part_id: int, record: Part) -> None:
        rows = [
            {"part_id": part_id, "text": m.text, "role": m.role, "folded": folded(m.text)}
            for m in record.marks
        ]
        if rows:
            self.conn.execute(insert(mark), rows)


def standard_name(maker_name: str) -> InputError:
    """The refusal of a part of the user's own under the name of a standard."""
    return InputError(
        f"{maker_name} is a standard, and its rows come with the tables",
        "Name the maker of your part, or none.",
    )


def _new_id(conn: Connection, table: Table, row: Mapping[str, object]) -> int:
    result = conn.execute(insert(table).values(**row))
    assert result.inserted_primary_key is not None
    return int(result.inserted_primary_key[0])


def part_row(record: Part, maker_id: int, boundary_id: int | None) -> dict[str, object]:
    """The row of a part with its keys; its maker and boundary dimensions by their ids."""
    return {
        "maker_id": maker_id,
        "number": record.number.strip(),
        "key": key(record.number),
        "folded": folded(record.number),
        "kind": record.kind,
        "type": record.type,
        "words": record.words,
        "status": record.status,
        "origin": record.origin,
        "group_key": record.group,
        "weight": record.weight,
        "boundary_id": boundary_id,
        "tables_agreeing": record.tables_agreeing,
        "note": record.note,
    }


def spelling_row(part_id: int, spelled: Spelling) -> dict[str, object]:
    """The row of one spelling with its search keys."""
    text = folded(spelled.text)
    return {
        "part_id": part_id,
        "text": spelled.text,
        "folded": text,
        "weight": spelled.weight,
        "role": spelled.role,
        "takes_suffix": spelled.takes_suffix,
    }


def size_row(part_id: int, name: str, held: StoredSize) -> dict[str, object]:
    """The row of one size that is not a boundary dimension."""
    return {
        "part_id": part_id,
        "name": name,
        "value": held.value,
        "lower": held.lower,
        "upper": held.upper,
    }
