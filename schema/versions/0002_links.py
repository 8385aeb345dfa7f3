"""Machines and their serials, what belongs on them, supersessions and interchanges."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None


def _to(table: str, column: str, other: str, cascade: bool = False) -> sa.ForeignKeyConstraint:
    return sa.ForeignKeyConstraint(
        [column],
        [f"{other}.id"],
        name=f"fk_{table}_{column}_{other}",
        ondelete="CASCADE" if cascade else None,
    )


def upgrade() -> None:
    """Make the tables of machines and links."""
    _machines()
    _applicability()
    _supersession()
    _interchange()


def _machines() -> None:
    op.create_table(
        "model",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("maker_id", sa.Integer, nullable=False),
        sa.Column("name", sa.String(80), nullable=False),
        sa.Column("key", sa.String(100), nullable=False),
        sa.Column("prefixes", sa.String(200), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_model"),
        sa.UniqueConstraint("key", name="uq_model_key"),
        _to("model", "maker_id", "maker"),
    )
    op.create_table(
        "machine",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("name", sa.String(80), nullable=False),
        sa.Column("key", sa.String(100), nullable=False),
        sa.Column("model_id", sa.Integer, nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_machine"),
        sa.UniqueConstraint("key", name="uq_machine_key"),
        _to("machine", "model_id", "model"),
    )
    op.create_table(
        "machine_serial",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("machine_id", sa.Integer, nullable=False),
        sa.Column("component", sa.String(40), nullable=False),
        sa.Column("serial", sa.String(60), nullable=False),
        sa.Column("stamped", sa.String(120), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_machine_serial"),
        sa.UniqueConstraint(
            "machine_id", "component", name="uq_machine_serial_machine_id_component"
        ),
        _to("machine_serial", "machine_id", "machine", cascade=True),
    )


def _applicability() -> None:
    op.create_table(
        "applicability",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("part_id", sa.Integer, nullable=False),
        sa.Column("model_id", sa.Integer, nullable=False),
        sa.Column("component", sa.String(40), nullable=False),
        sa.Column("serials", sa.String(300), nullable=False),
        sa.Column("as_found", sa.String(300), nullable=False),
        sa.Column("fits", sa.Boolean, nullable=False),
        sa.Column("assembly", sa.String(80), nullable=False),
        sa.Column("quantity", sa.Float, nullable=True),
        sa.Column("note", sa.String(300), nullable=False),
        sa.Column("source_id", sa.Integer, nullable=True),
        sa.PrimaryKeyConstraint("id", name="pk_applicability"),
        _to("applicability", "part_id", "part", cascade=True),
        _to("applicability", "model_id", "model"),
        _to("applicability", "source_id", "source"),
    )
    for column in ("part_id", "model_id"):
        op.create_index(f"ix_applicability_{column}", "applicability", [column])


def _supersession() -> None:
    op.create_table(
        "supersession",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("old_id", sa.Integer, nullable=False),
        sa.Column("kind", sa.String(10), nullable=False),
        sa.Column("serves_back", sa.Boolean, nullable=False),
        sa.Column("model_id", sa.Integer, nullable=True),
        sa.Column("serials", sa.String(300), nullable=False),
        sa.Column("dated", sa.String(40), nullable=False),
        sa.Column("reason", sa.String(300), nullable=False),
        sa.Column("source_id", sa.Integer, nullable=True),
        sa.PrimaryKeyConstraint("id", name="pk_supersession"),
        _to("supersession", "old_id", "part"),
        _to("supersession", "model_id", "model"),
        _to("supersession", "source_id", "source"),
    )
    op.create_index("ix_supersession_old_id", "supersession", ["old_id"])
    op.create_table(
        "supersession_part",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("supersession_id", sa.Integer, nullable=False),
        sa.Column("part_id", sa.Integer, nullable=False),
        sa.Column("role", sa.String(10), nullable=False),
        sa.Column("quantity", sa.Float, nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_supersession_part"),
        sa.UniqueConstraint(
            "supersession_id",
            "role",
            "part_id",
            name="uq_supersession_part_supersession_id_role_part_id",
        ),
        _to("supersession_part", "supersession_id", "supersession", cascade=True),
        _to("supersession_part", "part_id", "part"),
    )
    op.create_index("ix_supersession_part_part_id", "supersession_part", ["part_id"])


def _interchange() -> None:
    op.create_table(
        "interchange",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("part_id", sa.Integer, nullable=False),
        sa.Column("other_id", sa.Integer, nullable=False),
        sa.Column("grade", sa.String(20), nullable=False),
        sa.Column("both_ways", sa.Boolean, nullable=False),
        sa.Column("note", sa.String(300), nullable=False),
        sa.Column("source_id", sa.Integer, nullable=True),
        sa.PrimaryKeyConstraint("id", name="pk_interchange"),
        sa.UniqueConstraint(
            "part_id", "other_id", "grade", name="uq_interchange_part_id_other_id_grade"
        ),
        _to("interchange", "part_id", "part"),
        _to("interchange", "other_id", "part"),
        _to("interchange", "source_id", "source"),
    )
    op.create_index("ix_interchange_other_id", "interchange", ["other_id"])
    op.create_table(
        "ordering",
        sa.Column("part_id", sa.Integer, nullable=False),
        sa.Column("order_instead", sa.String(120), nullable=False),
        sa.PrimaryKeyConstraint("part_id", name="pk_ordering"),
        _to("ordering", "part_id", "part", cascade=True),
    )


def downgrade() -> None:
    """Remove them."""
    for table in (
        "ordering",
        "interchange",
        "supersession_part",
        "supersession",
        "applicability",
        "machine_serial",
        "machine",
        "model",
    ):
        op.drop_table(table)
