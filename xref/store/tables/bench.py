"""Tables of the bench book: what lies on the bench, and what is wanted."""

from __future__ import annotations

from sqlalchemy import (
    Column,
    Float,
    ForeignKey,
    Index,
    Integer,
    String,
    Table,
    Text,
    UniqueConstraint,
)

from xref.store.tables.tables import metadata

bench_item = Table(
    "bench_item",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("at", String(20), nullable=False),
    Column("place", String(200), nullable=False),
    Column("machine_id", ForeignKey("machine.id"), nullable=True),
    Column("assembly", String(80), nullable=False, default=""),
    Column("asked", Text, nullable=False),
    Column("found", Text, nullable=False, default="{}"),
    Column("note", String(500), nullable=False, default=""),
    Column("part_id", ForeignKey("part.id"), nullable=True),
    Column("odds", Float, nullable=True),
    Column("decided_at", String(20), nullable=False, default=""),
    Column("outcome", String(20), nullable=False, default=""),
    Column("why", String(300), nullable=False, default=""),
    Column("outcome_at", String(20), nullable=False, default=""),
    Index(None, "part_id"),
    sqlite_autoincrement=True,
)
"""One part on the bench; its id is the number on its paper label, and never given out
again. ``asked`` is the question as
typed and ``found`` how it was found (side, position, shims …), both as JSON."""

bench_photo = Table(
    "bench_photo",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("item_id", ForeignKey("bench_item.id", ondelete="CASCADE"), nullable=False),
    Column("sha256", String(64), nullable=False),
    Column("name", String(200), nullable=False),
    UniqueConstraint("item_id", "sha256"),
)
"""A photo, kept in the folder beside the store under the hash of its content."""

wanted = Table(
    "wanted",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("at", String(20), nullable=False),
    Column("part_id", ForeignKey("part.id"), nullable=True),
    Column("need", String(200), nullable=False),
    Column("quantity", Float, nullable=False, default=1.0),
    Column("supplier", String(120), nullable=False, default=""),
    Column("price", String(40), nullable=False, default=""),
    Column("currency", String(10), nullable=False, default=""),
    Column("seen", String(20), nullable=False, default=""),
    Column("note", String(300), nullable=False, default=""),
    Column("done_at", String(20), nullable=False, default=""),
    Column("machine_id", ForeignKey("machine.id"), nullable=True),
    Index(None, "part_id"),
    sqlite_autoincrement=True,
)
"""Something to get, perhaps for one machine. ``price`` is the text of one piece's price, exact."""
