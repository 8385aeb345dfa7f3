"""A source that says a range anew replaces its own word; another source's stands beside it."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from xref.services.links import applies as applying
from xref.services.lists import run
from xref.services.lists.imported import Imported
from xref.services.open import OpenStore
from xref.store.read.links import applicabilities
from xref.store.read.queries import resolve
from xref.store.upkeep.undo import undo

HEADING = ("Part no", "Model", "Serials", "Source")


def says(opened: OpenStore, serials: str, source: str = "", assembly: str = "") -> list[str]:
    """What was replaced."""
    with opened.store.writing("applies") as unit:
        done = applying.applies(
            unit, "KR-100", model="Dotterel", serials=serials, source=source, assembly=assembly
        )
        unit.commit()
    return [str(entry.serials) for entry in done.replaced]


def brought(opened: OpenStore, folder: Path, *rows: tuple[str, ...]) -> Imported:
    path = folder / "list.csv"
    with path.open("w", encoding="utf-8", newline="") as stream:
        csv.writer(stream).writerows([HEADING, *rows])
    return opened.import_file(path)


def ranges(opened: OpenStore, number: str = "KR-100") -> list[tuple[str, str]]:
    with opened.store.reading() as conn:
        found = applicabilities(conn, [resolve(conn, number).id])
    return sorted((str(e.serials), e.source) for e in found)


def test_the_same_source_replaces_its_word_and_another_stands_beside(bare: OpenStore) -> None:
    assert says(bare, "1-90", "Book A") == []
    assert says(bare, "1-95", "Book B") == []
    assert says(bare, "1-99", "Book A") == ["1-90"]
    assert ranges(bare) == [("1-95", "Book B"), ("1-99", "Book A")]


def test_what_was_replaced_is_in_the_history_and_comes_back(bare: OpenStore) -> None:
    says(bare, "1-90", "Book A")
    says(bare, "1-99", "Book A")
    with bare.store.writing("undo", watched=False) as unit:
        undo(unit)
        unit.commit()
    assert ranges(bare) == [("1-90", "Book A")]


def test_two_ranges_of_no_source_and_two_assemblies_of_one_stand_beside(bare: OpenStore) -> None:
    says(bare, "1-90")
    says(bare, "200-290")
    says(bare, "1-50", "Book A", assembly="brake")
    says(bare, "60-70", "Book A", assembly="hoist")
    assert [serials for serials, _ in ranges(bare)] == ["1-50", "1-90", "200-290", "60-70"]


@pytest.mark.parametrize("at_once", [1, 1000])
def test_a_list_that_comes_again_replaces_what_it_says_otherwise_and_no_more(
    bare: OpenStore, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, at_once: int
) -> None:
    monkeypatch.setattr(run, "LINKS_AT_ONCE", at_once)
    says(bare, "1-95", "Book B")
    row = ("KR-100", "Dotterel")
    first = brought(bare, tmp_path, (*row, "1-90", "Book A"), (*row, "200-290", "Book A"))
    assert [f.kind for f in first.findings] == []
    assert [serials for serials, _ in ranges(bare)] == ["1-90", "1-95", "200-290"]
    again = brought(bare, tmp_path, (*row, "1-99", "Book A"), (*row, "200-290", "Book A"))
    assert [(f.kind, f.message) for f in again.findings] == [
        ("replaced", "Dotterel 1-99 in place of Dotterel 1-90, which Book A said before")
    ]
    assert ranges(bare) == [("1-95", "Book B"), ("1-99", "Book A"), ("200-290", "Book A")]


def test_what_was_not_understood_does_not_replace_what_was(bare: OpenStore, tmp_path: Path) -> None:
    row = ("KR-100", "Dotterel")
    brought(bare, tmp_path, (*row, "1-90", "Book A"))
    brought(bare, tmp_path, (*row, "the grey ones", "Book A"))
    assert ("1-90", "Book A") in ranges(bare)


def test_a_list_with_a_mistyped_model_or_component_finds_what_is_near(
    bare: OpenStore, tmp_path: Path
) -> None:
    says(bare, "1-90")
    done = brought(bare, tmp_path, ("KR-101", "Doterel", "1-9", ""))
    assert [(f.kind, f.message) for f in done.findings] == [
        ("new model", 'the model "Doterel" is new; near it on record: Dotterel')
    ]
