"""A club's list in bulk goes in whole, and again without a change."""

from __future__ import annotations

import shutil
from pathlib import Path

from fixtures.club import rows, write
from xref.services.open import open_store


def test_the_list_is_the_same_for_the_same_seed() -> None:
    assert list(rows(50, 7)) == list(rows(50, 7)) != list(rows(50, 8))


def test_a_clubs_list_goes_in_whole_and_its_numbers_are_found(
    seeded_path: Path, tmp_path: Path
) -> None:
    path = tmp_path / "club.csv"
    write(path, 400, 7)
    wanted = list(rows(400, 7))[123]
    with open_store(str(shutil.copy(seeded_path, tmp_path / "club.xref"))) as store:
        done = store.import_file(path)
        assert (done.read, done.added, done.rejected) == (400, 400, 0)
        again = store.import_file(path)
        assert (again.added, again.changed, again.unchanged) == (0, 0, 400)
        best = store.identify(mark=[wanted["Part No."]]).candidates[0]
    assert (best.part.number, best.part.maker) == (wanted["Part No."], wanted["Maker"])
