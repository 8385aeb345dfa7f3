"""Makers, parts, spellings, marks, sizes, sources and the population's figures."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the first tables."""
    _makers_and_sources()
    _parts()
    _what_hangs_on_parts()
    op.create_table(
        "tally",
        sa.Column("what", sa.String(20), nullable=False),
        sa.Column("value", sa.String(200), nullable=False),
        sa.Column("weight", sa.Float, nullable=False),
        sa.PrimaryKeyConstraint("what", "value", name="pk_tally"),
    )


def _makers_and_sources() -> None:
    op.create_table(
        "store_info",
        sa.Column("key", sa.String(40), nullable=False),
        sa.Column("value", sa.String(200), nullable=False),
        sa.PrimaryKeyConstraint("key", name="pk_store_info"),
    )
    op.create_table(
        "maker",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("name", sa.String(120), nullable=False),
        sa.Column("key", sa.String(120), nullable=False),
        sa.Column("is_standard", sa.Boolean, nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_maker"),
        sa.UniqueConstraint("key", name="uq_maker_key"),
    )
    op.create_table(
        "source",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("title", sa.String(200), nullable=False),
        sa.Column("edition", sa.String(80), nullable=False),
        sa.Column("kind", sa.String(40), nullable=False),
        sa.Column("note", sa.String(500), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_source"),
        sa.UniqueConstraint("title", "edition", name="uq_source_title_edition"),
    )


def _parts() -> None:
    op.create_table(
        "boundary",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("bore", sa.BigInteger, nullable=False),
        sa.Column("outside", sa.BigInteger, nullable=False),
        sa.Column("width", sa.BigInteger, nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_boundary"),
        sa.UniqueConstraint("bore", "outside", "width", name="uq_boundary_bore_outside_width"),
    )
    op.create_index("ix_boundary_outside", "boundary", ["outside"])
    op.create_index("ix_boundary_width", "boundary", ["width"])
    op.create_table(
        "part",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("maker_id", sa.Integer, nullable=False),
        sa.Column("number", sa.String(80), nullable=False),
        sa.Column("key", sa.String(100), nullable=False),
        sa.Column("folded", sa.String(100), nullable=False),
        sa.Column("kind", sa.String(20), nullable=False),
        sa.Column("type", sa.String(60), nullable=False),
        sa.Column("words", sa.String(300), nullable=False),
        sa.Column("status", sa.String(20), nullable=False),
        sa.Column("origin", sa.String(10), nullable=False),
        sa.Column("group_key", sa.String(200), nullable=False),
        sa.Column("weight", sa.Float, nullable=False),
        sa.Column("boundary_id", sa.Integer, nullable=True),
        sa.Column("tables_agreeing", sa.Integer, nullable=False),
        sa.Column("note", sa.String(500), nullable=False),
        sa.Column("source_id", sa.Integer, nullable=True),
        sa.PrimaryKeyConstraint("id", name="pk_part"),
        sa.UniqueConstraint("maker_id", "key", name="uq_part_maker_id_key"),
        sa.ForeignKeyConstraint(["maker_id"], ["maker.id"], name="fk_part_maker_id_maker"),
        sa.ForeignKeyConstraint(
            ["boundary_id"], ["boundary.id"], name="fk_part_boundary_id_boundary"
        ),
        sa.ForeignKeyConstraint(["source_id"], ["source.id"], name="fk_part_source_id_source"),
    )
    for column in ("key", "folded", "group_key", "boundary_id"):
        op.create_index(f"ix_part_{column}", "part", [column])


def _what_hangs_on_parts() -> None:
    op.create_table(
        "spelling",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("part_id", sa.Integer, nullable=False),
        sa.Column("text", sa.String(100), nullable=False),
        sa.Column("folded", sa.String(100), nullable=False),
        sa.Column("skeleton", sa.String(100), nullable=False),
        sa.Column("skeleton_reversed", sa.String(100), nullable=False),
        sa.Column("weight", sa.Float, nullable=False),
        sa.Column("role", sa.String(10), nullable=False),
        sa.Column("takes_suffix", sa.Boolean, nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_spelling"),
        sa.ForeignKeyConstraint(
            ["part_id"], ["part.id"], name="fk_spelling_part_id_part", ondelete="CASCADE"
        ),
    )
    for column in ("part_id", "folded", "skeleton", "skeleton_reversed"):
        op.create_index(f"ix_spelling_{column}", "spelling", [column])
    op.create_table(
        "mark",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("part_id", sa.Integer, nullable=False),
        sa.Column("text", sa.String(200), nullable=False),
        sa.Column("role", sa.String(10), nullable=False),
        sa.Column("folded", sa.String(200), nullable=False),
        sa.Column("source_id", sa.Integer, nullable=True),
        sa.PrimaryKeyConstraint("id", name="pk_mark"),
        sa.UniqueConstraint("part_id", "role", "text", name="uq_mark_part_id_role_text"),
        sa.ForeignKeyConstraint(
            ["part_id"], ["part.id"], name="fk_mark_part_id_part", ondelete="CASCADE"
        ),
        sa.ForeignKeyConstraint(["source_id"], ["source.id"], name="fk_mark_source_id_source"),
    )
    op.create_index("ix_mark_folded", "mark", ["folded"])
    op.create_table(
        "size",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("part_id", sa.Integer, nullable=False),
        sa.Column("name", sa.String(20), nullable=False),
        sa.Column("value", sa.BigInteger, nullable=False),
        sa.Column("lower", sa.BigInteger, nullable=True),
        sa.Column("upper", sa.BigInteger, nullable=True),
        sa.PrimaryKeyConstraint("id", name="pk_size"),
        sa.UniqueConstraint("part_id", "name", name="uq_size_part_id_name"),
        sa.ForeignKeyConstraint(
            ["part_id"], ["part.id"], name="fk_size_part_id_part", ondelete="CASCADE"
        ),
    )
    op.create_index("ix_size_name_value", "size", ["name", "value"])


def downgrade() -> None:
    """Remove every table."""
    for table in ("tally", "size", "mark", "spelling", "part", "boundary", "source", "maker"):
        op.drop_table(table)
    op.drop_table("store_info")
