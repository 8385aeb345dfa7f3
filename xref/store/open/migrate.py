"""Move a store between layouts with Alembic; imported only when a move is due."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from alembic import command
from alembic.config import Config
from alembic.script import ScriptDirectory
from sqlalchemy import Connection, Engine

from xref.errors import StoreError
from xref.store.file.failures import without_password
from xref.store.file.sqlite import WRITE, waiting
from xref.store.open.shared import let_in

PATIENCE = 10
"""Seconds that a move waits for another writer: whoever only wanted to search is then told so.
Judged; two who come to an old store at once need one of them a second or three."""


PACKAGE = Path(__file__).parents[2]


def script_folder(package: Path = PACKAGE) -> Path:
    """Where the migrations lie: in the installed package, or beside it in a checkout.

    Raises StoreError where they lie in neither.
    """
    for folder in (package / "_schema", package.parent / "schema"):
        if (folder / "env.py").is_file():
            return folder
    raise StoreError("the migrations are missing from this installation", "Install xref again.")


def _config(conn: Connection | None = None) -> Config:
    config = Config()
    config.set_main_option("script_location", str(script_folder()).replace("%", "%%"))
    config.attributes["connection"] = conn
    return config


def known_revisions() -> frozenset[str]:
    """Every revision this package can move from or to."""
    script = ScriptDirectory.from_config(_config())
    return frozenset(revision.revision for revision in script.walk_revisions())


def head() -> str:
    """The newest revision in the folder of migrations."""
    found = ScriptDirectory.from_config(_config()).get_current_head()
    assert found is not None
    return found


def upgrade(engine: Engine, revision: str = "head") -> None:
    """Move up to ``revision``, all of it or nothing."""
    _move(engine, lambda config: command.upgrade(config, revision))


def downgrade(engine: Engine, revision: str) -> None:
    """Move down to ``revision`` ("base" for an empty file), all of it or nothing."""
    _move(engine, lambda config: command.downgrade(config, revision))


def _move(engine: Engine, step: Callable[[Config], None]) -> None:
    """Run one move in one transaction with foreign keys off, and check them before it is kept.

    A batch migration drops and remakes a table; with foreign keys on, SQLite would delete or
    refuse the rows that hang on it. The pragma does nothing inside a transaction, so it goes first.
    """
    sqlite = engine.dialect.name == "sqlite"
    with engine.connect() as raw:
        driver = raw.connection.driver_connection
        if sqlite and driver is not None:
            driver.execute("PRAGMA foreign_keys=OFF")
        try:
            conn = raw.execution_options(**{WRITE: True})
            with waiting(raw, PATIENCE):
                moving = conn.begin()
            with moving:
                let_in(conn, without_password(str(engine.url)))
                step(_config(conn))
                if sqlite and conn.exec_driver_sql("PRAGMA foreign_key_check").first():
                    raise StoreError(
                        "the store could not be brought up to date: links in it lead nowhere",
                        "Nothing was changed; restore a copy made earlier.",
                    )
        finally:
            if sqlite and driver is not None:
                driver.execute("PRAGMA foreign_keys=ON")
