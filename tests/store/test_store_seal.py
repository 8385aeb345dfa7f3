"""Whatever is changed in the file behind the program's back bars the next write, and that alone."""

from __future__ import annotations

import random
import shutil
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from scripts.benches import damage
from xref.cli.app import main
from xref.services.parts import part as parts
from xref.services.parts import source as sources
from xref.services.upkeep.check import check
from xref.store.file import seal
from xref.store.file.failures import BrokenSealError
from xref.store.open.engine import Store, open_engine
from xref.store.upkeep.undo import undo

NOTE = b"the worn one of the two"


@pytest.fixture
def path(small: Path, tmp_path: Path) -> Path:
    """A store with a source that has a note, which no index and no key knows of."""
    path = Path(shutil.copy(small, tmp_path / "store.xref"))
    store = open_engine(path)
    write(store, 1, NOTE.decode())
    store.close()
    return path


def write(store: Store, number: int, note: str = "") -> None:
    with store.writing("test") as unit:
        sources.add(unit, f"Whimbrel Book {number}", "1951", "parts book", note)
        unit.commit()


def fits(path: Path) -> bool | None:
    """What another process would find."""
    with closing(sqlite3.connect(path)) as conn:
        conn.execute("BEGIN")
        return seal.seal_fits(conn)


def spoil(path: Path) -> bytes:
    data = path.read_bytes()
    assert data.count(NOTE) >= 1
    path.write_bytes(data.replace(NOTE, NOTE.replace(b"worn", b"torn")))
    return path.read_bytes()


def test_a_store_fits_its_seal_after_whatever_was_written_and_taken_back(path: Path) -> None:
    """Many rows that come and go leave free pages, whose bytes on the disk are nobody's."""
    chance = random.Random(312)
    store = open_engine(path)
    for turn in range(12):
        with store.writing("test", watched=turn % 3 != 2) as unit:
            if turn % 3 == 2:
                undo(unit)
            else:
                for row in range(chance.randrange(1, 120)):
                    words = "stud " * chance.randrange(50)
                    parts.add(unit, f"QF-{turn}-{row}", words=words, sizes={"bore": "20mm"})
            unit.commit()
        assert store.seal_fits() is True
        assert fits(path) is True
    with store.reading() as conn:
        free = conn.exec_driver_sql("PRAGMA freelist_count").scalar()
    store.close()
    assert free is not None
    assert free > 3
    assert fits(path) is True
    assert not Path(f"{path}-wal").exists()


def test_a_letter_changed_in_a_note_bars_writing_and_not_reading(
    path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    data = spoil(path)
    for args in (("part", "add", "QF-9"), ("undo",), ("source", "add", "Other")):
        assert main(["--store", str(path), *args]) == 3
        said = capsys.readouterr().err
        assert "is damaged, or another program wrote to it" in said
        assert "xref restore" in said
        assert path.read_bytes() == data
    assert main(["--store", str(path), "part", "show", "6204"]) == 0
    assert main(["--store", str(path), "check"]) == 1
    assert "not as xref left it" in " ".join(capsys.readouterr().out.split())
    assert path.read_bytes() == data
    assert main(["--store", str(path), "check", "--mend"]) == 0
    assert main(["--store", str(path), "part", "add", "QF-9"]) == 0


def test_nobody_who_only_searches_is_kept_out_where_a_renewal_is_due(path: Path) -> None:
    with closing(sqlite3.connect(path)) as conn, conn:
        conn.execute("UPDATE store_info SET value = 'older' WHERE key = 'tables_version'")
        conn.execute("UPDATE source SET note = 'by hand'")
    store = open_engine(path)
    assert store.notices == []
    with pytest.raises(BrokenSealError):
        write(store, 2)
    store.close()
    assert main(["--store", str(path), "check", "--mend"]) == 1  # the rows are renewed next time
    store = open_engine(path)
    assert "up to date" in store.notices[0]
    with store.reading() as found:
        assert check(found, store.where) == []
    store.close()


def test_a_store_whose_layout_another_program_changed_is_only_looked_through(path: Path) -> None:
    with closing(sqlite3.connect(path)) as conn:
        conn.execute("VACUUM")
    assert fits(path) is None
    store = open_engine(path)
    write(store, 2)
    store.close()
    assert fits(path) is True


def test_a_store_too_large_to_be_sealed_has_no_seal(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("xref.store.file.seal.SEALED_MOST", 4096)
    store = open_engine(path)
    assert store.seal_fits() is False  # sealed while it was small
    store.keep_as_it_is()
    write(store, 2)
    assert store.seal_fits() is None
    store.close()


class WithoutImage:
    """A driver whose SQLite was built without the way to read a store's pages."""

    def __init__(self, conn: sqlite3.Connection) -> None:
        self.execute = conn.execute


def test_where_the_pages_cannot_be_read_there_is_no_seal_and_no_false_alarm(path: Path) -> None:
    with closing(sqlite3.connect(path)) as conn, conn:
        assert seal.seal_fits(WithoutImage(conn)) is None
        seal.put_seal(WithoutImage(conn))
    assert fits(path) is None
    store = open_engine(path)
    write(store, 2)
    store.close()
    assert fits(path) is True


def test_a_copy_is_sealed_as_the_store_was_and_a_letter_changed_in_it_is_seen(
    path: Path, tmp_path: Path
) -> None:
    copy = tmp_path / "copy.xref"
    assert main(["--store", str(path), "backup", str(copy)]) == 0
    assert fits(copy) is True
    assert main(["--store", str(path), "restore", str(copy)]) == 0
    assert fits(path) is True
    before = path.read_bytes()
    spoil(copy)
    assert main(["--store", str(path), "restore", str(copy)]) == 3
    assert path.read_bytes() == before


def test_a_spoilt_store_is_neither_copied_nor_written_over_but_moved_aside(
    path: Path, tmp_path: Path
) -> None:
    copy = tmp_path / "copy.xref"
    assert main(["--store", str(path), "backup", str(copy)]) == 0
    data = spoil(path)
    assert main(["--store", str(path), "backup", str(tmp_path / "other.xref")]) == 3
    assert main(["--store", str(path), "restore", str(copy)]) == 0
    (kept,) = tmp_path.glob("store.replaced-*.xref")
    assert kept.read_bytes() == data
    assert fits(path) is True


def test_the_file_itself_may_not_be_damaged_to_be_kept_as_it_is(path: Path) -> None:
    page = 4096
    with closing(sqlite3.connect(path)) as conn:
        (root,) = conn.execute("SELECT rootpage FROM sqlite_master WHERE name = 'part'").fetchone()
    data = bytearray(path.read_bytes())
    data[(root - 1) * page] ^= 0xFF
    path.write_bytes(bytes(data))
    assert main(["--store", str(path), "check", "--mend"]) == 3
    assert path.read_bytes() == data


@pytest.mark.parametrize("sort", damage.SORTS)
def test_every_damage_is_refused_or_shown_to_be_harmless(
    small: Path, tmp_path: Path, sort: str
) -> None:
    data = damage.worked_in(Path(shutil.copy(small, tmp_path / "worked.xref")))
    found = damage.trials(data, tmp_path / "store.xref", sort, 12, 312)
    assert not [told for told in found if told.startswith("fault: ")]
    assert found["unseen"] == 0
    assert found["refused"] + found["harmless"] == 12
    assert found["refused"] > 0
