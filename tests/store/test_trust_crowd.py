"""Several processes at once in one store: nothing is lost, and nobody who searches waits."""

from __future__ import annotations

import subprocess
import sys
import threading
from pathlib import Path

import pytest

from scripts.benches.crowd import CHECKOUT, Until, crowd
from xref.store.open.engine import open_engine

pytestmark = pytest.mark.slow

TURNS = 20
"""Of each process; ``scripts/bench trust`` lets them go on for a minute."""
SEED = 312


@pytest.mark.xdist_group("crowd")
def test_two_that_import_add_and_undo_lose_no_row_and_are_never_refused(path: Path) -> None:
    found = crowd(path, Until(turns=TURNS), SEED)
    assert found.faults == []
    assert min(found.imports, found.adds, found.undone, found.searches) > 0
    assert found.there < found.rows


def ask(path: Path, *args: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "xref", "--store", str(path), *args],
        capture_output=True,
        text=True,
        cwd=CHECKOUT,
        check=False,
        timeout=120,
    )


def test_search_is_answered_while_another_holds_the_store_for_writing(path: Path) -> None:
    """The writer lets go only after the answer is here: had it waited, it would never come."""
    store = open_engine(path)
    with store.writing("test") as unit:
        unit.add_source("Whimbrel Parts Book", "1951", "", "")
        done = ask(path, "identify", "--mark", "6204")
        listed = ask(path, "source", "list")
        unit.commit()
    store.close()
    assert (done.returncode, done.stderr) == (0, "")
    assert "6204" in done.stdout
    assert "Whimbrel" not in listed.stdout
    assert "Whimbrel" in ask(path, "source", "list").stdout


def test_search_does_not_wait_even_where_the_standard_rows_are_due_for_renewal(path: Path) -> None:
    store = open_engine(path)
    with store.writing("test", watched=False) as unit:
        unit.conn.exec_driver_sql("UPDATE store_info SET value = 'an earlier one'")
        unit.commit()
    with store.writing("test"):
        meanwhile = ask(path, "identify", "--mark", "6204")
    store.close()
    assert (meanwhile.returncode, meanwhile.stderr) == (0, "")
    assert "up to date" in ask(path, "identify", "--mark", "6204").stderr


def test_backup_is_made_while_another_writes_and_is_one_state(path: Path, tmp_path: Path) -> None:
    store = open_engine(path)
    with store.writing("test") as unit:
        unit.add_source("half", "", "", "")
        done = ask(path, "backup", str(tmp_path / "copy.xref"))
        unit.add_source("whole", "", "", "")
        unit.commit()
    store.close()
    assert done.returncode == 0, done.stderr
    assert "half" not in ask(tmp_path / "copy.xref", "source", "list").stdout
    assert "half" in ask(path, "source", "list").stdout


def test_second_writer_waits_for_the_first_and_both_are_kept(path: Path) -> None:
    store = open_engine(path)
    said: list[subprocess.CompletedProcess[str]] = []
    with store.writing("test") as unit:
        unit.add_source("first", "", "", "")
        second = threading.Thread(target=lambda: said.append(ask(path, "source", "add", "second")))
        second.start()
        second.join(2.0)
        waiting = second.is_alive()
        unit.commit()
    second.join()
    store.close()
    assert waiting
    assert (said[0].returncode, said[0].stderr) == (0, "")
    listed = ask(path, "source", "list").stdout
    assert "first" in listed
    assert "second" in listed


def test_restore_is_seen_whole_by_one_who_has_the_store_open(path: Path, tmp_path: Path) -> None:
    copy = tmp_path / "copy.xref"
    assert ask(path, "backup", str(copy)).returncode == 0
    assert ask(path, "source", "add", "later").returncode == 0
    store = open_engine(path)
    with store.reading() as conn:
        count = "SELECT count(*) FROM source"
        assert conn.exec_driver_sql(count).scalar() == 1
        assert ask(path, "restore", str(copy)).returncode == 0
        assert conn.exec_driver_sql(count).scalar() == 1  # still the state it began with
    with store.reading() as conn:
        assert conn.exec_driver_sql(count).scalar() == 0
    store.close()
