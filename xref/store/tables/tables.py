"""The tables of the store, in plain SQL types that SQLite and PostgreSQL both take."""

from __future__ import annotations

from sqlalchemy import (
    BigInteger,
    Boolean,
    Column,
    Float,
    ForeignKey,
    Index,
    Integer,
    LargeBinary,
    MetaData,
    String,
    Table,
    UniqueConstraint,
)

SCHEMA_HEAD = "0014"
"""The newest migration this package ships; a test holds it against schema/."""

NAMING = {
    "ix": "ix_%(table_name)s_%(column_0_N_name)s",
    "uq": "uq_%(table_name)s_%(column_0_N_name)s",
    "fk": "fk_%(table_name)s_%(column_0_name)s_%(referred_table_name)s",
    "pk": "pk_%(table_name)s",
}
"""Every constraint has a name: a batch migration loses those that have none."""

metadata = MetaData(naming_convention=NAMING)

store_info = Table(
    "store_info",
    metadata,
    Column("key", String(40), primary_key=True),
    Column("value", String(200), nullable=False),
)

maker = Table(
    "maker",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("name", String(120), nullable=False),
    Column("key", String(120), nullable=False),
    Column("is_standard", Boolean, nullable=False, default=False),
    UniqueConstraint("key"),
)
"""The maker with the empty name stands for "no maker known"."""

source = Table(
    "source",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("title", String(200), nullable=False),
    Column("edition", String(80), nullable=False, default=""),
    Column("kind", String(40), nullable=False, default=""),
    Column("note", String(500), nullable=False, default=""),
    UniqueConstraint("title", "edition"),
)

NANOMETRES = {"counts": "nanometres"}
"""What a column of lengths counts, said with the column: its name alone does not tell, for a kept
cell and a claim have a value too."""

source_title = source.c.title + " " + source.c.edition
"""A source as it is named; a space stands behind a title without an edition."""

boundary = Table(
    "boundary",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("bore", BigInteger, nullable=False, default=0, info=NANOMETRES),
    Column("outside", BigInteger, nullable=False, default=0, info=NANOMETRES),
    Column("width", BigInteger, nullable=False, default=0, info=NANOMETRES),
    UniqueConstraint("bore", "outside", "width"),
    Index(None, "outside"),
    Index(None, "width"),
)
"""Distinct boundary dimensions in nanometres; 0 means not known (no part is 0 wide)."""

boundary_class = Table(
    "boundary_class",
    metadata,
    Column("bore", BigInteger, primary_key=True, autoincrement=False),
    Column("outside", BigInteger, primary_key=True, autoincrement=False),
    Column("width", BigInteger, primary_key=True, autoincrement=False),
    Column("kind", String(20), primary_key=True),
    Column("type", String(60), primary_key=True),
    Column("weight", Float, nullable=False),
    Column("parts", Integer, nullable=False),
    Index(None, "outside", "kind"),
    Index(None, "width", "kind"),
)
"""How many parts of a kind and type share their boundary dimensions, and their weight: kept exact
by every write, so that a search by size need not look at the parts."""

part = Table(
    "part",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("maker_id", ForeignKey("maker.id"), nullable=False),
    Column("number", String(80), nullable=False),
    Column("key", String(100), nullable=False),
    Column("folded", String(100), nullable=False),
    Column("kind", String(20), nullable=False, default=""),
    Column("type", String(60), nullable=False, default=""),
    Column("words", String(300), nullable=False, default=""),
    Column("status", String(20), nullable=False, default="current"),
    Column("origin", String(10), nullable=False),
    Column("group_key", String(200), nullable=False),
    Column("weight", Float, nullable=False),
    Column("boundary_id", ForeignKey("boundary.id"), nullable=True),
    Column("tables_agreeing", Integer, nullable=False, default=0),
    Column("note", String(500), nullable=False, default=""),
    Column("source_id", ForeignKey("source.id"), nullable=True),
    UniqueConstraint("maker_id", "key"),
    Index(None, "key"),
    Index(None, "folded"),
    Index(None, "group_key"),
    Index(None, "boundary_id"),
)

spelling = Table(
    "spelling",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("part_id", ForeignKey("part.id", ondelete="CASCADE"), nullable=False),
    Column("text", String(100), nullable=False),
    Column("folded", String(100), nullable=False),
    Column("weight", Float, nullable=False),
    Column("role", String(10), nullable=False),
    Column("takes_suffix", Boolean, nullable=False, default=False),
    Index(None, "part_id"),
    Index(None, "folded"),
    sqlite_autoincrement=True,
)
"""Every text a mark may have been: the number, its aliases, number marks.

An id is never given out twice, so that what the scan holds of one that is gone leads nowhere.
"""

scan_block = Table(
    "scan_block",
    metadata,
    Column("block", Integer, primary_key=True, autoincrement=False),
    Column("upto", Integer, nullable=False),
    Column("stamp", String(16), nullable=False),
)
"""Spellings laid out for the scan, by blocks of ids; ``stamp`` is drawn afresh at each layout."""

scan_plane = Table(
    "scan_plane",
    metadata,
    Column("plane", Integer, primary_key=True, autoincrement=False),
    Column("block", Integer, primary_key=True, autoincrement=False),
    Column("bits", LargeBinary, nullable=False),
)
"""One bitmap over a block: which of its spellings have a certain character at a certain place."""

mark = Table(
    "mark",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("part_id", ForeignKey("part.id", ondelete="CASCADE"), nullable=False),
    Column("text", String(200), nullable=False),
    Column("role", String(10), nullable=False),
    Column("folded", String(200), nullable=False),
    Column("source_id", ForeignKey("source.id"), nullable=True),
    UniqueConstraint("part_id", "role", "text"),
    Index(None, "folded"),
    sqlite_autoincrement=True,
)
"""What is on the metal. The number of a mark, as of every fact that is removed by its number, is
never given out twice: a note of it would mean another."""

size = Table(
    "size",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("part_id", ForeignKey("part.id", ondelete="CASCADE"), nullable=False),
    Column("name", String(20), nullable=False),
    Column("value", BigInteger, nullable=False, info=NANOMETRES),
    Column("lower", BigInteger, nullable=True, info=NANOMETRES),
    Column("upper", BigInteger, nullable=True, info=NANOMETRES),
    UniqueConstraint("part_id", "name"),
    Index(None, "name", "value"),
)
"""Sizes other than the boundary dimensions, in nanometres (counts as they are)."""

tally = Table(
    "tally",
    metadata,
    Column("what", String(20), primary_key=True),
    Column("value", String(200), primary_key=True),
    Column("weight", Float, nullable=False),
)
"""The population in figures, kept exact by every write: patterns, characters, words."""

alembic_version = Table(
    "alembic_version", MetaData(), Column("version_num", String(32), primary_key=True)
)
"""Alembic's own table, named here so that reading it needs no Alembic."""
