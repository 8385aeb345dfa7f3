"""What was changed, told in words, and taken back."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection

from xref.services.parts.designated import look_up
from xref.services.upkeep.history_words import Cell, cells_of, table_words
from xref.store.upkeep.undo import Action, actions, rows_as_added, undo
from xref.store.write.history import DELETE, UPDATE, Change
from xref.store.write.unit import UnitOfWork

SHOWN_ROWS = 4
"""Up to so many added rows are shown one by one; beyond, counted."""
QUIET = frozenset({"spelling", "maker"})
"""Tables whose rows follow from others."""

_NAMES = (
    "number",
    "name",
    "place",
    "need",
    "part_id",
    "old_id",
    "machine_id",
    "model_id",
    "true_char",
)
"""Columns that a row goes by, the first that it has."""

ADDED, CHANGED, REMOVED = "added", "changed", "removed"

Cells = Mapping[str, Cell]


@dataclass(frozen=True, slots=True)
class ToldChange:
    """What became of one row, or that ``count`` rows were added.

    ``before`` and ``after`` are the row as it was then by the names of its cells, without the empty
    ones; of a changed row only what differs. None where there was no row, where several are only
    counted, and for an added row that was taken back and is nowhere kept.
    """

    what: str
    change: str
    count: int
    name: str = ""
    before: Cells | None = None
    after: Cells | None = None

    def line(self) -> str:
        """The change in words."""
        if self.count > 1:
            return f"{self.what}: {self.count} added"
        if self.change != CHANGED:
            row = self.before if self.after is None else self.after
            if row is None:
                return f"{self.what} added: as what is not on record any more"
            said = [f"{c.name} {c.words}" for c in row.values() if c.value or c.value is False]
            return f"{self.what} {self.change}: {', '.join(said)}"
        before, after = self.before or {}, self.after or {}
        moved = [f"{n} {_words(before, n)} → {_words(after, n)}" for n in {**before, **after}]
        return f"{self.what} {self.name}".rstrip() + f": {', '.join(moved)}"


@dataclass(frozen=True, slots=True)
class Told:
    """One command with its changes in words."""

    action: Action
    changes: tuple[ToldChange, ...]

    @property
    def lines(self) -> tuple[str, ...]:
        """The changes as lines, each line once."""
        return tuple(dict.fromkeys(change.line() for change in self.changes))


def history(
    conn: Connection, number: str | None = None, maker: str | None = None, limit: int = 20
) -> list[Told]:
    """The last commands, newest first. Raises NotFoundError for a number that is not there."""
    ident = look_up(conn, number, maker).id if number else None
    return [
        Told(a, tuple(told for item in a.changes for told in _change(conn, a, item)))
        for a in actions(conn, ident, limit)
    ]


def _change(conn: Connection, action: Action, item: Change) -> Iterator[ToldChange]:
    what, table = table_words(item.table), item.table
    if table in QUIET:
        return
    before, after = item.before or {}, item.after or {}
    if item.kind == UPDATE:
        moved = [column for column in before if before[column] != after.get(column)]
        was, now = (cells_of(conn, table, row, moved, True) for row in (before, after))
        if was != now:
            yield ToldChange(what, CHANGED, 1, _name(conn, table, before), was, now)
    elif item.kind == DELETE:
        was = cells_of(conn, table, before, before)
        yield ToldChange(what, REMOVED, 1, _name(conn, table, before), was)
    elif item.high - item.low >= SHOWN_ROWS:
        yield ToldChange(what, ADDED, item.high - item.low + 1)
    else:
        for row in rows_as_added(conn, item, action.undone):
            if row is None:
                yield ToldChange(what, ADDED, 1)
            else:
                now, name = cells_of(conn, table, row, row), _name(conn, table, row)
                yield ToldChange(what, ADDED, 1, name, None, now)


def _words(row: Cells, name: str) -> str:
    return row[name].words if name in row else "nothing"


def _name(conn: Connection, table: str, row: Mapping[str, Any]) -> str:
    """What a person calls the row by, "" where it has no name."""
    cells = cells_of(conn, table, row, [name for name in _NAMES if row.get(name)][:1])
    return next((cell.words for cell in cells.values()), "")


def take_back(unit: UnitOfWork, number: int | None = None, member: str = "") -> Action:
    """Take back the action of this number, None for the last one's own; ``member`` names another
    whose it may be. Errors as ``store.undo.undo``."""
    return undo(unit, number, member)
