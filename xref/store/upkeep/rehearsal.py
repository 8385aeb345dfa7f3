"""Do a command's writes for show: in the store's own unit of work, or in a copy's."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory

from xref.store.file.failures import on_disk
from xref.store.file.seal import copy_pages
from xref.store.file.sqlite import sqlite_engine
from xref.store.open.engine import Store
from xref.store.write.unit import UnitOfWork

_COPY = "the copy for a preview"


@contextmanager
def rehearsing(store: Store, command: str) -> Iterator[UnitOfWork]:
    """A unit of work whose writes are gone afterwards; never commit it.

    A store that may only be read is copied to a folder for passing things and the copy written
    to. Raises StoreError where the store cannot be read or there is no room for the copy.
    """
    if store.writable:
        with store.writing(command, watched=False) as unit:
            yield unit
        return
    with on_disk(_COPY):
        folder = TemporaryDirectory(prefix="xref-")
    with folder as name:
        path = Path(name) / "store.xref"
        with on_disk(_COPY):
            _copy(store, path)
        rehearsal = Store(sqlite_engine(path), str(path))
        try:
            with rehearsal.writing(command, watched=False) as unit:
                yield unit
        finally:
            rehearsal.close()


def _copy(store: Store, path: Path) -> None:
    with store.reading() as conn, closing(sqlite3.connect(path)) as copy:
        driver = conn.connection.driver_connection
        assert driver is not None
        copy_pages(driver, copy)
