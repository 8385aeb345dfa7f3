"""The table of how this store's user reads marks."""

from __future__ import annotations

from sqlalchemy import Column, Float, Integer, String, Table, UniqueConstraint

from xref.store.tables.tables import metadata

reading_count = Table(
    "reading_count",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("true_char", String(1), nullable=False),
    Column("read_char", String(1), nullable=False),
    Column("count", Float, nullable=False),
    UniqueConstraint("true_char", "read_char"),
)
"""How often ``read_char`` was read where ``true_char`` was struck, by decided bench items."""
