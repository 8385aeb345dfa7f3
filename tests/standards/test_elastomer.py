"""Rubber against fluids, and the little that hardness says."""

from __future__ import annotations

import pytest

from xref.errors import InputError
from xref.standards.elastomer import FLUIDS, RATINGS, hardness_agrees, suits
from xref.tables import read_table

RUBBERS = read_table("elastomer")
CODES = [rubber["code"] for rubber in RUBBERS]


@pytest.mark.parametrize(
    ("code", "fluid", "rating"),
    [
        ("NBR", "mineral oil", "suited"),
        ("NBR", "glycol brake fluid", "not to be used"),
        ("EPDM", "mineral oil", "not to be used"),
        ("EPDM", "glycol brake fluid", "suited"),
        ("FKM", "petrol", "suited"),
        ("VMQ", "steam", "not to be used"),
        ("nbr", " Mineral  Oil ", "suited"),
    ],
)
def test_a_rubber_stands_some_fluids_and_fails_in_others(
    code: str, fluid: str, rating: str
) -> None:
    # General tables of rubbers and fluids, several agreeing (elastomer.csv, basis); no standard.
    assert suits(code, fluid).rating == rating


def test_ratings_are_words_of_our_own_and_no_grades_of_a_handbook() -> None:
    said = {rubber[column] for rubber in RUBBERS for column in FLUIDS.values()}
    assert said == {"suited", "fair", "poor", "not to be used"} == set(RATINGS)


@pytest.mark.parametrize(("old", "code"), [("FPM", "FKM"), ("MVQ", "VMQ")])
def test_the_older_symbols_are_the_same_rubber(old: str, code: str) -> None:
    assert suits(old, "petrol") == suits(code, "petrol")


@pytest.mark.parametrize("code", ["NBR", "HNBR", "FKM", "ACM"])
def test_mineral_oil_rubber_is_warned_of_in_glycol_brake_fluid(code: str) -> None:
    found = suits(code, "glycol brake fluid")
    assert "Mineral-oil rubber fails in glycol brake fluid." in found.caution
    assert "qualified person" in found.caution


@pytest.mark.parametrize("code", ["EPDM", "NR", "SBR", "IIR"])
def test_brake_fluid_rubber_is_warned_of_in_mineral_oil(code: str) -> None:
    assert (
        "Brake-fluid rubber swells and fails in mineral oil." in suits(code, "mineral oil").caution
    )


@pytest.mark.parametrize(
    ("code", "fluid"), [("NBR", "mineral oil"), ("FKM", "mineral oil"), ("EPDM", "water")]
)
def test_a_sourced_and_suited_rubber_needs_no_caution(code: str, fluid: str) -> None:
    found = suits(code, fluid)
    assert found.sourced
    assert found.caution == ""


@pytest.mark.parametrize("code", CODES)
def test_every_brake_answer_defers_to_the_maker(code: str) -> None:
    assert "maker's data, by a qualified person" in suits(code, "glycol brake fluid").caution


@pytest.mark.parametrize("code", CODES)
def test_an_unsourced_rating_is_never_shown_as_sourced(code: str) -> None:
    (row,) = (row for row in read_table("elastomer") if row["code"] == code)
    for fluid, column in FLUIDS.items():
        found = suits(code, fluid)
        assert found.sourced == (column not in row["from_memory"])
        assert ("from memory" in found.caution) == (not found.sourced)
        assert found.conflict == row["conflict"]


def test_a_poor_rating_always_carries_a_caution() -> None:
    found = [suits(code, fluid) for code in CODES for fluid in FLUIDS]
    assert all(one.caution for one in found if one.rating in RATINGS[2:])


def test_temperatures_run_upward() -> None:
    assert all(int(r["temp_min_c"]) < 0 < int(r["temp_max_c"]) for r in RUBBERS)
    assert len(set(CODES)) == len(CODES) == 13


@pytest.mark.parametrize("code", ["", "XYZ", "NBR\x00", "N" * 1000])
def test_an_unknown_rubber_is_refused_with_the_choices(code: str) -> None:
    with pytest.raises(InputError) as caught:
        suits(code, "water")
    assert "NBR" in caught.value.hint
    assert caught.value.message.isprintable()


@pytest.mark.parametrize("fluid", ["", "soup", "brake fluid"])
def test_an_unknown_fluid_is_refused_with_the_choices(fluid: str) -> None:
    with pytest.raises(InputError) as caught:
        suits("NBR", fluid)
    assert "glycol brake fluid" in caught.value.hint


# ±5 on new rubber: common practice, no published source; how much old rubber hardens is judged.
@pytest.mark.parametrize(
    ("reading", "named", "agrees"),
    [
        (70, 70, True),
        (85, 70, True),
        (65, 70, True),
        (60, 70, False),
        (55, 40, True),
        (65, 40, False),
    ],
)
def test_old_rubber_may_read_harder_but_not_softer(reading: int, named: int, agrees: bool) -> None:
    assert hardness_agrees(reading, named) is agrees


def test_one_reading_fits_several_hardnesses_so_it_is_weak_evidence() -> None:
    assert sum(hardness_agrees(75, named) for named in range(40, 91, 10)) >= 2
