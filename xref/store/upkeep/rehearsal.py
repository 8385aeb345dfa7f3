"""Do a command's writes for show: in the store's own unit of work, or in a copy's."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from shutil import disk_usage
from tempfile import TemporaryDirectory, gettempdir

from xref.store.file.failures import on_disk
from xref.store.file.seal import copy_pages
from xref.store.file.sqlite import sqlite_engine
from xref.store.open.engine import Store
from xref.store.write.unit import UnitOfWork

MOST_COPIED = 500_000_000
"""Bytes of a store that is copied to be written to for show: some two seconds. Judged."""

_COPY = "the copy for a preview"


@contextmanager
def rehearsing(store: Store, command: str) -> Iterator[UnitOfWork]:
    """A unit of work whose writes are gone afterwards; never commit it.

    The store is copied to a folder for passing things and the copy written to: nobody who writes
    meanwhile has to wait. Only a store that may be written and cannot well be copied is written
    to itself. Raises StoreError where the store cannot be read, or can be neither.
    """
    if store.writable and not _copies_well(store):
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


def _copies_well(store: Store) -> bool:
    """Whether the store is one file, small enough, with room for a copy that grows."""
    if store.engine.dialect.name != "sqlite":
        return False
    try:
        size = Path(store.where).stat().st_size
        return size <= MOST_COPIED and disk_usage(gettempdir()).free > 3 * size
    except OSError:
        return False


def _copy(store: Store, path: Path) -> None:
    with store.reading() as conn, closing(sqlite3.connect(path)) as copy:
        driver = conn.connection.driver_connection
        assert driver is not None
        copy_pages(driver, copy)
