"""Turn a database's complaint into one clear line."""

from __future__ import annotations

import sqlite3
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from traceback import walk_tb

from sqlalchemy import Engine
from sqlalchemy.exc import DBAPIError
from sqlalchemy.exc import TimeoutError as PoolTimeout

from xref.errors import BusyStoreError, StoreError

_DAMAGED = ("is damaged", "Do not write to it; put back a copy with xref restore.")
_SAID = (
    ("locked", "is in use by another program that is writing", "Try again in a moment."),
    ("full", "could not be written: the disk is full", "Make room, then run the command again."),
    ("readonly", "is read-only", "Give yourself the right to write it, or use --store elsewhere."),
    ("malformed", *_DAMAGED),
    ("could not decode", *_DAMAGED),
    ("file is not a database", *_DAMAGED),
    ("unsupported file format", *_DAMAGED),
    ("not a database", "is not a store", "Give the path of a store, or of a file not yet there."),
    ("unable to open", "could not be opened", "Check that the folder is there and may be written."),
    ("disk i/o", "could not be read or written", "Check the disk and its space, then try again."),
    ("no such table", *_DAMAGED),
    ("no such column", *_DAMAGED),
)


_SERVER_SAID = {
    "28": ("lets nobody in by that name or password", "See who may connect, and with which."),
    "3D": ("is not there: no such database", "Make it: createdb --encoding UTF8 NAME"),
    "42501": ("does not let you do that", "Ask whoever keeps the server for the right to it."),
    "53100": ("could not be written: the server's disk is full", "Make room on the server."),
    "53300": ("has no room for one more who connects", "Try again in a moment."),
    "25006": ("may only be read", "Ask whoever keeps the server for the right to write."),
    "40": ("was written by another meanwhile", "Run the command again."),
    "55P03": ("is in use by another who is writing", "Try again in a moment."),
    "25P03": ("took back what was begun: it stood still too long", "Run the command again."),
    "57P": ("was stopped, or starts just now", "Try again in a moment."),
    "22": ("could not take what was written", "Look for a sign or a figure that is out of range."),
}
"""What the server's codes mean, by their beginnings (PostgreSQL's manual, appendix A)."""
_NO_SERVER = (
    "does not answer",
    "See that the server runs, that its name and port are right, and that the network is there.",
)


class BrokenSealError(StoreError):
    """The file is not as this program left it, though SQLite can read it."""


def broken_seal(where: str) -> BrokenSealError:
    """The error for a store whose file does not fit its seal."""
    return BrokenSealError(
        f"the store {where} is damaged, or another program wrote to it",
        "Put back a copy with xref restore, or keep it as it is with xref check --mend.",
    )


def without_password(url: str) -> str:
    """The address of a shared store as it may be shown: without who connects, and how.

    What stands behind a ``?`` may be a password as well, and goes too.
    """
    scheme, _, rest = url.partition("://")
    return f"{scheme}://{rest.partition('?')[0].rsplit('@', 1)[-1]}"


def damaged(where: str) -> StoreError:
    """The StoreError for a store whose file is damaged."""
    what, hint = _DAMAGED
    return StoreError(f"the store {where} {what}", hint)


def store_failure(error: BaseException, where: str) -> StoreError:
    """The StoreError that says what ``error`` means for the store at ``where``."""
    cause = getattr(error, "orig", error)
    if hasattr(cause, "sqlstate"):
        what, hint = _server_said(cause)
        return StoreError(f"the store {where} {what}", hint)
    said = str(cause).lower()
    busy = getattr(cause, "sqlite_errorcode", None) == sqlite3.SQLITE_BUSY
    for words, what, hint in _SAID:
        if words in said:
            return (BusyStoreError if busy else StoreError)(f"the store {where} {what}", hint)
    short = said.splitlines()[0][:120] if said else type(error).__name__
    return StoreError(f"the store {where} could not be used ({short})", "Check the path and disk.")


def _server_said(cause: object) -> tuple[str, str]:
    """What a server's complaint means, and what to do; by its code: its words are in any tongue.

    Where there was no connection there is no code; only its words tell a wrong password then.
    """
    code = str(getattr(cause, "sqlstate", None) or "")
    said = " ".join(str(cause).split())
    if not code:
        lower = said.lower()
        known = {"password": "28", "role": "28", "does not exist": "3D", "too many": "53300"}
        code = next((c for words, c in known.items() if words in lower), "")
        if not code:
            return _NO_SERVER
    for length in (5, 3, 2):
        if code[:length] in _SERVER_SAID:
            return _SERVER_SAID[code[:length]]
    return f"could not be used ({said[:120]})", "Ask whoever keeps the server."


@contextmanager
def plainly(where: str, driver_error: type[Exception] = sqlite3.Error) -> Iterator[None]:
    """Raise StoreError for whatever the database raises inside.

    ``driver_error`` is the driver's own: a search reads by its bare cursor. Other errors pass, so
    that a fault in reading some other file is not laid at the store's door.
    """
    try:
        yield
    except (DBAPIError, PoolTimeout, driver_error) as error:
        raise store_failure(error, where) from error


@contextmanager
def on_disk(where: str) -> Iterator[None]:
    """As ``plainly``, and for what the file system raises as well."""
    try:
        with plainly(where):
            yield
    except OSError as error:
        raise store_failure(error, where) from error


_FROM_DAMAGE = (ValueError, LookupError, TypeError, AttributeError, AssertionError)
"""What reading back other bytes than were written may raise, far from the store."""


def sound(engine: Engine) -> bool:
    """Whether a SQLite file's pages, trees and indexes agree; a server looks after its own."""
    if engine.dialect.name != "sqlite":
        return True
    try:
        with engine.connect() as conn:
            return bool(conn.exec_driver_sql("PRAGMA integrity_check(1)").scalar() == "ok")
    except UnicodeDecodeError:
        return False


@contextmanager
def plainly_or_damaged(engine: Engine, where: str) -> Iterator[None]:
    """As ``plainly``, and for whatever else is raised inside where the file is damaged."""
    try:
        with plainly(where, engine.dialect.loaded_dbapi.Error):
            yield
    except zlib.error as error:
        raise StoreError(
            f"the search index of the store {where} is damaged",
            "xref check --mend makes it anew from the parts.",
        ) from error
    except _FROM_DAMAGE as error:
        with plainly(where):
            hurt = _undecodable(error) or not sound(engine)
        if not hurt:
            raise
        raise damaged(where) from error


def _undecodable(error: Exception) -> bool:
    """Whether a text in the store is no text any more: every one was written as UTF-8.

    The driver has no frame of its own; the last one is whoever asked it.
    """
    if not isinstance(error, UnicodeDecodeError) or error.__traceback__ is None:
        return False
    *_, (frame, _line) = walk_tb(error.__traceback__)
    return str(frame.f_globals.get("__name__")).startswith(("sqlalchemy.", "xref.store."))
