"""The unit a size without one is taken in, kept for the whole store."""

from __future__ import annotations

from sqlalchemy import Connection, delete, insert, select

from xref.domain.size import BARE_UNITS
from xref.errors import InputError
from xref.store.tables.tables import store_info
from xref.store.write.unit import UnitOfWork

_KEY = "unit"


def default_unit(conn: Connection) -> str:
    """The unit a bare number is taken in, one of ``BARE_UNITS``; millimetres until set."""
    query = select(store_info.c.value).where(store_info.c.key == _KEY)
    return str(conn.scalar(query) or BARE_UNITS[0])


def set_default_unit(unit: UnitOfWork, name: str) -> None:
    """Take bare numbers in ``name`` from now on; sizes written down before stay as they are.

    It is no part of the history: no undo brings the old one back. Raises InputError for a name that
    is none of ``BARE_UNITS``.
    """
    if name not in BARE_UNITS:
        raise InputError(
            f"bare numbers are taken in {' or '.join(BARE_UNITS)}", "Write one of the two."
        )
    unit.conn.execute(delete(store_info).where(store_info.c.key == _KEY))
    unit.conn.execute(insert(store_info).values(key=_KEY, value=name))
