"""Turn a database's complaint into one clear line."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager

from sqlalchemy.exc import DBAPIError
from sqlalchemy.exc import TimeoutError as PoolTimeout

from xref.errors import StoreError

_SAID = (
    ("locked", "is in use by another program that is writing", "Try again in a moment."),
    ("full", "could not be written: the disk is full", "Make room, then run the command again."),
    ("readonly", "is read-only", "Give yourself the right to write it, or use --store elsewhere."),
    ("malformed", "is damaged", "Do not write to it; restore a copy made earlier."),
    ("not a database", "is not a store", "Give the path of a store, or of a file not yet there."),
    ("unable to open", "could not be opened", "Check that the folder is there and may be written."),
    ("disk i/o", "could not be read or written", "Check the disk and its space, then try again."),
    ("no such table", "is damaged or was not made by this program", "Restore a copy made earlier."),
)


def store_failure(error: BaseException, where: str) -> StoreError:
    """The StoreError that says what ``error`` means for the store at ``where``."""
    said = str(getattr(error, "orig", error)).lower()
    for words, what, hint in _SAID:
        if words in said:
            return StoreError(f"the store {where} {what}", hint)
    short = said.splitlines()[0][:120] if said else type(error).__name__
    return StoreError(f"the store {where} could not be used ({short})", "Check the path and disk.")


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
