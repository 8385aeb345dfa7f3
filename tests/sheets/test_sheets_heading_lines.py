"""Headings of two lines and headings over a group of columns are put together; data is not."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pytest

from xref.sheets.finding import Findings
from xref.sheets.guard import TEXT
from xref.sheets.headings import meaning_of
from xref.sheets.rows import RowReader
from xref.sheets.sheet import Cell, Sheet
from xref.sheets.table import Table, find_table


def table(*rows: Sequence[Cell], first: int = 1) -> Table:
    sheet = Sheet(Path("parts.csv"), "", TEXT, [(n, list(r)) for n, r in enumerate(rows, first)])
    found = find_table(sheet, {})
    assert found is not None
    return found


def fields(found: Table) -> list[tuple[str, str]]:
    return [(c.field, c.unit) for c in found.columns]


DATA = ("QF-2214", "chain case", "101", "499")


def test_name_of_a_group_is_put_before_each_of_its_columns() -> None:
    found = table(("Part No.", "Description", "Serial", ""), ("", "", "from", "to"), DATA)
    assert [c.field for c in found.columns] == ["number", "words", "serial from", "serial to"]
    assert [c.label for c in found.columns[2:]] == ["Serial from", "Serial to"]
    assert [row for _, row in found.rows(Findings("parts.csv"))] == [list(DATA)]


def test_cells_merged_downward_are_named_once() -> None:
    found = table(("Teile-Nr.", "Seriennummer", ""), ("Teile-Nr.", "von", "bis"), ("QF-1", "1", ""))
    assert [c.field for c in found.columns] == ["number", "serial from", "serial to"]


def test_unit_over_a_group_counts_for_each_of_its_columns() -> None:
    found = table(("Part No.", "Size (in)", "", ""), ("", "bore", "outside", "width"), ("Q1", "1"))
    assert fields(found)[1:] == [("bore", "inch"), ("outside", "inch"), ("width", "inch")]


def test_letters_of_a_drawing_make_a_heading_and_have_the_unit_above() -> None:
    found = table(("Shelf", "d", "D", "B"), ("QF-1", 20, 47, 14), ("QF-2", 25, 52, 15))
    assert found.columns[0].perhaps == "number"
    assert fields(found)[1:] == [("bore", ""), ("outside", ""), ("width", "")]
    found = table(("Part No.", "Size (in)", "", ""), ("", "d", "D", "B"), ("Q1", 1, 2, 0.5))
    assert fields(found)[1:] == [("bore", "inch"), ("outside", "inch"), ("width", "inch")]


def test_letters_of_shelves_make_no_heading() -> None:
    assert table(("QF-1", "B", "H"), ("QF-2", "D", "s")).heading.line == 0


@pytest.mark.parametrize("unit", ["mm", "(mm)", "[mm]"])
def test_unit_in_the_line_below_belongs_to_its_column(unit: str) -> None:
    found = table(("Part No.", "Bore", "Shelf"), ("", unit, ""), ("QF-1", "20", "A1"))
    assert fields(found) == [("number", ""), ("bore", "mm"), ("extra", "")]


def test_group_does_not_reach_over_a_column_of_another_name() -> None:
    heading = ("Part No.", "Serial", "", "Shelf", ""), ("", "from", "to", "", "row")
    found = table(*heading, ("QF-1", "1", "2", "A", "B"))
    assert [c.label for c in found.columns] == [
        "Part No.",
        "Serial from",
        "Serial to",
        "Shelf",
        "row",
    ]


def test_heading_of_two_lines_in_one_cell_is_one() -> None:
    found = meaning_of("Serial\nfrom"), meaning_of("Bore\n(in)"), meaning_of("Part\nNo.")
    assert [(m.field, m.unit) for m in found if m] == [
        ("serial from", ""),
        ("bore", "inch"),
        ("number", ""),
    ]


@pytest.mark.parametrize(
    "below",
    [("QF-2214", "chain case", "20"), ("QF-A", "bearing", ""), ("Gearbox", "", ""), ("", "", "7")],
    ids=["a part", "a part without digits", "the name of a group", "a size alone"],
)
def test_line_of_data_is_not_taken_for_the_rest_of_the_heading(below: Sequence[str]) -> None:
    found = table(("Part No.", "Description", "Bore"), below, ("QF-2", "draw hook", "21"))
    assert found.heading.line == 1


def test_title_above_is_no_part_of_the_heading() -> None:
    found = table(
        ("Parts of the Whimbrel", "", ""), ("Part No.", "Maker", "Bore"), ("QF-1", "Q", "2")
    )
    assert [c.label for c in found.columns] == ["Part No.", "Maker", "Bore"]


def test_lines_with_a_blank_one_between_are_not_put_together() -> None:
    found = table(("Serial", ""), ("", ""), ("from", "Part No."), ("x", "QF-1"))
    assert "serial from" not in [c.field for c in found.columns]


def test_both_lines_of_the_heading_are_known_again() -> None:
    heading = ("Part No.", "Serial", ""), ("", "from", "to")
    found = table(*heading, ("QF-1", "1", "2"), *heading, ("QF-2", "3", "4"))
    findings = Findings("parts.csv")
    assert [row.number for row in RowReader(found, "mm", findings).rows()] == ["QF-1", "QF-2"]
    kinds = ["heading line", "repeated heading", "repeated heading"]
    assert [f.kind for f in findings.listed()] == kinds


@pytest.mark.parametrize("lines", ["x\n", "Part No.\n"])
def test_heading_of_thousands_of_lines_means_nothing(lines: str) -> None:
    found = table(("Part No.", "Bore", lines * 3_000), DATA[:3])
    assert (found.columns[0].field, found.columns[2].field) == ("number", "extra")
