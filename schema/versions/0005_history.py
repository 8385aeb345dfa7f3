"""What every command changed."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0005"
down_revision = "0004"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the tables of the history."""
    op.create_table(
        "action",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("at", sa.String(20), nullable=False),
        sa.Column("command", sa.String(60), nullable=False),
        sa.Column("undone", sa.Boolean, nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_action"),
    )
    op.create_table(
        "change",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("action_id", sa.Integer, nullable=False),
        sa.Column("table_name", sa.String(40), nullable=False),
        sa.Column("kind", sa.String(10), nullable=False),
        sa.Column("low", sa.BigInteger, nullable=False),
        sa.Column("high", sa.BigInteger, nullable=False),
        sa.Column("before", sa.Text, nullable=True),
        sa.Column("after", sa.Text, nullable=True),
        sa.PrimaryKeyConstraint("id", name="pk_change"),
        sa.ForeignKeyConstraint(
            ["action_id"], ["action.id"], name="fk_change_action_id_action", ondelete="CASCADE"
        ),
    )
    op.create_index("ix_change_action_id", "change", ["action_id"])
    op.create_index("ix_change_table_name_low", "change", ["table_name", "low"])


def downgrade() -> None:
    """Remove them."""
    op.drop_table("change")
    op.drop_table("action")
