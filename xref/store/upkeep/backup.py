"""Copy a store while others write to it, and put a copy back in one transaction."""

from __future__ import annotations

import os
import sqlite3
import time
from collections.abc import Iterator
from contextlib import closing, contextmanager, suppress
from datetime import datetime
from pathlib import Path
from urllib.parse import quote

from xref.domain.number import visible
from xref.domain.steps import Steps, silent
from xref.errors import FileError, StoreError
from xref.store.file.failures import on_disk
from xref.store.file.files import (
    clear_left,
    in_the_making,
    look_at,
    may_write,
    move_aside,
    page_size,
    put_in_place,
    sidecars,
    sync_folder,
)
from xref.store.file.seal import copy_pages, put_seal, seal_fits
from xref.store.file.sqlite import BUSY_SECONDS, sqlite_engine
from xref.store.open.engine import open_engine
from xref.store.tables.tables import SCHEMA_HEAD

STAMP = "%Y%m%d-%H%M%S"
_POLL = 0.05


def back_up(path: Path, target: Path, steps: Steps = silent) -> None:
    """Write a copy of the store at ``path`` to ``target``, which must not be there yet.

    One state of the store, whoever writes meanwhile; it has its name only once it has passed its
    checks. Raises FileError where ``target`` cannot be, StoreError where the store cannot be read.
    """
    if not look_at(path):
        raise StoreError(f"there is no store at {path}", "Give its path with --store.")
    _free(target)
    with _beside(target) as made:
        steps("copying the store")
        _copy(path, made)
        steps("checking the copy")
        examine(made, f"the copy of {path}")
        if not put_in_place(made, target):
            _free(target)
        sync_folder(target.parent)


def _free(target: Path) -> None:
    try:
        there = os.path.lexists(target)
        folder = target.parent.is_dir()
    except (OSError, ValueError):
        there, folder = False, False
    if there:
        raise FileError(
            f"{visible(str(target), 200)} is there already, and a backup overwrites nothing",
            "Give another name.",
        )
    if not folder:
        raise FileError(
            f"there is no folder {visible(str(target.parent), 200)}", "Make it, or give another."
        )


@contextmanager
def _beside(target: Path) -> Iterator[Path]:
    """A path beside ``target`` for a file in the making; nothing is left there in the end."""
    made = in_the_making(target)
    clear_left(target)
    try:
        with on_disk(str(target)):
            made.unlink(missing_ok=True)
            yield made
    finally:
        with suppress(OSError):
            for left in (made, *sidecars(made), Path(f"{made}-journal")):
                left.unlink(missing_ok=True)


def _copy(path: Path, made: Path) -> None:
    """One state of the store at ``path``, whoever writes to it meanwhile."""
    engine = sqlite_engine(path, may_write(path))
    try:
        with engine.connect() as conn, closing(sqlite3.connect(made)) as copy:
            driver = conn.connection.driver_connection
            assert driver is not None
            copy_pages(driver, copy)
    finally:
        engine.dispose()


def reader(path: Path) -> sqlite3.Connection:
    """A connection to a file at rest that writes nothing, not even beside it."""
    mode = "mode=ro" if any(p.exists() for p in sidecars(path)) else "immutable=1"
    return sqlite3.connect(f"file:{quote(os.fsencode(path.resolve()))}?{mode}", uri=True)


def examine(path: Path, named: str) -> str | None:
    """Raise StoreError unless the file is sound and its links lead somewhere; its revision."""
    damaged = StoreError(f"{named} is damaged", "Nothing was changed; use another copy.")
    try:
        with closing(reader(path)) as conn:
            conn.execute("BEGIN")
            if conn.execute("PRAGMA integrity_check(1)").fetchone() != ("ok",):
                raise damaged
            if conn.execute("PRAGMA foreign_key_check").fetchone() is not None:
                raise damaged
            row = conn.execute("SELECT version_num FROM alembic_version").fetchone()
            # Of a newer version's copy that is said first; its seal may be of another form.
            if row and str(row[0]) <= SCHEMA_HEAD and seal_fits(conn) is False:
                raise damaged
    except sqlite3.Error as error:
        raise damaged from error
    return str(row[0]) if row else None


def restore(path: Path, copy: Path, steps: Steps = silent) -> Path | None:
    """Put the content of ``copy`` into the store at ``path``; where the replaced one is kept.

    The copy is only read, and must pass its checks first. Others who have the store open see the
    old content or the new, never a mixture. None where there was no store at ``path``. Raises
    FileError for a copy that is not there, StoreError for one that is no copy or fails its checks.
    """
    _check_copy(copy, path)
    steps("checking the copy")
    revision = examine(copy, f"the copy {visible(str(copy), 200)}")
    _known(revision, copy)
    there = look_at(path, whole=False)
    if there and not may_write(path):
        raise StoreError(f"the store {path} is read-only", "Give yourself the right to write it.")
    with on_disk(str(path)):
        path.parent.mkdir(parents=True, exist_ok=True)
    with _beside(path) as made:
        _brought_up_to_date(copy, made, steps)
        steps("putting it in the place of the store")
        if there and _sound(path):
            return _exchange(path, made)
        if there:
            kept = move_aside(path, _kept_name(path))
            made.replace(path)
        elif put_in_place(made, path):
            kept = None
        else:
            raise StoreError(f"a store has just been made at {path}", "Run the command again.")
        sync_folder(path.parent)
        return kept


def _check_copy(copy: Path, path: Path) -> None:
    """Raise FileError for a copy that is not there, StoreError for a file that is no copy."""
    hint = "Name a copy made by xref backup."
    with suppress(OSError, ValueError):
        if copy.samefile(path):
            raise FileError("the copy is the store itself", hint)
    try:
        found = look_at(copy)
    except StoreError as error:
        raise StoreError(error.message, hint) from error
    if not found and copy.exists():
        raise StoreError(f"{visible(str(copy), 200)} is an empty file, not a store", hint)
    if not found:
        raise FileError(f"there is no file {visible(str(copy), 200)}", "Check its name.")


def _known(revision: str | None, copy: Path) -> None:
    from xref.store.open.migrate import known_revisions

    if revision not in known_revisions():
        raise StoreError(
            f"the copy {visible(str(copy), 200)} was written by a newer version of xref",
            "Install the newer version; nothing was changed.",
        )


def _brought_up_to_date(copy: Path, made: Path, steps: Steps) -> None:
    """A copy of the copy in today's layout, at rest; the one that was given stays as it is."""
    steps("copying it")
    with closing(reader(copy)) as source, closing(sqlite3.connect(made)) as target:
        copy_pages(source, target)
    open_engine(made).close()
    steps("checking what was copied")
    examine(made, f"the copy {visible(str(copy), 200)}")


def _sound(path: Path) -> bool:
    """Whether the store at ``path`` is undamaged, as far as can be told."""
    engine = sqlite_engine(path)
    try:
        with engine.connect() as conn, conn.begin():
            if seal_fits(conn.connection.driver_connection) is False:
                return False
            return bool(conn.exec_driver_sql("PRAGMA quick_check(1)").scalar() == "ok")
    except Exception:
        return False
    finally:
        engine.dispose()


def _kept_name(path: Path) -> Path:
    """A free name beside the store, with the time (local) in it."""
    stem = path.name.removesuffix(".xref")
    kept = path.with_name(f"{stem}.replaced-{datetime.now().strftime(STAMP)}.xref")
    count = 1
    while os.path.lexists(kept):
        count += 1
        kept = path.with_name(f"{stem}.replaced-{datetime.now().strftime(STAMP)}-{count}.xref")
    return kept


def _exchange(path: Path, made: Path) -> Path:
    """Replace the content under the store's own write lock, after keeping what it replaces.

    SQLite's backup takes the lock with its first page; what is copied aside then is exactly what
    is replaced, and no other process can have written in between.
    """
    kept = _kept_name(path)
    deadline = time.monotonic() + BUSY_SECONDS

    def step(status: int, _left: int, _pages: int) -> None:
        if status in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED):
            if time.monotonic() > deadline:
                raise sqlite3.OperationalError("database is locked")
        elif not kept.exists():
            with _beside(kept) as aside:
                _copy(path, aside)
                put_in_place(aside, kept)

    _same_page_size(path, made)
    engine = sqlite_engine(path)
    try:
        with engine.connect() as conn, closing(reader(made)) as source:
            target = conn.connection.driver_connection
            assert target is not None
            source.backup(target, pages=1, progress=step, sleep=_POLL)
            _sealed(target)
            target.execute("PRAGMA wal_checkpoint(PASSIVE)")  # waits for no reader
    finally:
        engine.dispose()
    return kept


def _sealed(driver: sqlite3.Connection) -> None:
    """Seal a store whose pages were just written over: another layout's cookie was left in it."""
    driver.execute("BEGIN IMMEDIATE")
    put_seal(driver)
    driver.execute("COMMIT")


def _same_page_size(path: Path, made: Path) -> None:
    """SQLite cannot change the size of a page in a store that others have open."""
    with path.open("rb") as stream:
        size = page_size(stream.read(18))
    with closing(sqlite3.connect(made)) as conn:
        if conn.execute("PRAGMA page_size").fetchone() != (size,):
            conn.execute("PRAGMA journal_mode=DELETE")
            conn.execute(f"PRAGMA page_size={size}")
            conn.execute("VACUUM")
