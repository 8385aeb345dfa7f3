"""What was changed, told in words, and taken back."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection

from xref.services.designated import look_up
from xref.services.history_words import (
    UNSAID,
    cell_words,
    column_words,
    row_words,
    table_words,
)
from xref.store.history import DELETE, INSERT, Change
from xref.store.undo import Action, actions, inserted_rows, undo
from xref.store.unit import UnitOfWork

SHOWN_ROWS = 4
"""Up to so many added rows are shown one by one; beyond, counted."""
QUIET = frozenset({"spelling", "maker"})
"""Tables whose rows follow from others."""


@dataclass(frozen=True, slots=True)
class Told:
    """One command with its changes in words."""

    action: Action
    lines: tuple[str, ...]


def history(conn: Connection, number: str | None, maker: str | None, limit: int) -> list[Told]:
    """The last commands, newest first. Raises NotFoundError for a number that is not there."""
    ident = look_up(conn, number, maker).id if number else None
    return [Told(a, tuple(_words(conn, a))) for a in actions(conn, ident, limit)]


def _words(conn: Connection, told: Action) -> list[str]:
    lines = [line for item in told.changes for line in _change(conn, item) if line]
    return list(dict.fromkeys(lines))


def _change(conn: Connection, item: Change) -> list[str]:
    if item.table in QUIET:
        return []
    if item.kind != INSERT:
        return [_changed(conn, item)]
    name = table_words(item.table)
    rows = inserted_rows(conn, item) if item.high - item.low < SHOWN_ROWS else []
    if rows:
        return [f"{name} added: {row_words(conn, item.table, row)}" for row in rows]
    count = item.high - item.low + 1
    return [f"{name} added" if count == 1 else f"{name}: {count} added"]


def _changed(conn: Connection, item: Change) -> str:
    name = table_words(item.table)
    before = item.before or {}
    if item.kind == DELETE:
        return f"{name} removed: {row_words(conn, item.table, before)}"
    after = item.after or {}
    said = []
    for column, was in before.items():
        if column not in UNSAID and after.get(column) != was:
            old = cell_words(conn, item.table, before, column)
            new = cell_words(conn, item.table, after, column)
            said.append(f"{column_words(column)} {old} → {new}")
    return f"{name} {_name(before)}: {', '.join(said)}" if said else ""


def _name(row: Mapping[str, Any]) -> str:
    names = ("number", "name", "place", "need", "id")
    return next((str(row[name]) for name in names if row.get(name)), "")


def undo_last(unit: UnitOfWork) -> Action:
    """Take back the last command. Raises NotFoundError where there is nothing to take back."""
    return undo(unit)
