"""The history speaks in plain words: no name of a column, no id of a row."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from sqlalchemy import Table

from xref.render.history import history_json
from xref.services.changing.parts import remove as remove_part
from xref.services.links import applies as applying
from xref.services.links.interchange import interchange
from xref.services.open import OpenStore, open_store
from xref.services.parts import part as parts
from xref.services.upkeep.history import history
from xref.services.upkeep.history_words import UNSAID, cells_of, column_words, table_words
from xref.store.tables.layout import metadata
from xref.store.upkeep.undo import undo
from xref.store.write.history import UNWATCHED

KEPT = [table for table in metadata.tables.values() if table.name not in UNWATCHED]


@pytest.fixture(scope="module")
def opened(seeded_path: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[OpenStore]:
    path = shutil.copy(seeded_path, tmp_path_factory.mktemp("history") / "s.xref")
    with open_store(str(path)) as store:
        with store.store.writing("part add") as unit:
            parts.add(
                unit,
                "QF-1",
                maker="Quillfeather",
                kind="gear",
                sizes={"teeth": "23", "length": "20mm"},
            )
            unit.commit()
        with store.store.writing("applies") as unit:
            applying.applies(unit, "QF-1", model="Whimbrel", serials="QW1-QW9", quantity=2)
            interchange(unit, "QF-1", "6204", grade="stated")
            unit.commit()
        yield store


@pytest.mark.parametrize("table", KEPT, ids=lambda table: table.name)
def test_no_column_or_table_that_is_told_goes_by_its_own_name(table: Table) -> None:
    said = [column_words(c.name) for c in table.c if c.name not in UNSAID]
    said.append(table_words(table.name))
    assert not [word for word in said if "_" in word or word.endswith((" id", " at"))]


def test_what_a_row_points_to_is_named(opened: OpenStore) -> None:
    with opened.store.reading() as conn:
        latest = history(conn, "QF-1", None, 1)[0]
    assert "interchange added: part QF-1, with 6204, grade stated, both ways yes" in latest.lines
    [listed] = [line for line in latest.lines if line.startswith("serial range")]
    assert "part QF-1, model Whimbrel" in listed
    assert listed.endswith("goes in yes, quantity 2")


def test_a_count_is_no_length(opened: OpenStore) -> None:
    with opened.store.reading() as conn:
        lines = history(conn, "QF-1", None, 5)[-1].lines
    sizes = " / ".join(line for line in lines if line.startswith("size"))
    assert "name teeth, value 23" in sizes
    assert "name length, value 20 mm" in sizes


def test_an_added_row_is_told_as_it_was_then(small: Path, tmp_path: Path) -> None:
    with open_store(str(shutil.copy(small, tmp_path / "s.xref"))) as store:
        with store.store.writing("part add") as unit:
            parts.add(unit, "QF-1", kind="bush", words="sand lever", sizes={"bore": "20mm"})
            unit.commit()
        with store.store.writing("part change") as unit:
            parts.change(unit, "QF-1", words="sand lever, long", sizes={"bore": "21mm"})
            unit.commit()
        with store.store.writing("part remove") as unit:
            remove_part(unit, "QF-1")
            unit.commit()
        with store.store.reading() as conn:
            removed, changed, added = history(conn, None, None, 3)
        said = "number QF-1, kind bush, words {}, status current, bore {} mm"
        assert added.lines[0] == f"part added: {said.format('sand lever', 20)}"
        assert changed.lines == (
            "part QF-1: words sand lever → sand lever, long, bore 20 mm → 21 mm",
        )
        assert f"part removed: {said.format('sand lever, long', 21)}" in removed.lines


def test_a_row_that_was_taken_back_is_not_told_as_the_next_of_its_place(
    small: Path, tmp_path: Path
) -> None:
    with open_store(str(shutil.copy(small, tmp_path / "s.xref"))) as store:
        for number in ("QF-1", "QF-2"):
            with store.store.writing("part add") as unit:
                parts.add(unit, number, words=f"lever {number}")
                unit.commit()
            if number == "QF-1":
                with store.store.writing("undo", watched=False) as unit:
                    undo(unit)
                    unit.commit()
        with store.store.reading() as conn:
            second, first = history(conn, None, None, 2)
    assert "part added: number QF-2, words lever QF-2, status current" in second.lines
    assert first.lines[0] == "part added: as what is not on record any more"


def test_the_json_speaks_the_words_of_the_text(opened: OpenStore) -> None:
    with opened.store.reading() as conn:
        latest = history_json(history(conn, "QF-1", None, 1))["actions"][0]
    [stated] = [c for c in latest["changes"] if c["what"] == "interchange"]
    assert stated == {
        "what": "interchange",
        "change": "added",
        "count": 1,
        "name": "QF-1",
        "before": None,
        "after": {"part": "QF-1", "with": "6204", "grade": "stated", "both ways": True},
    }
    with opened.store.reading() as conn:
        first = history_json(history(conn, "QF-1", None, 5))["actions"][-1]
    sizes = {
        c["after"]["name"]: c["after"]["value"] for c in first["changes"] if c["what"] == "size"
    }
    assert sizes == {"teeth": 23, "length": 20.0}


def test_a_size_that_stays_is_not_told_of(small: Path, tmp_path: Path) -> None:
    with open_store(str(shutil.copy(small, tmp_path / "s.xref"))) as store:
        with store.store.writing("part add") as unit:
            parts.add(unit, "QF-1", sizes={"length": "30mm", "teeth": "20"})
            unit.commit()
        with store.store.writing("part change") as unit:
            parts.change(unit, "QF-1", sizes={"length": "31mm"})
            unit.commit()
        with store.store.reading() as conn:
            [changed] = history(conn, None, None, 1)
    assert changed.lines == (
        "size removed: part QF-1, name length, value 30 mm",
        "size added: part QF-1, name length, value 31 mm",
    )


@pytest.mark.parametrize("table", KEPT, ids=lambda table: table.name)
def test_text_in_any_column_is_told_as_it_stands(opened: OpenStore, table: Table) -> None:
    row = {c.name: "B 4" for c in table.c if c.type.python_type is str}
    if table.name == "bench_item":
        row |= {"asked": "{}", "found": "{}"}
    with opened.store.reading() as conn:
        told = cells_of(conn, table.name, row, row)
    shown = [c.name for c in table.c if row.get(c.name) == "B 4" and c.name not in UNSAID]
    assert [told[column_words(name)].words for name in shown] == ["B 4"] * len(shown)


def test_length_is_told_in_millimetres_whole_and_a_count_as_it_is(opened: OpenStore) -> None:
    length = {"name": "length", "value": 101_612_345, "lower": -500}
    teeth = {"name": "teeth", "value": 101}
    with opened.store.reading() as conn:
        told = cells_of(conn, "size", length, length)
        assert cells_of(conn, "size", teeth, teeth)["value"].words == "101"
    assert (told["value"].words, told["lower"].words) == ("101.612345 mm", "-0.0005 mm")
