"""Tables of what a spreadsheet says beyond the part itself: odd columns, claims, prices."""

from __future__ import annotations

from sqlalchemy import Column, ForeignKey, Index, Integer, String, Table, Text

from xref.store.tables.tables import metadata

part_extra = Table(
    "part_extra",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("part_id", ForeignKey("part.id", ondelete="CASCADE"), nullable=False),
    Column("label", String(200), nullable=False),
    Column("value", Text, nullable=False),
    Column("position", Integer, nullable=False, default=0),
    Index(None, "part_id"),
    sqlite_autoincrement=True,
)
"""A cell of a column that means nothing to the tool: kept under its heading, in sheet order."""

part_claim = Table(
    "part_claim",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("part_id", ForeignKey("part.id", ondelete="CASCADE"), nullable=False),
    Column("field", String(40), nullable=False),
    Column("value", Text, nullable=False),
    Column("source_id", ForeignKey("source.id"), nullable=True),
    Index(None, "part_id"),
    sqlite_autoincrement=True,
)
"""A fact that contradicts what is on record of the part: kept with whoever says so.

A length is written in millimetres ("20 mm").
"""

price = Table(
    "price",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("part_id", ForeignKey("part.id", ondelete="CASCADE"), nullable=False),
    Column("supplier", String(120), nullable=False, default=""),
    Column("price", String(40), nullable=False, default=""),
    Column("currency", String(10), nullable=False, default=""),
    Column("seen", String(40), nullable=False, default=""),
    Column("note", String(300), nullable=False, default=""),
    Index(None, "part_id"),
    sqlite_autoincrement=True,
)
"""What a supplier asked, as written; ``price`` is "" where only the supplier is known."""

sheet_answer = Table(
    "sheet_answer",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("headings", String(64), nullable=False, unique=True),
    Column("answers", Text, nullable=False),
    Column("at", String(20), nullable=False),
)
"""What a person said of the columns of a list; ``headings`` is the SHA-256 of its headings."""
