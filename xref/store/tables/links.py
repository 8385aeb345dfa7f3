"""Tables of machines, of what belongs on them, and of how numbers follow one another."""

from __future__ import annotations

from sqlalchemy import (
    Boolean,
    Column,
    Float,
    ForeignKey,
    Index,
    Integer,
    String,
    Table,
    UniqueConstraint,
)

from xref.domain.serial_text import EVERY, MOST_STORED
from xref.store.tables.tables import metadata

model = Table(
    "model",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("maker_id", ForeignKey("maker.id"), nullable=False),
    Column("name", String(80), nullable=False),
    Column("key", String(100), nullable=False),
    Column("prefixes", String(200), nullable=False, default=""),
    UniqueConstraint("key"),
)
"""``prefixes`` lists the serial prefixes in order of build, separated by spaces; "" for none."""

machine = Table(
    "machine",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("name", String(80), nullable=False),
    Column("key", String(100), nullable=False),
    Column("model_id", ForeignKey("model.id"), nullable=False),
    UniqueConstraint("key"),
)

machine_serial = Table(
    "machine_serial",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("machine_id", ForeignKey("machine.id", ondelete="CASCADE"), nullable=False),
    Column("component", String(40), nullable=False),
    Column("serial", String(60), nullable=False),
    Column("stamped", String(120), nullable=False, default=""),
    UniqueConstraint("machine_id", "component"),
)
"""One serial of a machine: which component it counts, and where it is stamped."""

applicability = Table(
    "applicability",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("part_id", ForeignKey("part.id", ondelete="CASCADE"), nullable=False),
    Column("model_id", ForeignKey("model.id"), nullable=False),
    Column("component", String(40), nullable=False),
    Column("serials", String(MOST_STORED), nullable=False),
    Column("as_found", String(300), nullable=False, default=""),
    Column("fits", Boolean, nullable=False, default=True),
    Column("assembly", String(80), nullable=False, default=""),
    Column("quantity", Float, nullable=True),
    Column("note", String(300), nullable=False, default=""),
    Column("source_id", ForeignKey("source.id"), nullable=True),
    Index(None, "part_id"),
    Index(None, "model_id"),
    sqlite_autoincrement=True,
)
"""``serials`` is as ``domain.serial_text`` writes it, ``as_found`` as the book has it."""

supersession = Table(
    "supersession",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("old_id", ForeignKey("part.id"), nullable=False),
    Column("kind", String(10), nullable=False),
    Column("serves_back", Boolean, nullable=False, default=False),
    Column("model_id", ForeignKey("model.id"), nullable=True),
    Column("serials", String(MOST_STORED), nullable=False, default=EVERY),
    Column("as_found", String(300), nullable=False, default=""),
    Column("dated", String(40), nullable=False, default=""),
    Column("reason", String(300), nullable=False, default=""),
    Column("source_id", ForeignKey("source.id"), nullable=True),
    Index(None, "old_id"),
    sqlite_autoincrement=True,
)
"""One step: the old number and how its new ones take its place (one, set, choice)."""

NEW, WITH = "new", "with"

supersession_part = Table(
    "supersession_part",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("supersession_id", ForeignKey("supersession.id", ondelete="CASCADE"), nullable=False),
    Column("part_id", ForeignKey("part.id"), nullable=False),
    Column("role", String(10), nullable=False),
    Column("quantity", Float, nullable=False, default=1.0),
    UniqueConstraint("supersession_id", "role", "part_id"),
    Index(None, "part_id"),
)
"""``role`` is NEW, or WITH for a companion that must be changed together."""

interchange = Table(
    "interchange",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("part_id", ForeignKey("part.id"), nullable=False),
    Column("other_id", ForeignKey("part.id"), nullable=False),
    Column("grade", String(20), nullable=False),
    Column("both_ways", Boolean, nullable=False, default=True),
    Column("note", String(300), nullable=False, default=""),
    Column("source_id", ForeignKey("source.id"), nullable=True),
    UniqueConstraint("part_id", "other_id", "grade"),
    Index(None, "other_id"),
    sqlite_autoincrement=True,
)
"""The first part serves for the other; ``both_ways``: and the other for it."""

ordering = Table(
    "ordering",
    metadata,
    Column("part_id", ForeignKey("part.id", ondelete="CASCADE"), primary_key=True),
    Column("order_instead", String(120), nullable=False, default=""),
)
"""What to order where a part is not sold separately: an assembly or a kit, as the book writes."""
