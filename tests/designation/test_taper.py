"""Inch tapers: pairs, their short writing, and a cone or cup alone."""

from __future__ import annotations

import pytest

from xref.designation.bearing import read
from xref.designation.reading import Reading
from xref.designation.taper import half_of
from xref.tables import read_table

INCH = "tapered roller, inch"


def tapers(text: str) -> list[Reading]:
    """The readings as inch tapers."""
    return [reading for reading in read(text) if reading.type == INCH]


@pytest.mark.parametrize(
    "text", ["25580/25520", "25580 / 25520", "25580-25520", "25580 25520", "25580+25520"]
)
def test_a_pair_is_cone_then_cup(text: str) -> None:
    (reading,) = tapers(text)
    assert reading.designation == "25580/25520"
    assert reading.needs_table
    assert reading.sizes == {}


@pytest.mark.parametrize(
    "text", ["LM11949/LM11910", "lm11949/lm11910", "LM 11949/LM 11910", "LM11949/10"]
)
def test_a_lettered_pair_shows_by_its_last_digits_that_it_is_one(text: str) -> None:
    (reading,) = tapers(text)
    assert reading.designation == "LM11949/LM11910"
    assert not reading.needs_table
    assert "LM11949/10" in reading.also_written or text.endswith("/10")


def test_two_digits_after_a_number_without_letters_are_not_spread() -> None:
    assert "25580/25510" not in [r.designation for r in tapers("25580/10")]


@pytest.mark.parametrize(
    ("number", "which"),
    # Common usage: the last two digits are 30 to 49 on a cone, 10 to 19 on a cup.
    [
        ("LM11949", "cone"),
        ("LM11910", "cup"),
        ("JLM506849A", "cone"),
        ("HM803110", "cup"),
        ("25580", ""),
        ("LM11960", ""),
    ],
)
def test_the_last_digits_of_a_lettered_number_tell_cone_from_cup(number: str, which: str) -> None:
    assert half_of(number) == which


@pytest.mark.parametrize("text", ["25580", "LM11949", "JLM506849", "07100", "A4050", "3767"])
def test_a_half_alone_needs_a_tables_word(text: str) -> None:
    (reading,) = [r for r in tapers(text) if r.designation == text]
    assert reading.needs_table
    assert reading.numbering == "inch"


@pytest.mark.parametrize("text", ["25580 Q", "hello", "35x52x7", "1234567", "25580.5"])
def test_a_half_with_anything_beside_it_is_none(text: str) -> None:
    assert [r for r in tapers(text) if "/" not in r.designation] == []


def test_07100_and_7100_stay_two_numbers() -> None:
    # Both series may exist, or a table lost the zero.
    assert [r.designation for r in tapers("07100")] == ["07100"]
    assert [r.designation for r in tapers("7100")] == ["7100"]


def test_every_pair_of_the_table_is_read_as_itself_and_so_are_its_halves() -> None:
    for row in read_table("tapered_inch"):
        pair = f"{row['cone']}/{row['cup']}"
        assert pair in [r.designation for r in tapers(pair)], pair
        for number in (row["cone"], row["cup"]):
            assert number in [r.designation for r in tapers(number)], number


def test_the_rule_of_the_last_digits_holds_for_most_lettered_numbers_of_the_table() -> None:
    # Common usage; 344 of the 362 pairs keep it, so it is a hint only.
    rows = [r for r in read_table("tapered_inch") if r["cone"][0].isalpha()]
    said = [(half_of(r["cone"]), half_of(r["cup"])) for r in rows]
    assert said.count(("cone", "cup")) >= 0.94 * len(rows)
