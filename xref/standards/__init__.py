"""The standards' tables as parts, and what else is read from published tables."""

from __future__ import annotations

from xref.standards.families import standard_parts, tables_version
from xref.standards.lookup import by_dimension_series, find

TABLES_VERSION = tables_version()

__all__ = ["TABLES_VERSION", "by_dimension_series", "find", "standard_parts"]
