"""Backup, restore and check from the command line."""

from __future__ import annotations

import json
import os
import re
import shutil
import sqlite3
import subprocess
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest

Run = Callable[..., subprocess.CompletedProcess[str]]
CHECKOUT = Path(__file__).parents[2]


@pytest.fixture
def store(small: Path, tmp_path: Path) -> Path:
    """The path of a store of this test's own, with few rows to look through."""
    return Path(shutil.copy(small, tmp_path / "store.xref"))


def numbers(xref: Run, *args: str) -> str:
    return xref(*args, "part", "list").stdout


class TestBackupAndRestore:
    def test_a_copy_brings_back_what_was_there_with_its_history(
        self, xref: Run, store: Path, tmp_path: Path
    ) -> None:
        xref("part", "add", "QF-1")
        copy = tmp_path / "copy.xref"
        done = xref("backup", str(copy))
        assert (done.returncode, done.stderr) == (0, "")
        assert str(copy) in done.stdout
        xref("part", "add", "QF-2")
        done = xref("restore", str(copy))
        assert (done.returncode, done.stderr) == (0, "")
        assert "QF-1" in numbers(xref)
        assert "QF-2" not in numbers(xref)
        kept = re.search(r"kept as (\S+store\.replaced-\d{8}-\d{6}\.xref)", done.stdout)
        assert kept is not None
        assert "QF-2" in numbers(xref, "--store", kept[1])
        assert xref("undo").returncode == 0
        assert "QF-1" not in numbers(xref)
        assert xref("check").returncode == 0
        assert sorted(p.name for p in store.parent.glob("*")) == sorted(
            ["copy.xref", Path(kept[1]).name, "store.xref"]
        )

    def test_a_backup_overwrites_nothing(self, xref: Run, tmp_path: Path) -> None:
        (tmp_path / "notes.txt").write_text("mine")
        done = xref("backup", str(tmp_path / "notes.txt"))
        assert done.returncode == 3
        assert "overwrites nothing" in done.stderr
        assert (tmp_path / "notes.txt").read_text() == "mine"

    def test_a_backup_of_no_store_makes_none(self, xref: Run, tmp_path: Path) -> None:
        missing = tmp_path / "missing.xref"
        done = xref("--store", str(missing), "backup", str(tmp_path / "copy.xref"))
        assert (done.returncode, done.stdout) == (3, "")
        assert "no store" in done.stderr
        assert not missing.exists()
        assert not (tmp_path / "copy.xref").exists()

    def test_a_backup_into_no_folder_is_refused(self, xref: Run, tmp_path: Path) -> None:
        done = xref("backup", str(tmp_path / "nowhere" / "copy.xref"))
        assert done.returncode == 3
        assert "no folder" in done.stderr

    def test_a_copy_is_a_store_that_others_may_read_while_one_writes(
        self, xref: Run, tmp_path: Path
    ) -> None:
        copy = tmp_path / "copy.xref"
        xref("backup", str(copy))
        with closing(sqlite3.connect(copy)) as conn:
            assert conn.execute("PRAGMA journal_mode").fetchone() == ("wal",)

    @pytest.mark.parametrize("command", ["backup", "restore"])
    def test_a_shared_store_is_left_to_its_servers_own_tools(
        self, xref: Run, tmp_path: Path, command: str
    ) -> None:
        url = "postgresql+psycopg://club@localhost/spares"
        done = xref("--store", url, command, str(tmp_path / "copy.xref"))
        assert (done.returncode, done.stdout) == (3, "")
        assert "server's own tools" in done.stderr

    def test_restoring_where_no_store_is_makes_it(self, xref: Run, tmp_path: Path) -> None:
        xref("part", "add", "QF-1")
        copy, fresh = tmp_path / "copy.xref", tmp_path / "deep" / "fresh.xref"
        xref("backup", str(copy))
        done = xref("--store", str(fresh), "restore", str(copy))
        assert (done.returncode, done.stderr) == (0, "")
        assert "QF-1" in numbers(xref, "--store", str(fresh))
        assert [p.name for p in fresh.parent.iterdir()] == ["fresh.xref"]


def flipped(path: Path) -> None:
    data = bytearray(path.read_bytes())
    for at in range(4096, len(data), 4096):
        data[at] ^= 0xFF
    path.write_bytes(bytes(data))


def cut(path: Path) -> None:
    path.write_bytes(path.read_bytes()[:-20_000])


def foreign(path: Path) -> None:
    path.unlink()
    with closing(sqlite3.connect(path)) as conn:
        conn.execute("CREATE TABLE locomotive (number TEXT)")


def newer(path: Path) -> None:
    with closing(sqlite3.connect(path)) as conn, conn:
        conn.execute("UPDATE alembic_version SET version_num = '9999'")


def loose(path: Path) -> None:
    with closing(sqlite3.connect(path)) as conn, conn:
        conn.execute("DELETE FROM part WHERE id = 1")


def prose(path: Path) -> None:
    path.write_text("QW 312, jackshaft chain case\n")


def empty(path: Path) -> None:
    path.write_bytes(b"")


def folder(path: Path) -> None:
    path.unlink()
    path.mkdir()


def pipe(path: Path) -> None:
    if not hasattr(os, "mkfifo"):
        pytest.skip("there are no pipes with a name on this system")
    path.unlink()
    os.mkfifo(path)


@pytest.mark.parametrize(
    ("spoil", "said"),
    [
        (flipped, "damaged"),
        (cut, "damaged"),
        (foreign, "another program"),
        (newer, "newer version"),
        (loose, "damaged"),
        (prose, "copy.xref is not a store"),
        (empty, "copy.xref is an empty file, not a store"),
        (folder, "is a folder, not a store"),
        (pipe, "is a pipe or a device, not a store"),
        (Path.unlink, "there is no file"),
    ],
    ids=lambda value: getattr(value, "__name__", ""),
)
def test_a_copy_that_fails_its_checks_changes_nothing(
    xref: Run, store: Path, tmp_path: Path, spoil: Callable[[Path], None], said: str
) -> None:
    copy = Path(shutil.copy(store, tmp_path / "copy.xref"))
    spoil(copy)
    before = {p.name: p.is_file() and p.read_bytes() for p in tmp_path.iterdir()}
    done = xref("restore", str(copy))
    assert (done.returncode, done.stdout) == (3, "")
    assert said in done.stderr
    assert done.stderr.count("\n") <= 2
    assert "not yet there" not in done.stderr
    assert {p.name: p.is_file() and p.read_bytes() for p in tmp_path.iterdir()} == before


def test_the_store_itself_is_no_copy_of_it(xref: Run, store: Path) -> None:
    done = xref("restore", str(store))
    assert done.returncode == 3
    assert "the store itself" in done.stderr


@pytest.mark.parametrize("spoil", [flipped, cut], ids=["flipped", "cut"])
def test_a_damaged_store_is_replaced_and_kept_byte_for_byte(
    xref: Run, store: Path, tmp_path: Path, spoil: Callable[[Path], None]
) -> None:
    xref("part", "add", "QF-1")
    copy = tmp_path / "copy.xref"
    xref("backup", str(copy))
    spoil(store)
    hurt = store.read_bytes()
    assert xref("restore", str(copy)).returncode == 0
    (kept,) = tmp_path.glob("store.replaced-*.xref")
    assert kept.read_bytes() == hurt
    assert "QF-1" in numbers(xref)
    assert xref("check").returncode == 0


def test_restore_over_a_foreign_file_is_refused(xref: Run, store: Path, tmp_path: Path) -> None:
    copy = Path(shutil.copy(store, tmp_path / "copy.xref"))
    foreign(store)
    before = store.read_bytes()
    assert xref("restore", str(copy)).returncode == 3
    assert store.read_bytes() == before


BREAKS = {
    "keys": "UPDATE part SET key = 'WRONG' WHERE number = 'QF-1'",
    "folded": "UPDATE spelling SET folded = 'WRONG' WHERE text = 'QF-1'",
    "search": "DELETE FROM scan_plane WHERE plane < 500",
    "unpacked": "UPDATE scan_plane SET bits = x'0107' WHERE plane < 60",
    "mute": "DELETE FROM spelling WHERE text = 'QF-1'",
    "figures": "UPDATE tally SET weight = weight + 1 WHERE what = 'pattern'",
    "sizes": "INSERT INTO boundary (bore, outside, width) VALUES (1, 2, 3)",
}
NOT_MENDED = {
    "links": "PRAGMA foreign_keys=OFF; UPDATE size SET part_id = 999999 WHERE id = 1",
    "ranges": "UPDATE applicability SET serials = 'whenever'",
    "serial": "UPDATE machine_serial SET serial = '???'",
    "chains": "UPDATE supersession_part SET part_id = (SELECT old_id FROM supersession LIMIT 1)",
    "empty": "DELETE FROM supersession_part",
    "photos": "INSERT INTO bench_item (id, at, place, assembly, asked, found, note, decided_at,"
    " outcome, why, outcome_at) VALUES (1, '', 'x', '', '{}', '{}', '', '', '', '', '');"
    "INSERT INTO bench_photo (item_id, sha256, name) VALUES (1, 'ab', 'case.jpg')",
}
CHECK_OF = {
    "folded": "keys",
    "mute": "search",
    "unpacked": "search",
    "serial": "ranges",
    "empty": "chains",
}


@pytest.fixture
def filled(xref: Run, store: Path) -> Path:
    """A store with a part, a machine, a range and a supersession, with nothing wrong."""
    for args in (
        ("part", "add", "QF-1", "--maker", "Quillfeather", "--size", "length=30mm"),
        ("machine", "add", "QW 312", "--model", "Whimbrel", "--serial", "QW312"),
        ("applies", "QF-1", "--model", "Whimbrel", "--from", "QW101", "--to", "QW499"),
        ("supersede", "QF-1", "QF-2"),
    ):
        assert xref(*args).returncode == 0
    done = xref("check", "--json")
    assert (done.returncode, json.loads(done.stdout)) == (0, {"findings": []})
    return store


@pytest.mark.parametrize("name", [*BREAKS, *NOT_MENDED])
def test_each_thing_that_is_wrong_is_found_and_told_how_to_mend(
    xref: Run, filled: Path, name: str
) -> None:
    with closing(sqlite3.connect(filled)) as conn:
        conn.executescript((BREAKS | NOT_MENDED)[name])
    done = xref("check", "--json")
    found = json.loads(done.stdout)["findings"]
    assert done.returncode == 1
    assert CHECK_OF.get(name, name) in {f["check"] for f in found}
    assert all(f.keys() == {"check", "message", "mend"} and f["mend"] for f in found)
    shown = " ".join(xref("check").stdout.split())
    assert " ".join(found[0]["message"].split()) in shown
    mended = xref("check", "--mend")
    assert (mended.returncode == 0) == (name in BREAKS), mended.stdout
    if name in BREAKS:
        assert mended.stdout == "Everything is in order.\n"


def test_a_damaged_file_is_found_and_never_mended(xref: Run, filled: Path) -> None:
    flipped(filled)
    before = filled.read_bytes()
    for args in (("check",), ("check", "--mend"), ("part", "add", "QF-9"), ("undo",)):
        done = xref(*args)
        assert done.returncode in (1, 3)
        assert "damaged" in done.stdout + done.stderr
    assert filled.read_bytes() == before


def test_a_store_of_other_tables_is_told_of(store: Path) -> None:
    from xref.services.upkeep.check import check
    from xref.store.open.engine import open_engine

    opened = open_engine(store)
    with closing(sqlite3.connect(store)) as conn, conn:
        conn.execute("UPDATE store_info SET value = 'older' WHERE key = 'tables_version'")
    with opened.reading() as found:
        assert [f.check for f in check(found, str(store))] == ["standards"]
    opened.close()
