"""What was changed, told in words, and taken back."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection

from xref.domain.part import BOUNDARY
from xref.store.history import DELETE, INSERT, Change
from xref.store.queries import resolve
from xref.store.undo import Action, actions, inserted_rows, undo
from xref.store.unit import UnitOfWork

UNSAID = frozenset(
    {"id", "part_id", "folded", "skeleton", "skeleton_reversed", "key", "weight", "group_key",
     "boundary_id", "maker_id", "source_id", "tables_agreeing", "origin"}
)  # fmt: skip
"""Columns that say nothing to a person."""
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
    ident = resolve(conn, number, maker).id if number else None
    return [Told(a, tuple(_words(conn, a))) for a in actions(conn, ident, limit)]


def _words(conn: Connection, told: Action) -> list[str]:
    lines = [line for item in told.changes for line in _change(conn, item) if line]
    return list(dict.fromkeys(lines))


def _change(conn: Connection, item: Change) -> list[str]:
    if item.table in QUIET:
        return []
    if item.kind != INSERT:
        return [_changed(item)]
    name = item.table.replace("_", " ")
    rows = inserted_rows(conn, item) if item.high - item.low < SHOWN_ROWS else []
    if rows:
        return [f"{name} added: {_row(row)}" for row in rows]
    count = item.high - item.low + 1
    return [f"{name} added" if count == 1 else f"{name}: {count} added"]


def _changed(item: Change) -> str:
    name = item.table.replace("_", " ")
    before = item.before or {}
    if item.kind == DELETE:
        return f"{name} removed: {_row(before)}"
    after = item.after or {}
    said = [
        f"{column} {_value(column, was)} → {_value(column, after[column])}"
        for column, was in before.items()
        if column not in UNSAID and after.get(column) != was
    ]
    return f"{name} {_name(before)}: {', '.join(said)}" if said else ""


def _name(row: Mapping[str, Any]) -> str:
    return str(row.get("number") or row.get("name") or row.get("place") or row.get("id") or "")


def _row(row: Mapping[str, Any]) -> str:
    return ", ".join(
        f"{column} {_value(column, value)}"
        for column, value in row.items()
        if column not in UNSAID and value not in (None, "", 0)
    )


def _value(column: str, value: Any) -> str:
    if value in (None, ""):
        return "nothing"
    return f"{value / 1_000_000:g} mm" if column in (*BOUNDARY, "value") else str(value)


def undo_last(unit: UnitOfWork) -> Action:
    """Take back the last command. Raises NotFoundError where there is nothing to take back."""
    return undo(unit)
