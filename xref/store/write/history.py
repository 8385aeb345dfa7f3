"""Keep what a unit of work changes: every statement is watched, so no write can be forgotten.

Rows that are inserted are kept as ranges of ids (one writer at a time gives out ids in order); rows
that are updated or deleted are kept whole, with those that a delete takes with it.
"""

from __future__ import annotations

import json
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Column, Connection, Delete, Insert, Table, Update, event, insert, select

from xref.settings import member_name
from xref.store.file.clock import now
from xref.store.read.load import pieces
from xref.store.tables.history import action, change
from xref.store.tables.tables import metadata

UNWATCHED = frozenset(
    {
        "store_info",
        "sheet_answer",
        "boundary",
        "boundary_class",
        "tally",
        "scan_block",
        "scan_plane",
        "action",
        "change",
    }
)
"""What is computed from the rest, or is the history itself, is not kept."""

COUNTED = {"reading_count": "count"}
"""Columns that many commands add to: what one added is taken back by itself, whatever came later.
The history keeps what it was when the row was made."""

INSERT, UPDATE, DELETE = "insert", "update", "delete"


@dataclass(frozen=True, slots=True)
class Change:
    """One change of one row, or the insertion of the rows from ``low`` to ``high``. ``id`` is 0
    until it is written down."""

    table: str
    kind: str
    low: int
    high: int
    before: Mapping[str, Any] | None = None
    after: Mapping[str, Any] | None = None
    id: int = 0


def key_column(table: Table) -> Column[Any]:
    """The one column of the primary key."""
    (column,) = table.primary_key.columns
    return column


class Recorder:
    """Watches one connection from its making until ``stop``."""

    def __init__(self, conn: Connection) -> None:
        self.conn = conn
        self.changes: list[Change] = []
        self._made: dict[str, list[tuple[int, int]]] = defaultdict(list)
        self._pending: list[Any] = []
        self._busy = False
        event.listen(conn, "before_execute", self._before)
        event.listen(conn, "after_execute", self._after)

    def stop(self) -> None:
        """Watch no longer."""
        event.remove(self.conn, "before_execute", self._before)
        event.remove(self.conn, "after_execute", self._after)

    def highest(self, table: Table) -> int:
        """The highest id of ``table``, to be told to ``inserted`` after a bulk insert."""
        return self._highest(table)

    def inserted(self, table: Table, was: int) -> None:
        """Keep the rows that the driver itself inserted since the highest id was ``was``."""
        low, high = self._since(table, was)
        if high and table.name not in UNWATCHED:
            self._keep_inserted(table, low, high)

    def _before(
        self, _conn: Connection, statement: Any, many: Any, one: Any, _options: Any
    ) -> None:
        if self._busy or not _watched(statement):
            return
        self._busy = True
        try:
            table = statement.table
            if isinstance(statement, Insert):
                self._pending.append(self._highest(table))
            else:
                found = self._rows(statement, many or ([one] if one else [{}]))
                if isinstance(statement, Delete):
                    self._deleted(table, found)
                    self._pending.append(None)
                else:
                    self._pending.append(found)
        finally:
            self._busy = False

    def _after(
        self, _conn: Connection, statement: Any, many: Any, one: Any, _options: Any, _result: Any
    ) -> None:
        if self._busy or not _watched(statement):
            return
        self._busy = True
        try:
            was = self._pending.pop()
            if isinstance(statement, Insert):
                self._inserted(statement, was, many or ([one] if one else []))
            elif isinstance(statement, Update):
                assert isinstance(statement.table, Table)
                self._updated(statement.table, was)
        finally:
            self._busy = False

    def _highest(self, table: Table) -> int:
        return self._ask(f"SELECT max({key_column(table).name}) FROM {table.name}")[0]

    def _since(self, table: Table, was: int) -> tuple[int, int]:
        """The lowest and the highest id above ``was``; 0 for none. Numbers that are not given out
        again lie between, and are no rows of this insertion."""
        name = key_column(table).name
        low, high = self._ask(
            f"SELECT min({name}), max({name}) FROM {table.name} WHERE {name} > {was:d}"
        )
        return low, high

    def _ask(self, question: str) -> tuple[int, ...]:
        # The driver's own cursor: this is asked before and after every insert.
        cursor = self.conn.connection.cursor()
        try:
            cursor.execute(question)
            return tuple(int(value or 0) for value in cursor.fetchall()[0])
        finally:
            cursor.close()

    def _keep_inserted(self, table: Table, low: int, high: int) -> None:
        if table.name in COUNTED:
            column = key_column(table)
            query = select(table).where(column.between(low, high)).order_by(column)
            for row in self.conn.execute(query).mappings().all():
                ident = int(row[column.name])
                self.changes.append(Change(table.name, INSERT, ident, ident, after=dict(row)))
            return
        self.changes.append(Change(table.name, INSERT, low, high))
        self._made[table.name].append((low, high))

    def _inserted(self, statement: Insert, was: int, params: Sequence[Mapping[str, Any]]) -> None:
        table = statement.table
        assert isinstance(table, Table)
        name = key_column(table).name
        low, high = self._since(table, was)
        # A key that is another table's id is not given out in order: the row says which it is.
        if high and not key_column(table).foreign_keys:
            self._keep_inserted(table, low, high)
            return
        compiled = statement.compile().params
        for row in params or [compiled]:
            ident = row.get(name, compiled.get(name))
            if ident is not None:
                self.changes.append(Change(table.name, INSERT, int(ident), int(ident)))

    def _rows(self, statement: Any, params: Iterable[Any]) -> list[dict[str, Any]]:
        """The rows the statement is about, as they are before it runs."""
        found: dict[Any, dict[str, Any]] = {}
        table = statement.table
        name = key_column(table).name
        for values in params:
            query = select(table)
            if statement.whereclause is not None:
                query = query.where(statement.whereclause)
            for row in self.conn.execute(query, dict(values)).mappings():
                found[row[name]] = dict(row)
        return list(found.values())

    def _deleted(self, table: Table, rows: Sequence[Mapping[str, Any]]) -> None:
        """Keep the rows, after those that the database deletes along with them."""
        name = key_column(table).name
        for child in metadata.sorted_tables:
            for link in child.foreign_keys:
                if link.column.table is table and link.ondelete == "CASCADE":
                    held = [
                        dict(found)
                        for some in pieces([row[name] for row in rows])
                        for found in self.conn.execute(
                            select(child).where(link.parent.in_(some))
                        ).mappings()
                    ]
                    if held and child.name not in UNWATCHED:
                        self._deleted(child, held)
        for row in rows:
            ident = int(row[name])
            self.changes.append(Change(table.name, DELETE, ident, ident, before=row))

    def _updated(self, table: Table, rows: Sequence[Mapping[str, Any]]) -> None:
        column = key_column(table)
        for some in pieces(rows):
            query = select(table).where(column.in_([row[column.name] for row in some]))
            now = {row[column.name]: dict(row) for row in self.conn.execute(query).mappings()}
            for row in some:
                ident = int(row[column.name])
                after = now.get(ident)
                if after is None or after == dict(row) or self._needless(table, row, after):
                    continue
                self.changes.append(Change(table.name, UPDATE, ident, ident, row, after))

    def _needless(self, table: Table, row: Mapping[str, Any], after: Mapping[str, Any]) -> bool:
        """Whether a row that was inserted here changes only what goes with its insertion."""
        ident = row[key_column(table).name]
        if not any(low <= ident <= high for low, high in self._made[table.name]):
            return False
        return all(row[c.name] == after[c.name] for c in table.columns if c.foreign_keys)


def _watched(statement: Any) -> bool:
    if not isinstance(statement, (Insert, Update, Delete)):
        return False
    return isinstance(statement.table, Table) and statement.table.name not in UNWATCHED


def keep(conn: Connection, command: str, changes: Sequence[Change]) -> None:
    """Write down what one command changed; nothing where it changed nothing."""
    if not changes:
        return
    row = {"at": now(), "command": command, "undone": False, "member": member_of(conn)}
    result = conn.execute(insert(action).values(**row))
    assert result.inserted_primary_key is not None
    ident = int(result.inserted_primary_key[0])
    rows = [
        {
            "action_id": ident,
            "table_name": c.table,
            "kind": c.kind,
            "low": c.low,
            "high": c.high,
            "before": _json(c.before),
            "after": _json(c.after),
        }
        for c in _joined(changes)
    ]
    conn.execute(insert(change), rows)


def member_of(conn: Connection) -> str:
    """Who works here, in a store that several share; "" in a store of one's own."""
    return member_name() if conn.dialect.name == "postgresql" else ""


def _joined(changes: Iterable[Change]) -> list[Change]:
    """``changes`` with neighbouring inserts into one table made one range."""
    found: list[Change] = []
    for item in changes:
        last = found[-1] if found else None
        if (
            last
            and last.kind == item.kind == INSERT
            and last.table == item.table
            and item.after is None
            and last.high + 1 == item.low
        ):
            found[-1] = Change(item.table, INSERT, last.low, item.high)
        else:
            found.append(item)
    return found


def _json(row: Mapping[str, Any] | None) -> str | None:
    return None if row is None else json.dumps(row, ensure_ascii=False)
