"""The same store on a PostgreSQL server."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from sqlalchemy import create_engine

from xref.errors import StoreError
from xref.services.changing.parts import remove as remove_part
from xref.services.open import open_store
from xref.services.parts import mark as marking
from xref.services.parts import part as parts
from xref.store.index.tally import population, tally_of
from xref.store.open import migrate
from xref.store.open.engine import Store, open_engine
from xref.store.read.load import load_parts
from xref.store.read.queries import list_parts, resolve
from xref.store.tables.layout import metadata


@pytest.fixture
def shared(address: str) -> Iterator[Store]:
    """A store made in an empty database."""
    store = open_engine(address)
    yield store
    store.close()


def test_shared_store_is_written_read_and_counted_as_a_file_is(shared: Store) -> None:
    with shared.writing("add") as unit:
        parts.add(unit, "QF-1", maker="Quillfeather", sizes={"bore": "20.5mm", "teeth": "17"})
        parts.add(unit, "6204")
        marking.add(unit, "QF-1", "QQ 11", "number")
        unit.commit()
    with shared.writing("change") as unit:
        parts.change(unit, "QF-1", words="chain wheel")
        remove_part(unit, "6204")
        unit.commit()
    with shared.reading() as conn:
        assert resolve(conn, "QQ11").words == "chain wheel"
        assert [p.number for p in list_parts(conn)] == ["QF-1"]
        every = [p.id for p in list_parts(conn)] + [
            p.id for p in list_parts(conn, standard=True, most=100_000)
        ]
        whole = tally_of(load_parts(conn, every))
        weight = sum(amount for (what, _), amount in whole.items() if what == "pattern")
        assert population(conn).weight == weight


def test_shared_store_answers_the_main_question(shared: Store, address: str) -> None:
    assert shared.notices
    with open_store(address) as opened:
        found = opened.identify(mark=["6?04"], size={"bore": "20mm", "width": "15mm"})
    assert found.to_json()["candidates"][0]["number"] == "6304"


def test_models_equal_head_on_the_server(shared: Store) -> None:
    migrate.downgrade(shared.engine, "base")
    migrate.upgrade(shared.engine)
    with shared.engine.connect() as conn:
        context = MigrationContext.configure(conn, opts={"compare_type": True})
        assert compare_metadata(context, metadata) == []


def test_database_that_holds_a_table_of_ours_but_no_store_is_refused(address: str) -> None:
    engine = create_engine(address)
    try:
        with engine.begin() as conn:
            conn.exec_driver_sql("CREATE TABLE part (name text)")
        with pytest.raises(StoreError, match="another program"):
            open_engine(address)
    finally:
        with engine.begin() as conn:
            conn.exec_driver_sql("DROP TABLE part")
        engine.dispose()
