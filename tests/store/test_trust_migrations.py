"""A store of every earlier layout comes up to date with every fact that was put into it."""

from __future__ import annotations

from pathlib import Path

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory

from fixtures import old_stores
from xref.services.checking import check
from xref.services.opening import open_store
from xref.standards.lookup import find
from xref.store import migrate
from xref.store.engine import open_engine
from xref.store.layout import SCHEMA_HEAD, metadata


@pytest.fixture(autouse=True)
def _few_standards(monkeypatch: pytest.MonkeyPatch) -> None:
    """The renewal of all the standards' rows has tests of its own; here two do."""
    few = find("6204") + find("6304")
    monkeypatch.setattr("xref.store.seed.standard_parts", lambda: few)


EVERY = pytest.mark.parametrize("revision", old_stores.REVISIONS)


def test_there_is_an_old_store_of_every_revision_and_today_is_the_last() -> None:
    scripts = ScriptDirectory(str(migrate.script_folder()))
    found = [one.revision for one in scripts.walk_revisions()]
    assert list(old_stores.REVISIONS) == found[::-1]
    assert old_stores.REVISIONS[-1] == SCHEMA_HEAD


@EVERY
def test_every_fact_comes_through_and_the_layout_is_todays(revision: str, tmp_path: Path) -> None:
    path = old_stores.make(revision, tmp_path / "old.xref")
    assert old_stores.revision_of(path) == revision
    shape, before = old_stores.layout(path), old_stores.facts(path)
    assert len(before["part"]) >= old_stores.PARTS
    assert all(before.values())
    store = open_engine(path)
    assert old_stores.revision_of(path) == SCHEMA_HEAD
    assert old_stores.facts(path, shape) == before
    with store.reading() as conn:
        assert check(conn, store.where) == []
        context = MigrationContext.configure(conn, opts={"compare_type": True})
        assert compare_metadata(context, metadata) == []
    store.close()


@EVERY
def test_parts_of_an_old_store_are_found_by_mark_and_by_size(revision: str, tmp_path: Path) -> None:
    path = old_stores.make(revision, tmp_path / "old.xref")
    number, bore = _one(path)
    with open_store(str(path)) as store:
        by_mark = store.identify(mark=[number])
        by_size = store.identify(size={"bore": f"{bore / 1e6:.6f}mm"}, limit=50)
    assert by_mark.candidates[0].part.number == number
    assert number in {c.part.number for c in by_size.candidates}


def _one(path: Path) -> tuple[str, int]:
    import sqlite3

    conn = sqlite3.connect(path)
    number, bore = conn.execute(
        "SELECT number, bore FROM part JOIN boundary ON boundary.id = boundary_id "
        "WHERE part.id = 17"
    ).fetchone()
    conn.close()
    return str(number), int(bore)


@pytest.mark.parametrize("revision", [r for r in old_stores.REVISIONS if r >= "0005"])
def test_what_an_older_version_did_can_still_be_taken_back(revision: str, tmp_path: Path) -> None:
    path = old_stores.make(revision, tmp_path / "old.xref")
    from xref.store.undo import undo

    store = open_engine(path)
    with store.writing("undo", watched=False) as unit:
        assert undo(unit).command == "part add"
        unit.commit()
    assert len(old_stores.facts(path)["part"]) == old_stores.PARTS
    with store.reading() as conn:
        assert check(conn, store.where) == []
    store.close()
