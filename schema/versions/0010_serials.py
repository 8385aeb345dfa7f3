"""Keep sets of serials in a form that reads back exactly, and mend those that a word was read into.

A range was kept in plain writing and read again at every question: "12A-340" came back as one
serial, and a word before a number ("bis 4511") as the letters of the serial. What the words of a
range mean is read anew from the text as it was found; what no longer reads is kept as not known.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Mapping
from typing import Any

import sqlalchemy as sa
from alembic import op

from xref.domain.serial import read_serials
from xref.domain.serial_beside import perhaps_serials
from xref.domain.serial_range import EVERY_SERIAL, Serial, SerialRange, SerialSet, not_read
from xref.domain.serial_text import MOST_STORED, UNREAD, from_stored, stored
from xref.domain.serial_words import means_of
from xref.errors import InputError

revision = "0010"
down_revision = "0009"
branch_labels = None
depends_on = None

_MOST = 300
_END = re.compile(r"((?:[A-Z0-9/]*[A-Z/])?)([0-9]{1,13})([A-Z]{0,2})")

_RANGE = sa.table(
    "applicability",
    *map(sa.column, ("id", "part_id", "model_id", "component", "serials", "as_found")),
)
_STEP = sa.table("supersession", *map(sa.column, ("id", "model_id", "serials", "as_found")))
_CHANGE = sa.table("change", *map(sa.column, ("id", "table_name", "before", "after")))
_MODEL = sa.table("model", *map(sa.column, ("id", "prefixes")))
_EXTRA = sa.table("part_extra", *map(sa.column, ("id", "part_id", "label", "value", "position")))


def _after(column: str) -> str | None:
    """Where a new column goes: a server puts it last, and takes no other word."""
    return column if op.get_bind().dialect.name == "sqlite" else None


def upgrade() -> None:
    """Widen the columns and write every set in the new form."""
    with op.batch_alter_table("applicability") as batch:
        batch.alter_column(
            "serials", type_=sa.String(MOST_STORED), existing_type=sa.String(_MOST), nullable=False
        )
    with op.batch_alter_table("supersession") as batch:
        batch.alter_column(
            "serials", type_=sa.String(MOST_STORED), existing_type=sa.String(_MOST), nullable=False
        )
        batch.add_column(
            sa.Column("as_found", sa.String(_MOST), nullable=False, server_default=""),
            insert_after=_after("serials"),
        )
    with op.batch_alter_table("supersession") as batch:
        batch.alter_column("as_found", server_default=None, existing_type=sa.String(_MOST))
    conn = op.get_bind()
    mended = _Mending(conn)
    for table in (_RANGE, _STEP):
        for row in conn.execute(sa.select(table)).mappings().all():
            said = mended.row(table.name, dict(row))
            conn.execute(sa.update(table).where(table.c.id == row["id"]).values(said))
    _rewrite_history(conn, mended.row)


class _Mending:
    """What an old row says in the new form; the same row always says the same."""

    def __init__(self, conn: sa.Connection) -> None:
        models = conn.execute(sa.select(_MODEL))
        self._prefixes = {row.id: tuple(row.prefixes.split()) for row in models}
        self._beside = _beside(conn)

    def row(self, table: str, row: Mapping[str, Any]) -> dict[str, str]:
        """``serials`` and ``as_found`` of a row."""
        works = row.get("component", "works") == "works"
        known = self._prefixes.get(row.get("model_id") or 0, ()) if works else ()
        written = row.get("as_found") or ""
        found, as_found = _mended(row["serials"], written, known, row.get("component", "works"))
        beside = self._beside.get(row["part_id"]) if table == _RANGE.name else None
        if found.every and not written and beside:
            as_found = beside[:_MOST]
            found = not_read(as_found)
        return {"serials": stored(found), "as_found": as_found}


def _rewrite_history(
    conn: sa.Connection, said: Callable[[str, Mapping[str, Any]], dict[str, str]]
) -> None:
    """Write what the history keeps of such rows as they are written now: an undo puts it back."""
    here = _CHANGE.c.table_name.in_((_RANGE.name, _STEP.name))
    for change in conn.execute(sa.select(_CHANGE).where(here)).mappings().all():
        kept = {}
        for name in ("before", "after"):
            row = json.loads(change[name]) if change[name] else None
            if row is not None and "serials" in row:
                told = said(change["table_name"], row)
                lost = {"as_found"} - told.keys()
                row = {k: v for k, v in {**row, **told}.items() if k not in lost}
                kept[name] = json.dumps(row, ensure_ascii=False)
        if kept:
            conn.execute(sa.update(_CHANGE).where(_CHANGE.c.id == change["id"]).values(kept))


def _beside(conn: sa.Connection) -> dict[int, str]:
    """What stood beside a part and may be the serials of its models, by part."""
    found: dict[int, list[str]] = {}
    for row in conn.execute(sa.select(_EXTRA).order_by(_EXTRA.c.part_id, _EXTRA.c.position)):
        if perhaps_serials(row.label, row.value):
            found.setdefault(row.part_id, []).append(f"{row.label} {row.value}")
    return {part: " | ".join(texts) for part, texts in found.items()}


def _mended(
    text: str, as_found: str, known: tuple[str, ...], component: str
) -> tuple[SerialSet, str]:
    """The set that an old row means, and its text as it was found."""
    old = _old(text)
    if old is not None and not _has_word(old, known):
        return old, as_found
    written = as_found or text
    try:
        found = read_serials(written, known, component)
    except InputError:
        return not_read(written), written
    return (found.with_prefix(known[0]) if len(known) == 1 else found), written


def _has_word(held: SerialSet, known: tuple[str, ...]) -> bool:
    letters = {r.prefix for r in (*held.ranges, *held.exceptions)} - {"", *known}
    return any(means_of(prefix) for prefix in letters)


def _old(text: str) -> SerialSet | None:
    """What the plain writing of old means: a dash between two serials is always a range.

    None for what is no such writing.
    """
    if text in ("", "all"):
        return EVERY_SERIAL
    wanted, _, left_out = text.partition(" exc. ")
    try:
        return SerialSet(
            tuple(map(_piece, wanted.split(", "))),
            tuple(map(_piece, left_out.split(", "))) if left_out else (),
        )
    except ValueError:
        return None


def _piece(text: str) -> SerialRange:
    if text == "all":
        return SerialRange(None, None)
    if text.startswith("to "):
        return SerialRange(None, _end(text[3:]))
    if text.endswith("-up"):
        return SerialRange(_end(text[:-3]), None)
    low, dash, high = text.partition("-")
    return SerialRange(_end(low), _end(high if dash else low))


def _end(text: str) -> Serial:
    found = _END.fullmatch(text)
    if found is None:
        raise ValueError(text)
    return Serial(found[1], int(found[2]), found[3])


def downgrade() -> None:
    """Write the sets in plain writing; what was not understood is kept as a cell of its part, for
    the old layout would take it for every serial."""
    conn = op.get_bind()
    models = sa.table("model", sa.column("id"), sa.column("name"))
    names = {row.id: row.name for row in conn.execute(sa.select(models))}
    for row in conn.execute(sa.select(_RANGE)).mappings().all():
        plain = _old_row(_RANGE.name, dict(row))["serials"]
        here = _RANGE.c.id == row["id"]
        if row["serials"] == UNREAD or len(plain) > _MOST:
            _put_aside(conn, row, names[row["model_id"]], plain)
            conn.execute(sa.delete(_RANGE).where(here))
        else:
            conn.execute(sa.update(_RANGE).where(here).values(serials=plain))
    for step in conn.execute(sa.select(_STEP)).mappings().all():
        plain = _old_row(_STEP.name, dict(step))["serials"][:_MOST]
        conn.execute(sa.update(_STEP).where(_STEP.c.id == step["id"]).values(serials=plain))
    _rewrite_history(conn, _old_row)
    for table in ("applicability", "supersession"):
        with op.batch_alter_table(table) as batch:
            batch.alter_column(
                "serials", type_=sa.String(_MOST), existing_type=sa.String(MOST_STORED)
            )
            if table == "supersession":
                batch.drop_column("as_found")


def _old_row(table: str, row: Mapping[str, Any]) -> dict[str, str]:
    """A row's serials as the old layout has them, which has no text beside those of a step."""
    found = from_stored(row["serials"], row["as_found"])
    plain = row["as_found"] if found.unread else "" if found.every else _plain(found)
    kept = {"as_found": row["as_found"]} if table == _RANGE.name else {}
    return {"serials": plain, **kept}


def _put_aside(conn: sa.Connection, row: Any, model: str, plain: str) -> None:
    last = sa.select(sa.func.coalesce(sa.func.max(_EXTRA.c.position), -1)).where(
        _EXTRA.c.part_id == row["part_id"]
    )
    position = int(conn.scalar(last) or 0) + 1
    for at, (label, value) in enumerate((("model", model), ("serials", row["as_found"] or plain))):
        cell = {"part_id": row["part_id"], "label": label, "value": value}
        conn.execute(sa.insert(_EXTRA).values(**cell, position=position + at))


def _plain(held: SerialSet) -> str:
    """The plain writing of the old layout."""

    def one(piece: SerialRange) -> str:
        if piece.low is None:
            return "all" if piece.high is None else f"to {piece.high}"
        if piece.high is None:
            return f"{piece.low}-up"
        return str(piece.low) if piece.low == piece.high else f"{piece.low}-{piece.high}"

    told = ", ".join(map(one, held.ranges))
    return told + (" exc. " + ", ".join(map(one, held.exceptions)) if held.exceptions else "")
