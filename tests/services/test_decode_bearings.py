"""Bearings decoded: numbers of two systems, halves of tapers, rows that the tables lack."""

from __future__ import annotations

import pytest

from tests.services.decoding import MM, MOST_READINGS, made, only
from xref.domain.part import Part, Spelling, StoredSize
from xref.domain.weights import ORIGIN_STANDARD
from xref.services.decode.decode import decode
from xref.services.decode.tables import look_up
from xref.standards import families, lookup


def test_a_number_of_two_systems_gives_both_and_the_width_that_decides() -> None:
    # GOST 3189: 7206 is a taper of series 302; widths of ISO 15 and ISO 355.
    answer = decode("7206")
    assert [reading.designation for reading in answer.readings] == ["7206", "30206"]
    assert "width 16 mm: angular contact ball 7206" in answer.decided_by
    assert "17.25 mm: tapered roller 30206" in answer.decided_by
    assert "GOST 3189" in answer.readings[1].note


def test_an_old_bearing_number_and_a_dash_number_are_told_apart_by_what_they_are() -> None:
    answer = decode("214")
    assert {reading.kind for reading in answer.readings} == {"bearing", "o-ring"}
    assert "rolling bearing: 6214" in answer.decided_by
    assert "ring of rubber: AS568-214" in answer.decided_by


def test_a_cone_alone_has_a_bore_and_the_cups_it_goes_with() -> None:
    # 25580: bore 1.7500 in; the inch taper table.
    reading = only("25580")
    assert reading.sizes["bore"] == 44_450_000
    assert "outside" not in reading.sizes
    assert "width" not in reading.sizes
    assert "the cone alone" in reading.note
    assert "25580/25520" in reading.note


def test_a_cup_alone_has_an_outside_diameter_and_no_bore() -> None:
    # 25520: outside diameter 3.2650 in; the inch taper table.
    reading = only("25520")
    assert reading.sizes["outside"] == 82_931_000
    assert "bore" not in reading.sizes
    assert "25580" in reading.note


def test_a_pair_is_one_bearing_with_its_assembled_width() -> None:
    reading = only("25580/25520")
    assert {"bore", "outside", "width"} <= set(reading.sizes)


def test_a_missing_row_takes_the_sizes_of_its_dimension_series_and_says_so() -> None:
    # ISO 15: dimension series 02, bore 35 is 72 x 17.
    reading = made("6207Q", sizes={"bore": 35 * MM}, dimension_series="02")
    (found,) = look_up(reading)
    assert found.sizes == {"bore": 35 * MM, "outside": 72 * MM, "width": 17 * MM}
    assert found.tables_agreeing == 0
    assert "not in our tables; sizes of ISO 15 dimension series 02, bore 35 mm" in found.notes[0]


def test_a_missing_row_without_a_series_keeps_only_what_its_digits_say() -> None:
    (found,) = look_up(made("69999", sizes={"bore": 495 * MM}))
    assert (dict(found.sizes), found.tables_agreeing) == ({"bore": 495 * MM}, 0)
    assert "only what the number itself says" in found.notes[0]


def test_a_dash_that_alone_tells_two_numbers_apart_counts() -> None:
    # R1-4 has a bore of 5/64 in, R14 of 7/8 in: the inch ball bearing table.
    assert only("R1-4").sizes["bore"] == 1_984_375
    assert only("R14").sizes["bore"] == 22_225_000


def test_a_number_of_another_type_that_is_written_alike_is_not_taken() -> None:
    # 214 by the grammar may be half of an inch taper; the only bearing 214 is an old 6214.
    assert [r.designation for r in decode("214").readings if r.kind == "bearing"] == ["6214"]


def test_writings_of_the_bare_bearing_are_not_given_to_one_with_seals() -> None:
    assert "6818" in only("61818").also_written
    sealed = only("61818-2RS").also_written
    assert "6818" not in sealed
    assert "6818-2RS" in sealed


def test_a_number_that_is_a_cone_and_a_cup_gives_both_with_the_size_that_decides(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    # No row of the inch taper table has one number as a cone and as a cup: these two are made up.
    pairs = [
        Part(
            number=f"{cone}/{cup}",
            maker="inch series (ABMA)",
            kind="bearing",
            group=cone,
            origin=ORIGIN_STANDARD,
            weight=1.0,
            type="tapered roller, inch",
            sizes={name: StoredSize(mm * MM) for name, mm in sizes.items()},
            spellings=(Spelling(cone, 1.0, "cone"), Spelling(cup, 1.0, "cup")),
            tables_agreeing=2,
        )
        for cone, cup, sizes in (
            ("80808", "80802", {"bore": 70, "outside": 130}),
            ("80806", "80808", {"bore": 75, "outside": 140}),
        )
    ]
    monkeypatch.setattr(lookup, "find", lambda _: pairs)
    answer = decode("80808")
    assert [reading.type.split(", ")[-1] for reading in answer.readings] == ["cone", "cup"]
    assert [dict(reading.sizes) for reading in answer.readings] == [
        {"bore": 70 * MM},
        {"outside": 140 * MM},
    ]
    assert "bore 70 mm" in answer.decided_by
    assert "outside 140 mm" in answer.decided_by


def test_a_row_that_was_two_cones_is_no_bearing() -> None:
    # By the last two digits both halves were cones (common usage), and one table alone had it.
    assert decode("H917840/H917840").readings == ()


@pytest.mark.parametrize(
    ("text", "designations", "half", "size", "nm"),
    [
        # The inch taper table: cup 7204 is 2.0470 in, 7205 52 mm outside; cone 336 is 1.6250 in.
        ("7204", ["7204", "30204", "7204"], "cup", "outside", 51_993_800),
        ("7205", ["7205", "30205", "7205"], "cup", "outside", 52 * MM),
        ("336", ["6336", "336", "AS568-336"], "cone", "bore", 41_275_000),
    ],
)
def test_a_number_of_another_system_is_also_half_of_an_inch_taper(
    text: str, designations: list[str], half: str, size: str, nm: int
) -> None:
    answer = decode(text)
    assert [reading.designation for reading in answer.readings] == designations
    (taper,) = (r for r in answer.readings if r.type == f"tapered roller, inch, {half}")
    assert taper.designation == text
    assert taper.sizes[size] == nm
    assert answer.decided_by


def test_no_half_of_the_inch_taper_table_is_hidden_by_what_else_its_number_may_be() -> None:
    halves = {
        (spelling.text, spelling.role)
        for part in families.standard_parts()
        for spelling in part.spellings
        if spelling.role in ("cone", "cup")
    }
    assert halves
    readings = {number: decode(number).readings for number, _ in halves}
    hidden = [
        (number, role)
        for number, role in halves
        if (number, f"tapered roller, inch, {role}")
        not in [(r.designation, r.type) for r in readings[number]]
    ]
    assert hidden == []
    assert max(len(found) for found in readings.values()) <= MOST_READINGS


def test_a_three_digit_number_has_few_readings() -> None:
    assert max(len(decode(str(n)).readings) for n in range(100, 1000)) <= MOST_READINGS


def test_a_stroke_in_the_number_counts() -> None:
    # 62/22 has a 22 mm bore; 6222 has 110 mm.
    (found,) = look_up(made("62/22", sizes={"bore": 22 * MM}))
    assert found.sizes["bore"] == 22 * MM
