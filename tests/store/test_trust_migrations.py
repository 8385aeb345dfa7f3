"""A store of every earlier layout comes up to date with every fact that was put into it."""

from __future__ import annotations

import sqlite3
import subprocess
import sys
from contextlib import closing
from pathlib import Path

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory

from fixtures import old_stores
from xref.cli.app import main
from xref.services.open import open_store
from xref.services.upkeep.check import check
from xref.standards.lookup import find
from xref.store.open import migrate
from xref.store.open.engine import open_engine
from xref.store.tables.layout import SCHEMA_HEAD, metadata


@pytest.fixture(autouse=True)
def _few_standards(monkeypatch: pytest.MonkeyPatch) -> None:
    """The renewal of all the standards' rows has tests of its own; here two do."""
    few = find("6204") + find("6304")
    monkeypatch.setattr("xref.store.open.seed.standard_parts", lambda: few)


CHECKOUT = Path(__file__).parents[2]
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
    with closing(sqlite3.connect(path)) as conn:
        number, bore = conn.execute(
            "SELECT number, bore FROM part JOIN boundary ON boundary.id = boundary_id "
            "WHERE part.id = 17"
        ).fetchone()
    return str(number), int(bore)


@pytest.mark.parametrize("revision", [r for r in old_stores.REVISIONS if r >= "0005"])
def test_what_an_older_version_did_can_still_be_taken_back(revision: str, tmp_path: Path) -> None:
    path = old_stores.make(revision, tmp_path / "old.xref")
    from xref.store.upkeep.undo import undo

    store = open_engine(path)
    with store.writing("undo", watched=False) as unit:
        assert undo(unit).command == "part add"
        unit.commit()
    assert len(old_stores.facts(path)["part"]) == old_stores.PARTS
    with store.reading() as conn:
        assert check(conn, store.where) == []
    store.close()


def test_a_search_where_another_holds_an_old_store_waits_its_turn_or_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    path = old_stores.make(old_stores.REVISIONS[3], tmp_path / "old.xref")
    monkeypatch.setattr(migrate, "PATIENCE", 0)
    search = ["--store", str(path), "identify", "--mark", "QF-0017/A"]
    before = old_stores.facts(path)
    with closing(sqlite3.connect(path, isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        assert main(search) == 3
        lines = capsys.readouterr().err.splitlines()
        assert len(lines) <= 2
        assert "in use by another program" in lines[0]
        assert old_stores.facts(path) == before
        other.execute("ROLLBACK")
    assert main(search) in (0, 1)
    assert "layout up to date" in capsys.readouterr().err


NO_STANDARDS = """
import sys
import xref.store.open.seed
from xref.cli.app import main
xref.store.open.seed.standard_parts = tuple
sys.exit(main(sys.argv[1:]))
"""


def test_two_who_come_to_an_old_store_at_once_both_get_their_answer(tmp_path: Path) -> None:
    """The second waits for the first to move it; neither is sent away."""
    path = old_stores.make(old_stores.REVISIONS[3], tmp_path / "old.xref")
    command = [sys.executable, "-c", NO_STANDARDS, "--store", str(path), "part", "show", "QF-0017"]
    both = [
        subprocess.Popen(command, cwd=CHECKOUT, stderr=subprocess.PIPE, stdout=subprocess.PIPE)
        for _ in range(2)
    ]
    said = [child.communicate()[1].decode() for child in both]
    assert not [s for s in said if "locked" in s or "in use" in s or "Traceback" in s]
    assert {child.returncode for child in both} <= {0, 1}
    assert old_stores.revision_of(path) == SCHEMA_HEAD
