"""Every table of the store together: import ``metadata`` from here, so that none is missing."""

from __future__ import annotations

from xref.store import bench_tables, history_tables, link_tables, reading_tables, sheet_tables
from xref.store.tables import SCHEMA_HEAD, metadata

TABLE_MODULES = (link_tables, sheet_tables, history_tables, bench_tables, reading_tables)
"""Modules that add tables to ``metadata`` by being imported."""

__all__ = ["SCHEMA_HEAD", "TABLE_MODULES", "metadata"]
