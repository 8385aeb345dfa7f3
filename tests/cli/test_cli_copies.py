"""What goes with a copy of the store, and what a command that was stopped leaves beside it."""

from __future__ import annotations

import hashlib
import json
import os
import shutil
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest

Run = Callable[..., subprocess.CompletedProcess[str]]


@pytest.fixture
def store(small: Path, tmp_path: Path) -> Path:
    """The path of a store of this test's own, with few rows to look through."""
    return Path(shutil.copy(small, tmp_path / "store.xref"))


def photo(xref: Run, folder: Path, content: bytes) -> str:
    """Put a photo on the bench; the name it is kept by."""
    file = folder / "case.jpg"
    file.write_bytes(content)
    assert xref("bench", "add", "case", "--mark", "QF 1", "--photo", str(file)).returncode == 0
    return f"{hashlib.sha256(content).hexdigest()}.jpg"


def held(store: Path) -> dict[str, bytes]:
    return {p.name: p.read_bytes() for p in Path(f"{store}.photos").iterdir()}


def findings(xref: Run) -> list[str]:
    return [f["message"] for f in json.loads(xref("check", "--json").stdout)["findings"]]


def test_photos_go_with_a_copy_and_come_back_with_it(
    xref: Run, store: Path, tmp_path: Path
) -> None:
    first, second = photo(xref, tmp_path, b"first"), photo(xref, tmp_path, b"second")
    copy = tmp_path / "copy.xref"
    done = xref("backup", str(copy))
    assert (done.returncode, done.stderr) == (0, "")
    assert "photos (2)" in done.stdout
    assert held(copy) == {first: b"first", second: b"second"}
    shutil.rmtree(f"{store}.photos")
    assert len(findings(xref)) == 2
    done = xref("restore", str(copy))
    assert (done.returncode, done.stderr) == (0, "")
    assert "Photos brought back: 2." in done.stdout
    assert held(store) == {first: b"first", second: b"second"}
    assert findings(xref) == []


def test_a_copy_without_photos_makes_no_folder(xref: Run, tmp_path: Path) -> None:
    done = xref("backup", str(tmp_path / "copy.xref"))
    assert "Its photos" not in done.stdout
    assert not (tmp_path / "copy.xref.photos").exists()
    assert "Photos" not in xref("restore", str(tmp_path / "copy.xref")).stdout


def test_restore_adds_and_mends_photos_and_takes_none_away(
    xref: Run, store: Path, tmp_path: Path
) -> None:
    first = photo(xref, tmp_path, b"first")
    copy = tmp_path / "copy.xref"
    xref("backup", str(copy))
    later = photo(xref, tmp_path, b"later")
    (Path(f"{store}.photos") / first).write_bytes(b"spoilt")
    assert "Photos brought back: 1." in xref("restore", str(copy)).stdout
    assert held(store) == {first: b"first", later: b"later"}


def test_a_missing_a_changed_and_a_spare_photo_are_each_named(
    xref: Run, store: Path, tmp_path: Path
) -> None:
    names = [photo(xref, tmp_path, content) for content in (b"1", b"2", b"3")]
    assert findings(xref) == []
    folder = Path(f"{store}.photos")
    (folder / names[0]).unlink()
    (folder / names[1]).write_bytes(b"another")
    (folder / "notes.txt").write_bytes(b"mine")
    assert xref("check").returncode == 1
    missing, changed, spare = findings(xref)
    assert "bench item 1 is missing" in missing
    assert "bench item 2 is not what it was" in changed
    assert spare == f"no bench item has 1 of the files in {folder}: notes.txt"


def test_where_the_photos_cannot_be_put_the_copy_says_so(
    xref: Run, store: Path, tmp_path: Path
) -> None:
    assert store.exists()
    photo(xref, tmp_path, b"first")
    copy = tmp_path / "copy.xref"
    Path(f"{copy}.photos").write_text("a file of that name")
    done = xref("backup", str(copy))
    assert done.returncode == 3
    assert f"the store was copied to {copy}, but not all its photos" in done.stderr
    assert "photo could not be kept" in done.stderr
    assert done.stderr.count("\n") <= 2


def dead() -> int:
    """The number of a process that is no more."""
    child = subprocess.Popen([sys.executable, "-c", ""])
    child.wait()
    return child.pid


def test_what_a_killed_command_left_is_named_and_in_time_cleared_away(
    xref: Run, store: Path, tmp_path: Path
) -> None:
    ours, gone = os.getppid(), dead()
    names = {
        "dead": f"store.replaced-20260101-000000.xref.new-{gone}",
        "log": f"store.xref.new-{gone}-wal",
        "live": f"store.xref.new-{ours}-journal",
        "other": f"another.xref.new-{gone}",
    }
    files = {what: tmp_path / name for what, name in names.items()}
    for file in files.values():
        file.write_bytes(b"half")
    assert [said.split()[0] for said in findings(xref)] == [names["dead"], names["log"]]
    copy = tmp_path / "copy.xref"
    xref("backup", str(copy))
    assert xref("restore", str(copy)).returncode == 0
    assert all(file.exists() for file in files.values())  # fresh: may be another machine's
    for file in files.values():
        os.utime(file, (time.time() - 7200,) * 2)
    assert xref("restore", str(copy)).returncode == 0
    left = {what for what, file in files.items() if file.exists()}
    assert left == {"live", "other"}
    assert findings(xref) == []
    assert store.exists()
