"""A preview keeps nobody waiting, and a photo that would be waited for is refused."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from xref.errors import FileError
from xref.services.bench.photos import keep
from xref.services.open import open_store
from xref.store.upkeep import rehearsal

ADD = (
    "import sys; from xref.services.open import open_store\n"
    "with open_store(sys.argv[1]) as opened, opened.store.writing('add', patient=False) as unit:\n"
    "    unit.commit()\n"
)


def added_by_another(store: Path) -> int:
    """The exit code of a process that writes to the store without waiting."""
    done = subprocess.run([sys.executable, "-c", ADD, str(store)], capture_output=True, timeout=60)
    return done.returncode


def previewed(store: Path, sheet: Path) -> list[int]:
    """What became of others who wrote while a preview of the sheet was merging its rows."""
    sheet.write_text("Part No.,Description\nQF-2214,chain case\n", encoding="utf-8")
    others: list[int] = []
    with open_store(str(store)) as opened:
        done = opened.import_file(
            sheet, preview=True, progress=lambda *_: others.append(added_by_another(store))
        )
    assert (done.added, done.written) == (1, False)
    return others


def test_another_process_writes_while_a_preview_runs(small: Path, tmp_path: Path) -> None:
    store = tmp_path / "own.xref"
    shutil.copy(small, store)
    for _ in range(2):
        # The second finds the part as new as the first did.
        others = previewed(store, tmp_path / "parts.csv")
        assert others
        assert set(others) == {0}


def test_preview_of_a_store_too_large_to_copy_changes_nothing(
    small: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    store = tmp_path / "own.xref"
    shutil.copy(small, store)
    monkeypatch.setattr(rehearsal, "MOST_COPIED", 0)
    assert 0 not in previewed(store, tmp_path / "parts.csv")


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="the system has no pipes with a name")
def test_photo_that_is_a_pipe_is_refused_without_waiting_for_it(tmp_path: Path) -> None:
    pipe = tmp_path / "photo.jpg"
    os.mkfifo(pipe)
    with pytest.raises(FileError, match="is not a file"):
        keep(str(tmp_path / "own.xref"), pipe)
    with pytest.raises(FileError, match="is not a file"):
        keep(str(tmp_path / "own.xref"), tmp_path)
