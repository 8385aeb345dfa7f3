"""Whatever happens to the file or its disk is one line and a hint; what is damaged is let be."""

from __future__ import annotations

import json
import os
import random
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from xref.cli.app import main
from xref.errors import StoreError
from xref.store.open.engine import open_engine

CHECKOUT = Path(__file__).parents[2]
COMMANDS = (
    ("identify", "--mark", "62?4"),
    ("part", "list"),
    ("part", "show", "6204"),
    ("check",),
    ("history",),
    ("part", "add", "QF-9"),
    ("undo",),
)
WRITING = {"add", "undo"}


def shut(path: Path) -> dict[str, bytes]:
    """Every file of the store's folder with its bytes."""
    return {p.name: p.read_bytes() for p in path.parent.iterdir() if p.is_file()}


def in_lines(said: str) -> list[str]:
    lines = said.splitlines()
    assert 1 <= len(lines) <= 2
    assert lines[0].startswith("xref: ")
    assert "something went wrong inside" not in said
    assert "Traceback" not in said
    return lines


@pytest.fixture(scope="module")
def worked_in(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    """A store that somebody has worked in, as bytes."""
    path = tmp_path_factory.mktemp("worked") / "store.xref"
    for args in (
        ("part", "add", "QF-1", "--size", "bore=20mm"),
        ("source", "add", "Whimbrel Book"),
    ):
        assert main(["--store", str(path), *args]) == 0
    return path.read_bytes()


@pytest.mark.parametrize("seed", range(10))
def test_flipped_bytes_are_read_past_or_refused_and_never_written_over(
    worked_in: bytes, tmp_path: Path, capsys: pytest.CaptureFixture[str], seed: int
) -> None:
    """A flip that SQLite's own check can see bars every write; no flip is more than one line."""
    chance = random.Random(f"312 {seed}")
    spoilt = bytearray(worked_in)
    for _ in range(chance.choice((1, 20, 400))):
        spoilt[chance.randrange(100, len(spoilt))] ^= chance.randrange(1, 256)
    path = tmp_path / "store.xref"
    path.write_bytes(bytes(spoilt))
    capsys.readouterr()
    seen = main(["--store", str(path), "check", "--json"])
    found = json.loads(capsys.readouterr().out)
    damaged = seen == 3 or any(f["check"] == "file" for f in found.get("findings", []))
    for args in COMMANDS:
        path.write_bytes(bytes(spoilt))
        code = main(["--store", str(path), *args])
        said = capsys.readouterr().err
        writes = bool(WRITING & set(args))
        if code == 3:
            in_lines(said)
        assert code in ((3,) if damaged and writes else (0, 1, 3))
        if damaged or not writes or code == 3:
            assert shut(path) == {"store.xref": bytes(spoilt)}


@pytest.mark.parametrize("seed", range(6))
def test_a_store_cut_short_anywhere_is_refused_untouched(
    worked_in: bytes, tmp_path: Path, capsys: pytest.CaptureFixture[str], seed: int
) -> None:
    path = tmp_path / "store.xref"
    path.write_bytes(worked_in[: random.Random(f"cut {seed}").randrange(100, len(worked_in))])
    before = shut(path)
    for args in COMMANDS:
        assert main(["--store", str(path), *args]) == 3
        assert "damaged" in in_lines(capsys.readouterr().err)[0]
    assert shut(path) == before


def test_a_text_that_is_no_text_any_more_is_damage(
    worked_in: bytes, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "store.xref"
    assert worked_in.count(b"Whimbrel Book") >= 1
    path.write_bytes(worked_in.replace(b"Whimbrel Book", b"Whimbrel \xd9\xff\xfeok"))
    assert main(["--store", str(path), "source", "list"]) == 3
    assert "damaged" in in_lines(capsys.readouterr().err)[0]


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    """A disk of 9 MB, which a store fits on and not much beside it."""
    disk = tmp_path / "disk"
    disk.mkdir()
    mount = ["mount", "-t", "tmpfs", "-o", "size=9m", "tmpfs", str(disk)]
    try:
        made = subprocess.run(mount, capture_output=True, check=False).returncode == 0
    except OSError:
        made = False
    if not made:
        pytest.skip("no disk can be mounted here")
    yield disk
    subprocess.run(["umount", str(disk)], check=True)


def test_a_full_disk_is_told_and_the_store_stays_as_it_was(
    path: Path, small_disk: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    store = Path(shutil.copy(path, small_disk / "store.xref"))
    box = tmp_path / "box.csv"
    box.write_text(
        "number,description\n" + "".join(f"QK-{n},{'stud ' * 40}\n" for n in range(9000))
    )
    before = store.read_bytes()
    for args in (("import", str(box)), ("backup", str(small_disk / "copy.xref"))):
        assert main(["--store", str(store), *args]) == 3
        assert "disk" in in_lines(capsys.readouterr().err)[0]
        assert shut(store) == {"store.xref": before}
    assert main(["--store", str(store), "restore", str(path)]) == 3
    assert "disk" in in_lines(capsys.readouterr().err)[0]
    assert shut(store) == {"store.xref": before}
    assert main(["--store", str(store), "check"]) == 0


def test_a_path_that_vanishes_while_the_store_is_open_is_told(path: Path, tmp_path: Path) -> None:
    away = tmp_path / "share"
    away.mkdir()
    store = open_engine(shutil.copy(path, away / "store.xref"))
    with store.reading() as conn:
        assert conn.exec_driver_sql("SELECT count(*) FROM source").scalar() == 0
    shutil.rmtree(away)

    def write() -> None:
        with store.writing("test") as unit:
            unit.add_source("lost", "", "", "")
            unit.commit()

    with pytest.raises(StoreError) as caught:
        write()
    assert caught.value.hint
    assert len(caught.value.message.splitlines()) == 1
    assert not away.exists()
    store.close()


def test_a_path_that_is_gone_before_is_made_anew_only_where_it_can_be(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    gone = "/proc/share/club/store.xref"
    assert main(["--store", gone, "identify", "--mark", "6204"]) == 3
    assert gone in in_lines(capsys.readouterr().err)[0]
    assert main(["--store", gone, "backup", str(tmp_path / "copy.xref")]) == 3
    in_lines(capsys.readouterr().err)
    assert not (tmp_path / "copy.xref").exists()


AS_NOBODY = """
import os, sys
from xref.cli.app import main
import xref.services.upkeep.check, xref.services.upkeep.copies
import xref.store.upkeep.backup, xref.store.open.migrate
import xref.cli.restore, xref.cli.backup
if os.geteuid() == 0:
    os.setgid(65534)
    os.setuid(65534)
sys.exit(main(sys.argv[1:]))
"""


@pytest.mark.parametrize("what", ["restore", "backup"])
def test_no_right_to_write_is_one_line(path: Path, what: str) -> None:
    import tempfile

    with tempfile.TemporaryDirectory() as folder:
        os.chmod(folder, 0o755)
        store = Path(shutil.copy(path, Path(folder) / "store.xref"))
        copy = Path(shutil.copy(path, Path(folder) / "copy.xref"))
        for file in (store, copy):
            file.chmod(0o444)
        os.chmod(folder, 0o555)
        target = str(copy) if what == "restore" else str(Path(folder) / "new.xref")
        before = shut(store)
        done = subprocess.run(
            [sys.executable, "-c", AS_NOBODY, "--store", str(store), what, target],
            capture_output=True,
            text=True,
            cwd=CHECKOUT,
            check=False,
        )
        assert done.returncode == 3, done.stderr
        in_lines(done.stderr)
        assert shut(store) == before
        os.chmod(folder, 0o755)
