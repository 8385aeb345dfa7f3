"""How the user reads marks."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0007"
down_revision = "0006"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the table of readings."""
    op.create_table(
        "reading_count",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("true_char", sa.String(1), nullable=False),
        sa.Column("read_char", sa.String(1), nullable=False),
        sa.Column("count", sa.Float, nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_reading_count"),
        sa.UniqueConstraint("true_char", "read_char", name="uq_reading_count_true_char_read_char"),
    )


def downgrade() -> None:
    """Remove it."""
    op.drop_table("reading_count")
