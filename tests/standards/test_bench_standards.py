"""``scripts/bench standards``: how well each family is borne out."""

from __future__ import annotations

import pytest

from scripts.benches.standards import ORDER, report, standing
from xref.designation import read
from xref.tables import read_table

pytestmark = pytest.mark.slow


def test_a_family_of_one_source_says_so_for_all_its_rows() -> None:
    one = standing("magneto_bearing")
    assert (one.rows, one.from_one) == (34, 34)
    assert dict(one.by_column) == {"bore": 1, "outside": 1, "width": 1}
    assert one.rule == ORDER


def test_a_family_with_dimension_series_is_held_to_them() -> None:
    one = standing("cylindrical_more")
    assert (one.rule, one.checked, one.failed) == ("dimension series", 113, ())
    assert set(standing("self_aligning").failed) == {"1224", "1226"}  # they leave their series


def test_sources_are_counted_by_column_where_a_table_tells_them_apart() -> None:
    by_column = dict(standing("tapered_inch").by_column)
    assert by_column["bore"] > by_column["cone-width"] >= 1


def test_the_report_has_a_line_a_family_the_thinnest_first() -> None:
    lines = report(("deep_groove", "steel_ball")).splitlines()
    assert [line.split()[0] for line in lines[:3]] == ["family", "steel_ball", "deep_groove"]
    assert "653 rows" in lines[4]


def test_every_gost_ring_is_read_by_its_number_with_half_millimetres_too() -> None:
    for line in read_table("oring_gost"):
        number = line["designation"]
        assert number in [r.designation for r in read(number) if r.kind == "o-ring"], number
        rod, cylinder = float(line["rod_mm"]), float(line["cylinder_mm"])
        inside, section = float(line["inside_mm"]), float(line["section_mm"])
        assert inside < rod < cylinder, number
        assert (cylinder - rod) / 2 <= section, number
