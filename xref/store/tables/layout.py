"""Every table of the store together: import ``metadata`` from here, so that none is missing."""

from __future__ import annotations

from xref.store.tables import bench as bench_tables
from xref.store.tables import history as history_tables
from xref.store.tables import links as link_tables
from xref.store.tables import reading as reading_tables
from xref.store.tables import sheets as sheet_tables
from xref.store.tables.tables import SCHEMA_HEAD, metadata

TABLE_MODULES = (link_tables, sheet_tables, history_tables, bench_tables, reading_tables)
"""Modules that add tables to ``metadata`` by being imported."""

__all__ = ["SCHEMA_HEAD", "TABLE_MODULES", "metadata"]
