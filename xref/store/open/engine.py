"""Open a store: make and seed it when it is not there, upgrade it when it is older."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import AbstractContextManager, contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from sqlalchemy import Connection, Engine, inspect, select
from sqlalchemy.exc import DBAPIError

from xref.errors import BusyStoreError, StoreError
from xref.store.file.failures import (
    BrokenSealError,
    broken_seal,
    damaged,
    on_disk,
    plainly,
    plainly_or_damaged,
    sound,
    store_failure,
    without_password,
)
from xref.store.file.files import look_at, may_write
from xref.store.file.seal import SEALED_MOST, seal_fits
from xref.store.file.sqlite import WRITE, waiting
from xref.store.file.sqlite import sqlite_engine as sqlite_engine
from xref.store.open import making
from xref.store.open.shared import let_in, read_one_state, refuse_other_encodings, shared_engine
from xref.store.tables.tables import SCHEMA_HEAD, alembic_version, store_info

if TYPE_CHECKING:
    from xref.domain.new_name import NewName
    from xref.store.write.unit import UnitOfWork


class Store:
    """An open store.

    ``notices`` are remarks for the person, to be shown and not printed here; ``news`` are the names
    that what was written here made.
    """

    def __init__(self, engine: Engine, where: str, writable: bool = True) -> None:
        self.engine = engine
        self.where = where
        self.writable = writable
        self.notices: list[str] = []
        self.news: list[NewName] = []
        self._looked_through = False

    @contextmanager
    def reading(self) -> Iterator[Connection]:
        """A connection that sees one state of the store. Raises StoreError where it cannot."""
        with self._plainly(), self.engine.connect() as conn:
            yield read_one_state(conn) if self.engine.dialect.name == "postgresql" else conn

    @contextmanager
    def writing(
        self, command: str, watched: bool = True, patient: bool = True
    ) -> Iterator[UnitOfWork]:
        """The one door for writes: all of it is rolled back unless the unit is committed.

        ``watched``: the history keeps what it changes, so that it can be taken back. Unless
        ``patient`` it does not wait for another writer. Raises StoreError for a store that is
        read-only, damaged, or written to by another for longer than that.
        """
        if not self.writable:
            raise StoreError(
                f"the store {self.where} is read-only",
                "Give yourself the right to write it and its folder, or use --store elsewhere.",
            )
        from xref.store.write.unit import UnitOfWork

        self.refuse_damage()
        with self._plainly(), self.engine.connect() as raw:
            conn = raw.execution_options(**{WRITE: True})
            unit = UnitOfWork(conn, command, self.where, watched)
            try:
                with waiting(raw, None if patient else 0):
                    conn.begin()
                let_in(conn, self.where, patient)
                self._refuse_another_layout(conn)
                yield unit
            finally:
                self.news += unit.news if unit.committed else []
                unit.close()

    def _refuse_another_layout(self, conn: Connection) -> None:
        """Raise StoreError where a newer program moved the store after this one had opened it."""
        if conn.scalar(select(alembic_version.c.version_num)) != SCHEMA_HEAD:
            raise StoreError(
                f"the store {self.where} was brought to another layout meanwhile",
                "Nothing was changed; run the command again, with the newer version of xref.",
            )

    def refuse_damage(self) -> None:
        """Raise StoreError where the file is damaged, once before it is written.

        By its seal, or where it has none by SQLite's own check, which sees less. Of a store over
        ``SEALED_MOST`` bytes damage is found only where it is touched.
        """
        if self._looked_through or self.engine.dialect.name != "sqlite":
            return
        with self._plainly(), on_disk(self.where):
            small = Path(self.where).stat().st_size <= SEALED_MOST
            fits = self.seal_fits()
            if fits is not True and small and not sound(self.engine):
                raise damaged(self.where)
        if fits is False:
            raise broken_seal(self.where)
        self._looked_through = True

    def seal_fits(self) -> bool | None:
        """Whether the file is as this program left it; None where there is no telling."""
        if self.engine.dialect.name != "sqlite":
            return None
        with self._plainly(), self.engine.connect() as conn, conn.begin():
            return seal_fits(conn.connection.driver_connection)

    def keep_as_it_is(self) -> None:
        """Write to the store though its seal may not fit; the next commit seals it anew.

        Raises StoreError where SQLite's own check finds damage.
        """
        with self._plainly():
            if not sound(self.engine):
                raise damaged(self.where)
        self._looked_through = True

    def _plainly(self) -> AbstractContextManager[None]:
        return plainly_or_damaged(self.engine, self.where)

    def close(self) -> None:
        """Give the file back."""
        self.engine.dispose()


def open_engine(target: str | Path) -> Store:
    """Open the store at a path or PostgreSQL URL, making it where there is none.

    Raises StoreError, with nothing touched, for whatever cannot be a store of this program.
    """
    if isinstance(target, str) and "://" in target:
        return _open_shared(target)
    path = Path(os.path.expanduser(target))
    if not look_at(path):
        return _make_file(path)
    store = _open_file(path)
    try:
        with store._plainly():
            _bring_up_to_date(store)
    except BaseException:
        store.close()
        raise
    return store


def _open_shared(url: str) -> Store:
    where = without_password(url)
    engine = shared_engine(url)
    store = Store(engine, where)
    try:
        with plainly(where):
            _make_shared(store)
            _bring_up_to_date(store)
    except BaseException:
        store.close()
        raise
    return store


def _make_shared(store: Store) -> None:
    """Make the tables where there are none; refuse a database that holds other tables like them.

    Of several who come first at once one makes them, and the others wait for it.
    """
    with store.engine.begin() as conn:
        refuse_other_encodings(conn, store.where)
        if _is_made(store, conn):
            return
    with store.engine.begin() as conn:
        let_in(conn, store.where)
        if _is_made(store, conn):
            return
        making.create(conn)
    store.notices.append(f"made a new store at {store.where}, with the standards' tables in it")


def _is_made(store: Store, conn: Connection) -> bool:
    """Whether the database holds a store. Raises StoreError where it holds another's tables."""
    there = set(inspect(conn).get_table_names())
    ours = there & set(making.every_table().tables)
    made = alembic_version.name in there
    if made and store_info.name in ours:
        return True
    if made or ours:
        raise StoreError(
            f"{store.where} is a database of another program, not a store",
            "Give a database of its own to the store.",
        )
    return False


def _open_file(path: Path) -> Store:
    writable = may_write(path)
    return Store(sqlite_engine(path, writable), str(path), writable)


def _make_file(path: Path) -> Store:
    first = making.make_file(path)
    store = _open_file(path)
    if first:
        store.notices.append(f"made a new store at {path}, with the standards' tables in it")
    return store


def _bring_up_to_date(store: Store) -> None:
    """Migrate an older schema and refresh older tables; refuse a newer one untouched."""
    from xref.standards.version import TABLES_VERSION

    with store.engine.connect() as conn:
        try:
            revision = conn.scalar(select(alembic_version.c.version_num))
        except DBAPIError as error:
            raise store_failure(error, store.where) from error
        tables = (
            conn.scalar(select(store_info.c.value).where(store_info.c.key == "tables_version"))
            if revision == SCHEMA_HEAD
            else None
        )
    if revision != SCHEMA_HEAD:
        _migrate(store, revision)
    if tables != TABLES_VERSION and store.writable:
        from xref.store.open.seed import refresh

        try:
            with store.writing("refresh the standards' tables", False, patient=False) as unit:
                refresh(unit.conn)
                unit.commit()
        except BrokenSealError:
            return  # whoever only searches may; who writes is refused
        except BusyStoreError:
            return  # whoever only searches does not wait for a writer; the next one sees to it
        store.notices.append("brought the standards' tables in the store up to date")


def _migrate(store: Store, revision: str | None) -> None:
    from xref.store.open.migrate import known_revisions, upgrade

    if revision not in known_revisions():
        raise StoreError(
            f"the store {store.where} was written by a newer version of xref",
            "Install the newer version; the store was not touched.",
        )
    if not store.writable:
        raise StoreError(
            f"the store {store.where} is of an older version and read-only",
            "Give yourself the right to write it, so that it can be brought up to date.",
        )
    store.refuse_damage()
    upgrade(store.engine)
    store.notices.append("brought the store's layout up to date")
