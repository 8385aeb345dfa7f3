"""The scan's bitmaps in the place of two skeleton columns; ids of spellings are never reused."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"
branch_labels = None
depends_on = None

_SKELETONS = ("skeleton", "skeleton_reversed")


def upgrade() -> None:
    """Make the scan's tables, empty: they are filled when the store is next written."""
    op.create_table(
        "scan_block",
        sa.Column("block", sa.Integer, nullable=False, autoincrement=False),
        sa.Column("upto", sa.Integer, nullable=False),
        sa.Column("stamp", sa.String(16), nullable=False),
        sa.PrimaryKeyConstraint("block", name="pk_scan_block"),
    )
    op.create_table(
        "scan_plane",
        sa.Column("plane", sa.Integer, nullable=False, autoincrement=False),
        sa.Column("block", sa.Integer, nullable=False, autoincrement=False),
        sa.Column("bits", sa.LargeBinary, nullable=False),
        sa.PrimaryKeyConstraint("plane", "block", name="pk_scan_plane"),
    )
    for column in _SKELETONS:
        op.drop_index(f"ix_spelling_{column}", "spelling")
    with op.batch_alter_table(
        "spelling", recreate="auto", table_kwargs={"sqlite_autoincrement": True}
    ) as batch:
        for column in _SKELETONS:
            batch.drop_column(column)


def downgrade() -> None:
    """Put the two columns back and fill them."""
    op.drop_table("scan_plane")
    op.drop_table("scan_block")
    with op.batch_alter_table("spelling") as batch:
        for column in _SKELETONS:
            batch.add_column(sa.Column(column, sa.String(100), nullable=False, server_default=""))
    _fill()
    with op.batch_alter_table("spelling") as batch:
        for column in _SKELETONS:
            batch.alter_column(column, server_default=None)
            batch.create_index(f"ix_spelling_{column}", [column])


def _fill() -> None:
    from xref.domain.number import skeleton

    spelling = sa.table(
        "spelling", sa.column("id"), sa.column("folded"), *map(sa.column, _SKELETONS)
    )
    conn = op.get_bind()
    rows = conn.execute(sa.select(spelling.c.id, spelling.c.folded)).all()
    filled = [
        {"row_id": ident, "skeleton": bones, "skeleton_reversed": bones[::-1]}
        for ident, bones in ((row[0], skeleton(row[1])) for row in rows)
    ]
    if filled:
        conn.execute(sa.update(spelling).where(spelling.c.id == sa.bindparam("row_id")), filled)
