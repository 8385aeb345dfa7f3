"""What a spreadsheet says beyond the part itself: odd columns, contradicting claims, prices."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None


def _part(table: str) -> sa.ForeignKeyConstraint:
    return sa.ForeignKeyConstraint(
        ["part_id"], ["part.id"], name=f"fk_{table}_part_id_part", ondelete="CASCADE"
    )


def upgrade() -> None:
    """Make the three tables."""
    op.create_table(
        "part_extra",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("part_id", sa.Integer, nullable=False),
        sa.Column("label", sa.String(200), nullable=False),
        sa.Column("value", sa.Text, nullable=False),
        sa.Column("position", sa.Integer, nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_part_extra"),
        _part("part_extra"),
    )
    op.create_table(
        "part_claim",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("part_id", sa.Integer, nullable=False),
        sa.Column("field", sa.String(40), nullable=False),
        sa.Column("value", sa.Text, nullable=False),
        sa.Column("source_id", sa.Integer, nullable=True),
        sa.PrimaryKeyConstraint("id", name="pk_part_claim"),
        _part("part_claim"),
        sa.ForeignKeyConstraint(
            ["source_id"], ["source.id"], name="fk_part_claim_source_id_source"
        ),
    )
    op.create_table(
        "price",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("part_id", sa.Integer, nullable=False),
        sa.Column("supplier", sa.String(120), nullable=False),
        sa.Column("price", sa.String(40), nullable=False),
        sa.Column("currency", sa.String(10), nullable=False),
        sa.Column("seen", sa.String(40), nullable=False),
        sa.Column("note", sa.String(300), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_price"),
        _part("price"),
    )
    for table in ("part_extra", "part_claim", "price"):
        op.create_index(f"ix_{table}_part_id", table, ["part_id"])


def downgrade() -> None:
    """Remove them."""
    for table in ("price", "part_claim", "part_extra"):
        op.drop_table(table)
