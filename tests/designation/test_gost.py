"""GOST 3189 numbers, read from the right, and those that mean another bearing in ISO numbers."""

from __future__ import annotations

import pytest

from xref.designation.bearing import read
from xref.designation.gost import iso_number
from xref.designation.reading import Reading


def standing(text: str) -> list[Reading]:
    """The readings that need no table's word."""
    return [reading for reading in read(text) if not reading.needs_table]


@pytest.mark.parametrize(
    ("text", "iso", "gost", "decides"),
    # The collisions of GOST 3189-89 and DIN 623-1 (memory).
    [
        ("7206", "7206", "30206", "whether the cup lifts off"),
        ("7306", "7306", "30306", "whether the cup lifts off"),
        ("32206", "32206", "NU206", "whether the cup lifts off"),
        ("2206", "2206", "N206", "balls or rollers"),
        ("2306", "2306", "N306", "balls or rollers"),
    ],
)
def test_a_number_of_both_systems_gives_both_and_what_decides(
    text: str, iso: str, gost: str, decides: str
) -> None:
    first, second = standing(text)
    assert (first.designation, first.numbering) == (iso, "ISO")
    assert (second.designation, second.numbering) == (gost, "GOST 3189")
    for reading in (first, second):
        assert reading.measure == "the width"
        assert decides in reading.decided_by


@pytest.mark.parametrize("text", ["6206", "1206", "30206", "51106", "NU206", "22210", "3206"])
def test_a_number_of_one_system_has_one_reading_and_nothing_to_decide(text: str) -> None:
    (reading,) = standing(text)
    assert reading.numbering == "ISO"
    assert reading.decided_by == ""


@pytest.mark.parametrize(
    ("gost", "iso"),
    # 205, 7206, 8106, 32205 stand in GOST 3189-89 (memory); the rest is from memory.
    [
        ("205", "6205"),
        ("105", "6005"),
        ("7206", "30206"),
        ("7506", "32206"),
        ("7606", "32306"),
        ("8106", "51106"),
        ("32205", "NU205"),
        ("42205", "NJ205"),
        ("92205", "NUP205"),
        ("32506", "NU2206"),
        ("1506", "2206"),
        ("1606", "2306"),
        ("3506", "22206"),
        ("53610", "22310"),
        ("9106", "81106"),
        ("1000905", "61905"),
        ("1000098", "619/8"),
        ("7000105", "16005"),
        ("2007106", "32006"),
        ("3056206", "3206"),
        ("4074905", "NA4905"),
        ("27306", "31306"),
    ],
)
def test_digits_read_from_the_right_give_the_iso_number(gost: str, iso: str) -> None:
    found = iso_number(gost)
    assert found is not None
    assert found[0] == iso


@pytest.mark.parametrize(
    ("text", "code"),
    # From memory, common practice.
    [("60205", "Z"), ("80205", "2Z"), ("160205", "RS"), ("180205", "2RS"), ("50205", "N")],
)
def test_the_design_digits_are_shields_seals_and_grooves(text: str, code: str) -> None:
    (reading,) = standing(text)
    assert reading.designation == "6205"
    assert [feature.code for feature in reading.features] == [code]
    assert "from memory" in reading.features[0].meaning


@pytest.mark.parametrize(("text", "code"), [("36206", "C"), ("46206", "AC"), ("66206", "B")])
def test_the_design_digits_of_angular_contact_are_angles(text: str, code: str) -> None:
    (reading,) = standing(text)
    assert reading.designation == "7206"
    assert [feature.code for feature in reading.features] == [code]


def test_a_small_closed_bearing_has_its_bore_in_the_last_digit() -> None:
    (reading,) = standing("80018")
    assert (reading.designation, reading.sizes) == ("608", {"bore": 8_000_000})


@pytest.mark.parametrize("number", ["9999", "4206", "5206", "6206", "77777", "1234567"])
def test_a_rule_that_is_not_known_gives_no_number(number: str) -> None:
    assert iso_number(number) is None


def test_a_trade_suffix_shows_that_the_number_is_no_gost_number() -> None:
    assert [r.designation for r in standing("7206B")] == ["7206"]
    assert [r.designation for r in standing("32206 J")] == ["32206"]


def test_the_word_gost_leaves_that_reading_alone() -> None:
    (reading,) = read("GOST 7206")
    assert reading.designation == "30206"
    assert "7206" in reading.note


def test_a_class_before_the_number_is_a_feature() -> None:
    (reading,) = standing("6-205")
    assert reading.designation == "6205"
    assert reading.features[0].code == "6"


@pytest.mark.parametrize(("text", "number"), [("205", "6205"), ("306", "6306"), ("406", "6406")])
def test_old_three_digit_numbers_are_the_62_63_64_series(text: str, number: str) -> None:
    # Common practice, no published source; GOST 3189-89 has the same.
    reading = read(text)[0]
    assert (reading.designation, reading.numbering) == (number, "old three-digit")
    assert reading.needs_table


@pytest.mark.parametrize("text", ["205 Q7", "997", "505", "2055"])
def test_an_old_number_beside_something_strange_is_not_read(text: str) -> None:
    assert [r for r in read(text) if r.numbering == "old three-digit"] == []


def test_108_has_all_its_readings() -> None:
    # From memory: GOST for 6008, a self-aligning 108, an inch drawn cup of 10/16 in bore.
    found = {r.designation for r in read("108")}
    assert {"108", "6008", "B-108"} <= found
    assert all(r.measure or r.decided_by for r in standing("108"))
