"""Alembic's entry: runs the migrations on the connection that the store hands over."""

from __future__ import annotations

from alembic import context

from xref.store.tables.layout import metadata

config = context.config
connection = config.attributes["connection"]
context.configure(
    connection=connection,
    target_metadata=metadata,
    render_as_batch=True,
    transactional_ddl=True,
    transaction_per_migration=False,
)
context.run_migrations()
