"""What is wanted may be for one machine, and the number of a fact is never given out again.

The numbers of bench items stand on boxes, and those of facts in notes: a fact that is written down
later must not be taken for the one that was removed. SQLite gives out the highest number again
unless a table is told not to; numbers that the history tells of are passed by as well.
"""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0012"
down_revision = "0011"
branch_labels = None
depends_on = None

NUMBERED = (
    "mark",
    "applicability",
    "supersession",
    "interchange",
    "part_extra",
    "part_claim",
    "price",
    "bench_item",
    "wanted",
)
"""The tables whose rows a person names by their numbers."""


def upgrade() -> None:
    """Add the column, and make the tables anew so that they remember the highest number."""
    conn = op.get_bind()
    with op.batch_alter_table("wanted") as batch:
        batch.add_column(sa.Column("machine_id", sa.Integer, nullable=True))
        batch.create_foreign_key("fk_wanted_machine_id_machine", "machine", ["machine_id"], ["id"])
    if conn.dialect.name != "sqlite":
        return
    for table in NUMBERED:
        with op.batch_alter_table(
            table, recreate="always", table_kwargs={"sqlite_autoincrement": True}
        ):
            pass
        _pass_by(conn, table)


def _pass_by(conn: sa.Connection, table: str) -> None:
    """Let numbers follow the highest that there ever was, as far as the history tells."""
    own = sa.table(table, sa.column("id"))
    change = sa.table("change", *map(sa.column, ("table_name", "high")))
    there = conn.scalar(sa.select(sa.func.max(own.c.id))) or 0
    told = conn.scalar(sa.select(sa.func.max(change.c.high)).where(change.c.table_name == table))
    highest = max(int(there), int(told or 0))
    counter = sa.table("sqlite_sequence", sa.column("name"), sa.column("seq"))
    conn.execute(sa.delete(counter).where(counter.c.name == table))
    if highest:
        conn.execute(sa.insert(counter).values(name=table, seq=highest))


def downgrade() -> None:
    """Let numbers be given out again, and say in the note what machine a thing is wanted for."""
    conn = op.get_bind()
    wanted = sa.table("wanted", *map(sa.column, ("id", "machine_id", "note")))
    machine = sa.table("machine", sa.column("id"), sa.column("name"))
    beside = sa.select(wanted.c.id, wanted.c.note, machine.c.name).join(
        machine, machine.c.id == wanted.c.machine_id
    )
    for row in conn.execute(beside).all():
        note = f"{row.note}; for {row.name}" if row.note else f"for {row.name}"
        conn.execute(sa.update(wanted).where(wanted.c.id == row.id).values(note=note[:300]))
    with op.batch_alter_table("wanted") as batch:
        batch.drop_constraint("fk_wanted_machine_id_machine", type_="foreignkey")
        batch.drop_column("machine_id")
    if conn.dialect.name != "sqlite":
        return
    for table in NUMBERED:
        with op.batch_alter_table(
            table, recreate="always", table_kwargs={"sqlite_autoincrement": False}
        ):
            pass
