"""Migrations go up and down with data in the tables, and lead to what new stores are made of."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from pathlib import Path

import pytest
from alembic import op
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from alembic.operations import Operations
from alembic.script import ScriptDirectory
from sqlalchemy import Column, Engine, MetaData, String, inspect, select

import xref
from xref.errors import StoreError
from xref.store.open import migrate
from xref.store.open.engine import open_engine, sqlite_engine
from xref.store.tables.layout import SCHEMA_HEAD, metadata
from xref.store.tables.tables import alembic_version


@pytest.fixture
def empty(tmp_path: Path) -> Engine:
    """An engine on an empty file."""
    path = tmp_path / "empty.xref"
    path.touch()
    return sqlite_engine(path)


def layout(engine: Engine) -> dict[str, object]:
    """Every table with its columns, keys, indexes and links, as the database tells them."""
    seen = inspect(engine)
    return {
        name: (
            [(c["name"], str(c["type"]), c["nullable"]) for c in seen.get_columns(name)],
            seen.get_pk_constraint(name),
            sorted(seen.get_unique_constraints(name), key=lambda u: str(u["name"])),
            sorted(seen.get_indexes(name), key=lambda i: str(i["name"])),
            sorted(seen.get_foreign_keys(name), key=lambda f: str(f["name"])),
        )
        for name in seen.get_table_names()
        if name != "alembic_version"
    }


def dump(path: Path) -> list[str]:
    """Every row of every table but Alembic's and SQLite's own, as text."""
    with sqlite3.connect(path) as conn:
        names = [n for (n,) in conn.execute("SELECT name FROM sqlite_master WHERE type = 'table'")]
        rows = [
            f"{name}: {row}"
            for name in sorted(names)
            if name not in ("alembic_version", "sqlite_sequence")
            for row in conn.execute(f"SELECT * FROM {name} ORDER BY 1, 2")
        ]
    conn.close()
    return rows


def test_there_is_one_head_and_the_tables_name_it() -> None:
    scripts = ScriptDirectory(str(migrate.script_folder()))
    assert scripts.get_heads() == [SCHEMA_HEAD] == [migrate.head()]


def test_migrations_are_found_in_a_checkout_and_beside_an_installed_package(tmp_path: Path) -> None:
    package = Path(xref.__file__).parent
    assert migrate.script_folder() == package.parent / "schema"
    installed = tmp_path / "xref"
    (installed / "_schema").mkdir(parents=True)
    with pytest.raises(StoreError, match="missing from this installation"):
        migrate.script_folder(installed)
    (installed / "_schema" / "env.py").touch()
    assert migrate.script_folder(installed) == installed / "_schema"


def test_migrating_from_nothing_equals_creating_all(empty: Engine, tmp_path: Path) -> None:
    migrate.upgrade(empty)
    made = tmp_path / "made.xref"
    made.touch()
    other = sqlite_engine(made)
    with other.connect() as conn:
        metadata.create_all(conn)
        conn.commit()
    assert layout(empty) == layout(other)
    assert set(layout(empty)) == set(metadata.tables)


def test_models_equal_head(empty: Engine) -> None:
    migrate.upgrade(empty)
    with empty.connect() as conn:
        context = MigrationContext.configure(conn, opts={"compare_type": True})
        assert compare_metadata(context, metadata) == []


def test_new_store_stands_at_head(path: Path) -> None:
    store = open_engine(path)
    with store.reading() as conn:
        assert list(conn.scalars(select(alembic_version.c.version_num))) == [SCHEMA_HEAD]
    store.close()


def test_up_and_down_and_up_again_with_a_full_store(path: Path) -> None:
    engine = sqlite_engine(path)
    migrate.downgrade(engine, "base")
    assert layout(engine) == {}
    migrate.upgrade(engine)
    assert set(layout(engine)) == set(metadata.tables)
    assert dump(path) == []
    engine.dispose()


def in_one_move(engine: Engine, step: Callable[[Operations], None]) -> None:
    """Run ``step`` as a migration would be run."""

    def moved(config: object) -> None:
        conn = config.attributes["connection"]  # type: ignore[attr-defined]
        with Operations.context(MigrationContext.configure(conn)):
            step(op)  # type: ignore[arg-type]

    migrate._move(engine, moved)


def test_remaking_a_table_keeps_the_rows_that_hang_on_it(path: Path) -> None:
    engine = sqlite_engine(path)
    before = dump(path)

    def remake(operations: Operations) -> None:
        with operations.batch_alter_table("part", recreate="always") as batch:
            batch.add_column(Column("finish", String(20), nullable=True))
        with operations.batch_alter_table("part", recreate="always") as batch:
            batch.drop_column("finish")

    shape = layout(engine)
    in_one_move(engine, remake)
    assert dump(path) == before
    assert layout(engine) == shape
    engine.dispose()


def test_move_that_breaks_links_is_taken_back_whole(path: Path) -> None:
    engine = sqlite_engine(path)
    before, shape = dump(path), layout(engine)

    def lose_makers(operations: Operations) -> None:
        operations.create_table("stray", Column("id", String(5)))
        operations.execute("DELETE FROM maker")

    with pytest.raises(StoreError, match="lead nowhere"):
        in_one_move(engine, lose_makers)
    assert dump(path) == before
    assert layout(engine) == shape
    with engine.connect() as conn:
        assert conn.exec_driver_sql("PRAGMA foreign_keys").scalar() == 1
    engine.dispose()


def test_move_that_fails_half_way_leaves_the_old_layout(path: Path) -> None:
    engine = sqlite_engine(path)
    shape = layout(engine)

    def fail(operations: Operations) -> None:
        operations.drop_table("tally")
        raise KeyError

    with pytest.raises(KeyError):
        in_one_move(engine, fail)
    assert layout(engine) == shape
    engine.dispose()


def test_tables_have_no_type_or_index_of_sqlite_alone() -> None:
    from sqlalchemy.dialects import postgresql
    from sqlalchemy.schema import CreateIndex, CreateTable

    dialect = postgresql.dialect()  # type: ignore[no-untyped-call]
    made = [str(CreateTable(t).compile(dialect=dialect)) for t in metadata.sorted_tables]
    made += [
        str(CreateIndex(i).compile(dialect=dialect))
        for t in metadata.sorted_tables
        for i in t.indexes
    ]
    assert len(made) == len(metadata.tables) + sum(len(t.indexes) for t in metadata.sorted_tables)
    assert all(c.name for t in metadata.sorted_tables for c in t.constraints)
    assert isinstance(metadata, MetaData)
