"""What a person answered of the columns of a list is kept for lists with the same headings."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0013"
down_revision = "0012"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the table."""
    op.create_table(
        "sheet_answer",
        sa.Column("id", sa.Integer),
        sa.Column("headings", sa.String(64), nullable=False),
        sa.Column("answers", sa.Text, nullable=False),
        sa.Column("at", sa.String(20), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_sheet_answer"),
        sa.UniqueConstraint("headings", name="uq_sheet_answer_headings"),
    )


def downgrade() -> None:
    """Remove it; an older program asks again."""
    op.drop_table("sheet_answer")
