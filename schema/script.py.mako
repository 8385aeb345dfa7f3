"""${message}"""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = ${repr(up_revision)}
down_revision = ${repr(down_revision)}
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Move the store up by this step, with its data."""
    ${upgrades if upgrades else "raise NotImplementedError"}


def downgrade() -> None:
    """Take this step back, with the data."""
    ${downgrades if downgrades else "raise NotImplementedError"}
