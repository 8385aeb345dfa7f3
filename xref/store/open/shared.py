"""A store on a server that several share: how it is connected to, and who writes to it."""

from __future__ import annotations

import socket
from collections.abc import Mapping

from sqlalchemy import URL, Connection, Engine, create_engine, make_url
from sqlalchemy.exc import DBAPIError

from xref.errors import BusyStoreError, StoreError
from xref.settings import member_name
from xref.store.file.failures import without_password
from xref.store.file.files import APPLICATION_ID
from xref.store.file.sqlite import BUSY_SECONDS

SHARED = "postgresql+psycopg://"
"""How the address of a shared store begins. No other server is known to keep what it is given, and
a file opened by a URL would go without its locks."""

IDLE_MINUTES = 10
"""How long a client that stopped in the middle of a write may hold the others up before the server
takes back what it wrote. Longer than a large list is read between two writes; judged."""

SETTINGS = {
    "lock_timeout": f"{BUSY_SECONDS}s",
    "idle_in_transaction_session_timeout": f"{IDLE_MINUTES}min",
    "client_encoding": "UTF8",
}
"""What every connection is told; the names are PostgreSQL's own (its manual, "Client Connection
Defaults"). An address that sets its own ``options`` keeps them as well."""

NAMED = "xref "
"""How a connection's name begins in the server's list of who is there; who it is follows."""

UNICODE = "UTF8"


def shared_engine(address: str) -> Engine:
    """An engine on the database at ``address``, with the limits that let nobody wait for ever.

    Raises StoreError for an address that is none, and where the driver is missing.
    """
    where = without_password(address)
    if not address.startswith(SHARED):
        raise StoreError(
            f"{where} is no address of a store",
            f"A shared store is {SHARED}…; a file is named by its path alone.",
        )
    try:
        url = make_url(address)
        return create_engine(url, connect_args=_told(url), pool_pre_ping=True)
    except ModuleNotFoundError as error:
        raise StoreError(
            f"a shared store needs the Python package {error.name}",
            "Install it (pip install 'psycopg[binary]') and try again.",
        ) from None
    except Exception as error:
        raise StoreError(f"{where} is no address of a store", "See --store in the help.") from error


def _told(url: URL) -> Mapping[str, object]:
    """What the driver is told beside the address."""
    own = str(url.query.get("options", ""))
    settings = " ".join(f"-c {name}={value}" for name, value in SETTINGS.items())
    return {
        "options": f"{settings} {own}".strip(),
        "application_name": f"{NAMED}{member_name()}@{socket.gethostname()}"[:63],
        "connect_timeout": 10,
        "keepalives_idle": 30,
    }


def refuse_other_encodings(conn: Connection, where: str) -> None:
    """Raise StoreError where the database does not keep text as UTF-8: it would lose signs."""
    held = conn.exec_driver_sql("SHOW server_encoding").scalar()
    if held != UNICODE:
        raise StoreError(
            f"the database {where} keeps its text as {held}, which has not every sign",
            "Make one with: createdb --encoding UTF8 --template template0 NAME",
        )


def read_one_state(conn: Connection) -> Connection:
    """Let ``conn`` see the store as it is at its first look, whoever writes meanwhile."""
    return conn.execution_options(isolation_level="REPEATABLE READ", postgresql_readonly=True)


def let_in(conn: Connection, where: str, patient: bool = True) -> None:
    """Wait for the one place for a writer, as SQLite does by itself, and take it until the commit.

    Else a spelling whose id was given out first but kept last would be missed by the scan. Making
    a store and moving its layout take the same place. Raises StoreError, which names who is
    writing, where it is not free in time (at once, unless ``patient``).
    """
    if conn.dialect.name != "postgresql":
        return
    place = f"pg_{'' if patient else 'try_'}advisory_xact_lock({APPLICATION_ID})"
    try:
        free = conn.exec_driver_sql(f"SELECT {place}").scalar()
    except DBAPIError as error:
        if getattr(error.orig, "sqlstate", "") != LOCK_NOT_AVAILABLE:
            raise
        conn.rollback()
        raise BusyStoreError(*_busy(conn, where)) from error
    if free is False:
        raise BusyStoreError(*_busy(conn, where))


LOCK_NOT_AVAILABLE = "55P03"
"""The server's code for a lock that was not had in time (its manual, appendix A)."""


def _busy(conn: Connection, where: str) -> tuple[str, str]:
    found = conn.exec_driver_sql(
        "SELECT a.application_name, to_char(a.xact_start AT TIME ZONE 'UTC', 'HH24:MI')"
        " FROM pg_locks l JOIN pg_stat_activity a USING (pid)"
        " WHERE l.locktype = 'advisory' AND l.granted"
        f" AND l.objid = {APPLICATION_ID} AND a.pid <> pg_backend_pid()"
        " AND a.datname = current_database()"
    ).first()
    name = str(found[0]).removeprefix(NAMED) if found and found[0] else "another program"
    since = f" since {found[1]} UTC" if found and found[1] else ""
    return (
        f"{name} is writing to the store {where}{since}",
        f"Try again in a moment; a write that has stopped is taken back after {IDLE_MINUTES} "
        "minutes.",
    )
