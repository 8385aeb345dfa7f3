"""How a SQLite store is connected to: transactions that begin when we say so, and who waits."""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from urllib.parse import quote

from sqlalchemy import Connection, Engine, create_engine, event
from sqlalchemy.pool import QueuePool

from xref.store.file.files import log_beside

BUSY_SECONDS = 60
"""How long a writer waits for its turn: longer than an import of half a million rows. Judged."""
WRITE = "xref_write"
"""The option of a connection that is going to write."""


def sqlite_engine(path: Path, writable: bool = True) -> Engine:
    """An engine on a SQLite file whose transactions begin when we say so.

    The stock driver commits DDL by itself and turns reads into writes: it is told to keep out
    (isolation_level None), writers begin at once (BEGIN IMMEDIATE), readers plainly.
    """
    address = f"file:{quote(os.fsencode(path.resolve()))}?{_mode(path, writable)}"

    def connect() -> sqlite3.Connection:
        connection = sqlite3.connect(
            address, uri=True, timeout=BUSY_SECONDS, isolation_level=None, check_same_thread=False
        )
        connection.execute("PRAGMA foreign_keys=ON")
        return connection

    engine = create_engine("sqlite+pysqlite://", creator=connect, poolclass=QueuePool)

    @event.listens_for(engine, "begin")
    def _on_begin(conn: Connection) -> None:
        write = conn.get_execution_options().get(WRITE)
        if write:
            # Of a store too large to be looked through, at least no damaged page is written over.
            conn.exec_driver_sql("PRAGMA cell_size_check=ON")
        conn.exec_driver_sql("BEGIN IMMEDIATE" if write else "BEGIN")

    return engine


def _mode(path: Path, writable: bool) -> str:
    """How SQLite is to open the file.

    A store that may not be written has no place for the files that WAL keeps beside it, so it is
    read as one that does not change; unless a log is there, which means somebody is writing.
    """
    if writable:
        return "mode=rw"
    return "mode=ro" if log_beside(path) else "immutable=1"


@contextmanager
def waiting(conn: Connection, seconds: int | None) -> Iterator[None]:
    """Let SQLite wait so long for another writer inside (None: as long as ever).

    A server has its own way.
    """
    driver = conn.connection.driver_connection
    if seconds is None or conn.dialect.name != "sqlite" or driver is None:
        yield
        return
    driver.execute(f"PRAGMA busy_timeout={seconds * 1000}")
    try:
        yield
    finally:
        driver.execute(f"PRAGMA busy_timeout={int(BUSY_SECONDS * 1000)}")
