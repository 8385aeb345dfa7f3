"""Tell the patterns of a standard's parts from others: the population's figures are made anew.

A standard's row leaves out no size of its thing, a part that somebody wrote down may. The figures
follow from the parts: without their count the next refresh of the standards' rows makes them all.
"""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0011"
down_revision = "0010"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Let the figures be made anew."""
    _forget()


def downgrade() -> None:
    """The same: an older program knows no such patterns."""
    _forget()


def _forget() -> None:
    tally = sa.table("tally", sa.column("what"))
    op.execute(sa.delete(tally).where(tally.c.what == "things"))
