"""The standards' rows found by what is written on a part, and by dimension series."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from xref.designation.gost import iso_number
from xref.domain.part import Part
from xref.domain.weights import OTHER_SYSTEM
from xref.standards.families import FAMILIES, standard_parts
from xref.standards.gost import gost_numbers
from xref.standards.lookup import by_dimension_series, find
from xref.tables import read_table

MM = 1_000_000


def one(number: str, kind: str = "bearing") -> Part:
    """The one row that bears this number as its own."""
    found = [p for p in standard_parts() if p.number == number and p.kind == kind]
    assert len(found) == 1, [p.maker for p in found]
    return found[0]


def weights(part: Part) -> dict[str, float]:
    return {s.text: s.weight for s in part.spellings}


def numbers(designation: str) -> set[str]:
    return {part.number for part in find(designation)}


# Spellings and find


@pytest.mark.parametrize(
    ("written", "number"),
    [
        ("6204", "6204"),
        (" 62 04 ", "6204"),
        ("205", "6205"),
        ("306", "6306"),
        ("406", "6406"),
        ("6804", "61804"),
        ("6904", "61904"),
        ("5206", "3206"),
        ("5306", "3306"),
        ("32006X", "32006"),
        ("nu 206", "NU206"),
        ("62/22", "62/22"),
        ("25580", "25580/25520"),
        ("25520", "25580/25520"),
        ("25580/25520", "25580/25520"),
        ("b1212", "B-1212"),
        ("214", "AS568-214"),
        ("2-214", "ISO 3601-214"),
        ("-214", "AS568-214"),
        ("P25", "P25"),
        ("35x52x7", "35x52x7"),
        ("35-52-7", "35x52x7"),
        ("35×52×7", "35x52x7"),
        ("355207", "35x52x7"),
        ("035052", "35x52x7"),
        ("20x23x20", "20x23x20"),
        ("202320", "20x23x20"),
    ],
)
def test_a_row_is_found_by_what_is_written(written: str, number: str) -> None:
    assert number in numbers(written)


@pytest.mark.parametrize(
    ("written", "number"),
    [
        ("6204", "6304"),
        ("7206", "30206"),  # GOST: found by weight in a search, never by name
        ("32206", "NU206"),
        ("2206", "N206"),
        ("206", "30206"),
        ("5206", "6206"),
        ("6804", "6204"),
        ("35x52x7", "35x52x8"),
        ("99999", "6204"),
        ("", "6204"),
    ],
)
def test_a_row_is_not_found_by_another_number(written: str, number: str) -> None:
    assert number not in numbers(written)


@pytest.mark.parametrize("part", standard_parts()[::97], ids=lambda part: part.number)
def test_a_part_is_found_by_its_own_number(part: Part) -> None:
    assert part in find(part.number)


def test_a_cone_is_found_with_every_cup_it_goes_with() -> None:
    found = find("LM29749")
    assert {p.number for p in found} >= {"LM29749/LM29710", "LM29749/LM29711"}
    cones = {s.text for p in found for s in p.spellings if s.role == "cone"}
    assert cones == {"LM29749"}


@pytest.mark.parametrize(
    ("number", "spelling", "weight"),
    [
        ("6205", "6205", 1.0),
        ("6205", "205", 0.3),
        ("61804", "6804", 1.0),
        ("3206", "5206", 0.5),
        ("32006", "32006X", 0.8),
        ("30206", "7206", OTHER_SYSTEM),
        ("NU206", "32206", OTHER_SYSTEM),
        ("N206", "2206", OTHER_SYSTEM),
        ("51106", "8106", OTHER_SYSTEM),
        ("7206", "36206", OTHER_SYSTEM),
    ],
)
def test_a_spelling_counts_as_much_as_it_is_usual(
    number: str, spelling: str, weight: float
) -> None:
    assert weights(one(number))[spelling] == weight


@pytest.mark.parametrize(
    ("number", "never"),
    [
        ("6305", "205"),
        ("16005", "6005"),
        ("NU206", "206"),
        ("623", "23"),
        ("22206", "1506"),
        ("322/28", "75/28"),
    ],
)
def test_a_spelling_of_another_bearing_is_not_given(number: str, never: str) -> None:
    assert never not in weights(one(number))


def test_suffixes_follow_whole_bearings_but_not_the_halves_of_an_inch_taper() -> None:
    assert all(s.takes_suffix for s in one("6204").spellings)
    assert not any(s.takes_suffix for s in one("25580/25520").spellings)


def test_every_gost_spelling_reads_back_to_its_own_bearing() -> None:
    # The grammar of GOST 3189 reads from the right; the spellings are written the other way.
    count = 0
    for part in standard_parts():
        for number in gost_numbers(part.number):
            read = iso_number(number)
            assert read is not None, (part.number, number)
            assert read[0] == part.number, (part.number, number)
            count += 1
    assert count > 900


@pytest.mark.parametrize("number", ["6206", "1206", "623", "62/22", "HK2020", "", "6²04"])
def test_a_number_without_a_gost_number_of_its_own_gets_none(number: str) -> None:
    assert gost_numbers(number) == ()


@given(st.text(max_size=20))
def test_finding_never_fails(text: str) -> None:
    assert all(isinstance(part, Part) for part in find(text))


# Dimension series


@pytest.mark.parametrize(
    ("series", "bore", "has"),
    [("02", 20, "6204"), ("02", 20, "7204"), ("03", 25, "NU305"), ("22", 50, "22210")],
)
def test_a_dimension_series_names_its_bearings(series: str, bore: int, has: str) -> None:
    assert has in {part.number for part in by_dimension_series(series, bore * MM)}


def test_bearings_of_one_dimension_series_and_bore_share_outside_and_width() -> None:
    asked = {
        (row["dimension_series"], part.sizes["bore"].value)
        for name in ("deep_groove", "self_aligning", "spherical", "cylindrical", "angular_contact")
        for row in read_table(name)
        if row["dimension_series"]
        for part in (FAMILIES[name](row),)
    }
    shared = 0
    for series, bore in asked:
        parts = by_dimension_series(series, bore)
        assert len({(p.sizes["outside"], p.sizes["width"]) for p in parts}) <= 1, (series, bore)
        shared += len(parts) > 1
    assert shared > 200


@pytest.mark.parametrize("number", ["1224", "1226"])
def test_a_bearing_that_leaves_its_series_shows_nothing_about_it(number: str) -> None:
    part = one(number)
    near = by_dimension_series("02", part.sizes["bore"].value)
    assert part not in near
    assert {p.sizes["width"].value for p in near} == {40 * MM}


def test_an_unknown_series_or_bore_has_no_bearings() -> None:
    assert by_dimension_series("02", 21 * MM) == ()
    assert by_dimension_series("77", 20 * MM) == ()
