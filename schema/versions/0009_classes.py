"""The parts that share their boundary dimensions, and those that have a size: counted by kind."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0009"
down_revision = "0008"
branch_labels = None
depends_on = None

_KEY = ("bore", "outside", "width", "kind", "type")


def upgrade() -> None:
    """Make the table and count the parts that are there."""
    op.create_table(
        "boundary_class",
        *(sa.Column(n, sa.BigInteger, nullable=False, autoincrement=False) for n in _KEY[:3]),
        sa.Column("kind", sa.String(20), nullable=False),
        sa.Column("type", sa.String(60), nullable=False),
        sa.Column("weight", sa.Float, nullable=False),
        sa.Column("parts", sa.Integer, nullable=False),
        sa.PrimaryKeyConstraint(*_KEY, name="pk_boundary_class"),
    )
    for name in ("outside", "width"):
        op.create_index(f"ix_boundary_class_{name}_kind", "boundary_class", [name, "kind"])
    part = sa.table("part", *map(sa.column, ("id", "boundary_id", "kind", "type", "weight")))
    held = sa.table("boundary", sa.column("id"), *map(sa.column, _KEY[:3]))
    on_them = part.join(held, held.c.id == part.c.boundary_id)
    shared = [*(held.c[n] for n in _KEY[:3]), part.c.kind, part.c.type]
    counted = sa.select(*shared, sa.func.sum(part.c.weight), sa.func.count())
    counted = counted.select_from(on_them).group_by(*shared)
    names = (*_KEY, "weight", "parts")
    made = sa.table("boundary_class", *map(sa.column, names))
    op.execute(sa.insert(made).from_select(names, counted))
    weight = sa.func.sum(part.c.weight)
    for name in _KEY[:3]:
        have = sa.select(sa.literal("size"), part.c.kind + sa.literal(f"|{name}"), weight)
        _count(have.select_from(on_them).where(held.c[name] > 0).group_by(part.c.kind))
    size = sa.table("size", sa.column("part_id"), sa.column("name"))
    named = part.c.kind + sa.literal("|") + size.c.name
    have = sa.select(sa.literal("size"), named, weight)
    _count(have.select_from(part.join(size, size.c.part_id == part.c.id)).group_by(named))


def _count(figures: sa.Select[tuple[str, str, float]]) -> None:
    names = ("what", "value", "weight")
    tally = sa.table("tally", *map(sa.column, names))
    op.execute(sa.insert(tally).from_select(names, figures))


def downgrade() -> None:
    """Remove them: they say nothing that the parts do not."""
    op.drop_table("boundary_class")
    tally = sa.table("tally", sa.column("what"))
    op.execute(sa.delete(tally).where(tally.c.what == "size"))
