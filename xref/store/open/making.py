"""Make a new store: its tables with the standards' rows in them, whole or not at all."""

from __future__ import annotations

from pathlib import Path

from sqlalchemy import Connection, MetaData

from xref.store.file.failures import on_disk
from xref.store.file.files import APPLICATION_ID, clear_left, in_the_making, put_in_place, sidecars
from xref.store.file.seal import put_seal
from xref.store.file.sqlite import WRITE, sqlite_engine
from xref.store.tables.tables import SCHEMA_HEAD, alembic_version


def make_file(path: Path) -> bool:
    """Make the store in a file beside its place, then move it there; False: another was first.

    Raises StoreError where there is no room or no right for it.
    """
    with on_disk(str(path)):
        path.parent.mkdir(parents=True, exist_ok=True)
    made = in_the_making(path)
    clear_left(path)
    try:
        with on_disk(str(path)):
            made.unlink(missing_ok=True)
            made.touch()
            _fill(made)
            return put_in_place(made, path)
    finally:
        for left in (made, Path(f"{made}-journal"), *sidecars(made)):
            left.unlink(missing_ok=True)


def _fill(made: Path) -> None:
    engine = sqlite_engine(made)
    try:
        with engine.connect() as conn:
            conn = conn.execution_options(**{WRITE: True})
            with conn.begin():
                conn.exec_driver_sql(f"PRAGMA application_id={APPLICATION_ID}")
                create(conn)
                put_seal(conn.connection.driver_connection)
        with engine.connect() as conn:
            driver = conn.connection.driver_connection
            assert driver is not None
            driver.execute("PRAGMA journal_mode=WAL")
    finally:
        engine.dispose()


def every_table() -> MetaData:
    """Every table of the store; imported only where all of them are needed."""
    from xref.store.tables.layout import metadata

    return metadata


def create(conn: Connection) -> None:
    """Make every table, and fill them from the standards' tables."""
    from xref.store.open.seed import seed

    every_table().create_all(conn)
    alembic_version.create(conn, checkfirst=True)
    conn.execute(alembic_version.insert().values(version_num=SCHEMA_HEAD))
    seed(conn)
