"""The rows of the history in plain words: what a table, a column and a cell are called."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from sqlalchemy import Connection

from xref.domain.part import BOUNDARY, is_plain_number
from xref.store.referred import referred

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


def cell_words(conn: Connection, table: str, row: Mapping[str, Any], column: str) -> str:
    """One cell of ``row`` in words; "nothing" where it is empty, "" where it says nothing."""
    value = row.get(column)
    if value in (None, "", "{}"):
        return "nothing"
    if isinstance(value, int) and not isinstance(value, bool):
        name = referred(conn, table, column, value)
        if name is not None:
            return name
    if column in BOUNDARY or (column == "value" and not is_plain_number(str(row.get("name")))):
        return f"{value / 1_000_000:g} mm"
    if column in ("asked", "found"):
        return _told(json.loads(value))
    if column == "odds":
        return f"{100 * value:.0f} %"
    if isinstance(value, bool):
        return "yes" if value else "no"
    return f"{value:g}" if isinstance(value, float) else str(value)


def row_words(conn: Connection, table: str, row: Mapping[str, Any]) -> str:
    """Every cell of a row that says something."""
    said = []
    for column, value in row.items():
        if column in UNSAID or value in (None, "", "{}") or (value == 0 and value is not False):
            continue
        told = cell_words(conn, table, row, column)
        if told:
            said.append(f"{column_words(column)} {told}")
    return ", ".join(said)


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
