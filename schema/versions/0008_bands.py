"""Bitmaps laid out by bands of length: those of the old order are thrown away."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0008"
down_revision = "0007"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Empty the scan's tables: they are filled when the store is next written."""
    for table in ("scan_plane", "scan_block"):
        op.execute(sa.delete(sa.table(table)))


def downgrade() -> None:
    """The same: the older order cannot be read from the newer one."""
    upgrade()
