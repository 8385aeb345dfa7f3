"""Tables of what every command changed, so that it can be shown and taken back."""

from __future__ import annotations

from sqlalchemy import BigInteger, Boolean, Column, ForeignKey, Index, Integer, String, Table, Text

from xref.store.tables.tables import metadata

action = Table(
    "action",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("at", String(20), nullable=False),
    Column("command", String(60), nullable=False),
    Column("undone", Boolean, nullable=False, default=False),
    Column("member", String(40), nullable=False, default=""),
)
"""One command that changed something; ``at`` is UTC to the second, ISO 8601. ``member`` is who gave
it in a store that several share, "" in a store of one's own."""

change = Table(
    "change",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("action_id", ForeignKey("action.id", ondelete="CASCADE"), nullable=False),
    Column("table_name", String(40), nullable=False),
    Column("kind", String(10), nullable=False),
    Column("low", BigInteger, nullable=False),
    Column("high", BigInteger, nullable=False),
    Column("before", Text, nullable=True),
    Column("after", Text, nullable=True),
    Index(None, "action_id"),
    Index(None, "table_name", "low"),
)
"""One change: ``insert`` of the rows with ids low to high, or ``update`` or ``delete`` of the row
``low``, with the row before and after as JSON."""
