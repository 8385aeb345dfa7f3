"""How other families of standard parts are called, and what decides between them."""

from __future__ import annotations

import pytest

from tests.services.decoding import MM, only
from xref.services.decode.decode import decode


@pytest.mark.parametrize(
    ("text", "designation", "type_"),
    [
        ("52205", "52205", "double direction thrust ball"),
        ("SNL 510", "SNL 510", "plummer block"),
        ("SNL 510-608", "SNL 510-608", "plummer block"),
        ("14x18x1.5 copper washer", "DIN 7603 A 14x18x1.5", "sealing washer"),
        ("M6x1 grease nipple", "DIN 71412 A M6x1", "grease nipple"),
        ("grease nipple M8 90°", "DIN 71412 C M8", "grease nipple"),
        ("#60 chain", "ASME 60", "roller chain"),
        ("60-2 chain", "ASME 60-2", "roller chain"),
        ("08B roller chain", "08B-1", "roller chain"),
    ],
)
def test_a_part_is_known_by_the_way_it_is_called(text: str, designation: str, type_: str) -> None:
    found = only(text)
    assert (found.designation, found.type, found.unknown) == (designation, type_, ())
    assert found.tables_agreeing > 0


def test_three_sizes_of_a_copper_washer_come_before_those_of_a_seal_not_made() -> None:
    kinds = [reading.kind for reading in decode("14x18x1.5").readings]
    assert kinds == ["washer", "shaft seal"]


def test_a_call_out_that_lacks_a_size_names_those_it_may_be() -> None:
    found = only("DIN 7603 14x18")
    assert found.tables_agreeing == 0
    assert "DIN 7603 A 14x18x1.5" in found.note


@pytest.mark.parametrize(
    ("text", "standard"),
    [("12x18x12", "ISO 2795"), ("3/4x7/8x3/4 in", "inch wrapped bush (SAE J / ISO 3547 manner)")],
)
def test_a_bush_of_another_standard_is_not_measured_by_iso_3547(text: str, standard: str) -> None:
    found = only(text)
    assert found.standard == standard
    assert "not the wall" not in found.note


def test_a_belt_above_210_is_shorter_than_its_number_says() -> None:
    # RMA IP-20:1988, memory: from B 210 up the outside is 1.5 in less than number + 3.
    found = only("B240")
    assert found.sizes["outside-length"] == round(241.5 * 25_400_000)
    assert "less than the number says" in found.note


def test_a_whitworth_spanner_names_both_hexagons_and_what_decides() -> None:
    found = only("1/2W")
    assert found.sizes == {"across-flats": round(0.92 * 25_400_000)}
    assert "1/2 BSW large hexagon" in found.note
    assert "9/16 BSF/BSW small hexagon" in found.note
    assert "pitch" in found.note


def test_a_thread_that_is_also_stamped_on_spanners_is_a_thread_first() -> None:
    for text, thread in (("1/2 BSW", "1/2 BSW"), ("2BA", "2 BA")):
        first, *rest = decode(text).readings
        assert (first.kind, first.designation) == ("thread", thread)
        assert {reading.type for reading in rest} == {"spanner"}


def test_two_marks_of_one_spanner_are_one_reading_and_of_two_ends_are_two() -> None:
    assert len(decode("1/4 W 5/16 BS").readings) == 1
    assert len(decode("1/4 W 5/16 W").readings) == 2


@pytest.mark.parametrize(
    ("text", "type_", "sizes", "says"),
    [
        # The sleeve table: H210 and its like take KM10 (M50 × 1.5) with MB10.
        ("KM10", "sleeve nut", {"diameter": 50, "pitch": 1.5, "outside": 70}, ("MB10", "H210")),
        ("KM 10", "sleeve nut", {"diameter": 50, "pitch": 1.5, "outside": 70}, ("H310",)),
        ("MB10", "lock washer", {}, ("KM10", "H210")),
    ],
)
def test_the_nut_of_a_sleeve_names_its_thread_and_its_sleeves(
    text: str, type_: str, sizes: dict[str, float], says: tuple[str, ...]
) -> None:
    found = only(text)
    assert found.type == type_
    assert found.sizes == {name: round(value * MM) for name, value in sizes.items()}
    assert all(name in found.note for name in says)


@pytest.mark.parametrize("text", ["KM999", "MB0", "KM10x1.5", "HM1"])
def test_a_nut_that_no_sleeve_has_is_none(text: str) -> None:
    assert all(r.type not in ("sleeve nut", "lock washer") for r in decode(text).readings)
