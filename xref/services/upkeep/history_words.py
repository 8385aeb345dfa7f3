"""The rows of the history in plain words: what a table, a column and a cell are called."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection

from xref.domain.part import is_plain_number
from xref.domain.serial_text import from_stored
from xref.domain.size import NM_PER_MM, mm_text
from xref.store.upkeep.referred import boundary_sizes, counts_nanometres, referred

UNSAID = frozenset(
    {"id", "at", "folded", "skeleton", "skeleton_reversed", "key", "weight", "group_key"}
    | {"boundary_id", "maker_id", "tables_agreeing", "origin", "sha256", "supersession_id"}
    | {"takes_suffix"}
)
"""Columns that say nothing to a person, or what the line above has said: when."""

COLUMNS = {
    "as_found": "as written",
    "asked": "found",
    "both_ways": "both ways",
    "count": "times",
    "decided_at": "decided",
    "done_at": "done",
    "fits": "goes in",
    "found": "how it was found",
    "item_id": "of",
    "machine_id": "machine",
    "maker_id": "maker",
    "model_id": "model",
    "old_id": "in place of",
    "order_instead": "order instead",
    "other_id": "with",
    "outcome_at": "outcome noted",
    "part_id": "part",
    "read_char": "read",
    "serves_back": "serves back",
    "source_id": "source",
    "true_char": "struck",
    "upto": "up to",
}
"""Columns whose names are not what a person would say."""

TABLES = {
    "applicability": "serial range",
    "part_claim": "claim",
    "part_extra": "kept column",
    "reading_count": "sign learned",
    "supersession_part": "number of a supersession",
    "wanted": "wanted item",
}


def table_words(table: str) -> str:
    """What a row of ``table`` is called."""
    return TABLES.get(table, table.replace("_", " "))


def column_words(column: str) -> str:
    """What ``column`` is called."""
    return COLUMNS.get(column, column.replace("_", " "))


@dataclass(frozen=True, slots=True)
class Cell:
    """One cell in words. ``value`` is a plain number (lengths in millimetres, odds 0..1), a truth,
    a text, or what was asked by its names."""

    name: str
    value: Any
    words: str


def cells_of(
    conn: Connection,
    table: str,
    row: Mapping[str, Any],
    columns: Iterable[str],
    changed: bool = False,
) -> dict[str, Cell]:
    """Those cells of ``columns`` of a row that say something, by their names; no empty ones.

    Whose a thing is says something only where that was ``changed``.
    """
    unsaid = UNSAID - {"maker_id"} if changed else UNSAID
    found = []
    for column in columns:
        value = row.get(column)
        if column == "boundary_id" and value:
            sizes = boundary_sizes(conn, value)
            found += [_cell(conn, "boundary", sizes, name) for name in sizes]
        elif column not in unsaid and value not in (None, "", "{}"):
            found.append(_cell(conn, table, row, column))
    return {cell.name: cell for cell in found if cell.words}


def _cell(conn: Connection, table: str, row: Mapping[str, Any], column: str) -> Cell:
    name, value = column_words(column), row[column]
    if isinstance(value, int) and not isinstance(value, bool):
        pointed = referred(conn, table, column, value)
        if pointed is not None:
            return Cell(name, pointed, pointed)
    if counts_nanometres(table, column) and not is_plain_number(str(row.get("name"))):
        return Cell(name, value / NM_PER_MM, mm_text(value))
    if column == "serials":
        told = _serials(str(value), str(row.get("as_found") or ""))
        return Cell(name, told, told)
    if column in ("asked", "found"):
        asked = json.loads(value)
        return Cell(name, asked, _told(asked))
    if column == "odds":
        return Cell(name, value, f"{100 * value:.0f} %")
    if isinstance(value, bool):
        return Cell(name, value, "yes" if value else "no")
    return Cell(name, value, f"{value:g}" if isinstance(value, float) else str(value))


def _serials(text: str, as_found: str) -> str:
    """A stored set of serials in plain writing; what is none stands as it is."""
    try:
        return str(from_stored(text, as_found))
    except ValueError:
        return text


def _told(asked: Mapping[str, Any]) -> str:
    """A question or how a part was found, kept as names and what was typed for them."""
    said = []
    for name, value in asked.items():
        if isinstance(value, Mapping):
            said.append(_told(value))
        else:
            some = value if isinstance(value, list) else [value]
            said.append(f"{name.replace('_', ' ')} {' | '.join(map(str, some))}")
    return ", ".join(word for word in said if word)
