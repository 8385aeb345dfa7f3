"""What a source says anew takes the place of what it said before; another's word stands beside."""

from __future__ import annotations

import csv
import shutil
from collections.abc import Iterator, Sequence
from pathlib import Path

import pytest

from xref.services.links.facts import Facts, facts_of
from xref.services.open import OpenStore
from xref.store.open.engine import open_engine
from xref.store.upkeep.undo import undo
from xref.store.write.sheet_facts import own_ids

HEADING = ("Part No", "Description", "Bore", "OD", "Replaced by", "Notes")


@pytest.fixture
def opened(seeded_path: Path, tmp_path: Path) -> Iterator[OpenStore]:
    """An open store of this test's own, with the standards' rows."""
    store = open_engine(Path(shutil.copy(seeded_path, tmp_path / "store.xref")))
    yield OpenStore(store)
    store.close()


def listed(folder: Path, *rows: Sequence[str], name: str = "parts.csv") -> Path:
    path = folder / name
    with path.open("w", encoding="utf-8", newline="") as stream:
        csv.writer(stream).writerows([HEADING, *rows])
    return path


def facts(opened: OpenStore) -> dict[str, Facts]:
    with opened.store.reading() as conn:
        return {f.part.number: f for f in facts_of(conn, own_ids(conn))}


FIRST = (("ED-1", "seel", "35", "52", "ED-9", ""), ("ED-2", "bush", "20", "25", "", ""))
LATER = (("ED-1", "seal", "35", "52", "ED-7", ""), ("ED-2", "bush", "20.5", "25", "", ""))


def test_a_source_that_says_a_thing_anew_replaces_its_own_earlier_word(
    opened: OpenStore, tmp_path: Path
) -> None:
    opened.import_file(listed(tmp_path, *FIRST))
    done = opened.import_file(listed(tmp_path, *LATER))
    held = facts(opened)
    assert {f.kind for f in done.findings} == {"replaced"}
    assert len(done.findings) == 3
    assert held["ED-1"].part.words == "seal"
    assert held["ED-2"].part.sizes["bore"].value == 20_500_000
    assert [s.news for s in held["ED-1"].steps] == [("ED-7",)]
    assert held["ED-1"].claims == held["ED-2"].claims == ()


def test_the_same_list_once_more_changes_nothing(opened: OpenStore, tmp_path: Path) -> None:
    opened.import_file(listed(tmp_path, *FIRST))
    opened.import_file(listed(tmp_path, *LATER))
    again = opened.import_file(listed(tmp_path, *LATER))
    assert (again.changed, again.unchanged, again.findings) == (0, 2, ())


def test_another_sources_word_stands_beside(opened: OpenStore, tmp_path: Path) -> None:
    opened.import_file(listed(tmp_path, *FIRST))
    opened.import_file(listed(tmp_path, *LATER, name="other.csv"))
    held = facts(opened)
    assert held["ED-1"].part.words == "seel"
    assert [(c.field, c.value, c.source) for c in held["ED-1"].claims] == [
        ("words", "seal", "other.csv")
    ]
    assert sorted(s.news for s in held["ED-1"].steps) == [("ED-7",), ("ED-9",)]


def test_two_rows_of_one_list_that_differ_are_both_kept(opened: OpenStore, tmp_path: Path) -> None:
    opened.import_file(listed(tmp_path, *FIRST))
    twice = (*LATER, ("ED-2", "bush", "21", "25", "", ""))
    opened.import_file(listed(tmp_path, *twice))
    held = facts(opened)["ED-2"]
    assert held.part.sizes["bore"].value == 20_500_000
    assert [(c.field, c.value) for c in held.claims] == [("bore", "21 mm")]


def test_a_word_said_anew_can_be_undone(opened: OpenStore, tmp_path: Path) -> None:
    opened.import_file(listed(tmp_path, *FIRST))
    opened.import_file(listed(tmp_path, *LATER))
    with opened.store.writing("undo") as unit:
        undo(unit)
        unit.commit()
    held = facts(opened)
    assert held["ED-1"].part.words == "seel"
    assert [s.news for s in held["ED-1"].steps] == [("ED-9",)]
