"""Which version of the tables ships: known without reading a row of them."""

from __future__ import annotations

import hashlib

from xref.tables import STANDARDS, table_bytes, table_names

READERS_VERSION = 13
"""Raised by hand when a row reader gives other parts from the same table."""


def tables_version() -> str:
    """A digest of every shipped table and of the readers' version."""
    digest = hashlib.sha256(str(READERS_VERSION).encode())
    for name in table_names(STANDARDS):
        digest.update(name.encode())
        digest.update(table_bytes(name))
    return digest.hexdigest()[:16]


TABLES_VERSION = tables_version()
