"""The bench book and what is wanted."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0006"
down_revision = "0005"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the tables of the bench book."""
    op.create_table(
        "bench_item",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("at", sa.String(20), nullable=False),
        sa.Column("place", sa.String(200), nullable=False),
        sa.Column("machine_id", sa.Integer, nullable=True),
        sa.Column("assembly", sa.String(80), nullable=False),
        sa.Column("asked", sa.Text, nullable=False),
        sa.Column("found", sa.Text, nullable=False),
        sa.Column("note", sa.String(500), nullable=False),
        sa.Column("part_id", sa.Integer, nullable=True),
        sa.Column("odds", sa.Float, nullable=True),
        sa.Column("decided_at", sa.String(20), nullable=False),
        sa.Column("outcome", sa.String(20), nullable=False),
        sa.Column("why", sa.String(300), nullable=False),
        sa.Column("outcome_at", sa.String(20), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_bench_item"),
        sa.ForeignKeyConstraint(
            ["machine_id"], ["machine.id"], name="fk_bench_item_machine_id_machine"
        ),
        sa.ForeignKeyConstraint(["part_id"], ["part.id"], name="fk_bench_item_part_id_part"),
    )
    op.create_index("ix_bench_item_part_id", "bench_item", ["part_id"])
    op.create_table(
        "bench_photo",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("item_id", sa.Integer, nullable=False),
        sa.Column("sha256", sa.String(64), nullable=False),
        sa.Column("name", sa.String(200), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_bench_photo"),
        sa.UniqueConstraint("item_id", "sha256", name="uq_bench_photo_item_id_sha256"),
        sa.ForeignKeyConstraint(
            ["item_id"],
            ["bench_item.id"],
            name="fk_bench_photo_item_id_bench_item",
            ondelete="CASCADE",
        ),
    )
    op.create_table(
        "wanted",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("at", sa.String(20), nullable=False),
        sa.Column("part_id", sa.Integer, nullable=True),
        sa.Column("need", sa.String(200), nullable=False),
        sa.Column("quantity", sa.Float, nullable=False),
        sa.Column("supplier", sa.String(120), nullable=False),
        sa.Column("price", sa.String(40), nullable=False),
        sa.Column("currency", sa.String(10), nullable=False),
        sa.Column("seen", sa.String(20), nullable=False),
        sa.Column("note", sa.String(300), nullable=False),
        sa.Column("done_at", sa.String(20), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_wanted"),
        sa.ForeignKeyConstraint(["part_id"], ["part.id"], name="fk_wanted_part_id_part"),
    )
    op.create_index("ix_wanted_part_id", "wanted", ["part_id"])


def downgrade() -> None:
    """Remove them."""
    for table in ("wanted", "bench_photo", "bench_item"):
        op.drop_table(table)
