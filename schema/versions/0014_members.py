"""The history knows who gave a command, in a store that several share."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0014"
down_revision = "0013"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Add the column; of older commands it is not known who gave them."""
    with op.batch_alter_table("action") as batch:
        batch.add_column(sa.Column("member", sa.String(40), nullable=False, server_default=""))
    with op.batch_alter_table("action") as batch:
        batch.alter_column("member", server_default=None, existing_type=sa.String(40))


def downgrade() -> None:
    """Remove it."""
    with op.batch_alter_table("action") as batch:
        batch.drop_column("member")
