"""Needle bearings: metric drawn cups, machined rings, cages, thrust needles and inch drawn cups."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from xref.designation.bearing import read
from xref.designation.needle import sixteenths
from xref.domain.size import NM_PER_INCH, NM_PER_MM
from xref.tables import read_table


def mm(**sizes: float) -> dict[str, int]:
    """Sizes in millimetres as a reading holds them."""
    return {name: round(value * NM_PER_MM) for name, value in sizes.items()}


@pytest.mark.parametrize(
    ("text", "number", "type_", "sizes"),
    [
        # ISO 3245: bore Fw and width C.
        ("HK2020", "HK2020", "drawn cup needle, open", mm(bore=20, width=20)),
        ("hk 0408", "HK0408", "drawn cup needle, open", mm(bore=4, width=8)),
        ("BK1512", "BK1512", "drawn cup needle, closed end", mm(bore=15, width=12)),
        # ISO 1206 for NK; NKI is common usage.
        ("NK20/16", "NK20/16", "needle roller NK", mm(bore=20, width=16)),
        ("NK 20-16", "NK20/16", "needle roller NK", mm(bore=20, width=16)),
        ("NKI25/20", "NKI25/20", "needle roller NKI", mm(bore=25, width=20)),
        ("NA4904", "NA4904", "needle roller NA", mm(bore=20)),
        ("NA49/22", "NA49/22", "needle roller NA", mm(bore=22)),
        ("RNA4904", "RNA4904", "needle roller RNA", {}),
        # ISO 3030: Fw, Ew, Bc.
        ("K20x24x10", "K20X24X10", "needle cage", mm(bore=20, outside=24, width=10)),
        ("K 20 × 24 × 10", "K20X24X10", "needle cage", mm(bore=20, outside=24, width=10)),
        ("K25x29x9.8", "K25X29X9.8", "needle cage", mm(bore=25, outside=29, width=9.8)),
        # ISO 3031: three digits each from 100 up.
        ("AXK2035", "AXK2035", "thrust needle", mm(bore=20, outside=35)),
        ("AS75100", "AS75100", "thrust washer", mm(bore=75, outside=100)),
        ("LS100135", "LS100135", "thrust washer", mm(bore=100, outside=135)),
    ],
)
def test_needle_numbers_say_their_sizes(
    text: str, number: str, type_: str, sizes: dict[str, int]
) -> None:
    reading = read(text)[0]
    assert (reading.designation, reading.type) == (number, type_)
    assert dict(reading.sizes) == sizes
    assert reading.unknown == ()


@pytest.mark.parametrize(
    "text", ["HK20", "HK2000", "K24x20x10", "K20x24", "AXK3520", "AS568", "NK20", "NA4903.5"]
)
def test_what_breaks_the_rule_is_no_needle_bearing(text: str) -> None:
    assert [r for r in read(text) if "needle" in r.type or "thrust" in r.type] == []


def test_a_machined_number_without_its_stroke_needs_a_table() -> None:
    assert read("NK2016")[0].designation == "NK20/16"
    assert read("NK2016")[0].needs_table


def test_a_bearing_without_inner_ring_says_so() -> None:
    assert "without its inner ring" in read("RNA4904")[0].note


@pytest.mark.parametrize(
    ("digits", "bore", "width"),
    # Common usage, memory: B-1212 is 12/16 by 12/16 in; 108 splits 2+1, 812 splits 1+2.
    [
        ("1212", 12, 12),
        ("108", 10, 8),
        ("208", 20, 8),
        ("308", 30, 8),
        ("812", 8, 12),
        ("410", 4, 10),
        ("76", 7, 6),
    ],
)
def test_inch_drawn_cup_digits_are_sixteenths(digits: str, bore: int, width: int) -> None:
    assert sixteenths(digits) == (bore, width)
    (reading,) = [r for r in read(f"B-{digits}") if r.type == "drawn cup needle, inch"]
    assert reading.sizes == {
        "bore": int(Fraction(bore, 16) * NM_PER_INCH),
        "width": int(Fraction(width, 16) * NM_PER_INCH),
    }


@pytest.mark.parametrize("digits", ["", "8", "1208", "0812", "9908", "12121", "121"])
def test_digits_that_no_drawn_cup_has_are_refused(digits: str) -> None:
    assert sixteenths(digits) is None


@pytest.mark.parametrize(
    ("text", "number", "said"),
    [
        ("BH-1210", "BH-1210", "heavy section"),
        ("JH-1210", "JH-1210", "heavy section"),
        ("M-12121", "M-12121", "one closed end"),
        ("MJ-12121", "MJ-12121", "one closed end"),
    ],
)
def test_the_letters_of_an_inch_drawn_cup_say_more(text: str, number: str, said: str) -> None:
    (reading,) = [r for r in read(text) if r.type == "drawn cup needle, inch"]
    assert reading.designation == number
    assert said in reading.note
    assert reading.sizes["bore"] == NM_PER_INCH * 12 // 16


def test_without_a_dash_the_table_must_have_it() -> None:
    (reading,) = [r for r in read("B1212") if r.type == "drawn cup needle, inch"]
    assert (reading.designation, reading.needs_table) == ("B-1212", True)
    assert not read("B-1212")[0].needs_table


def test_the_sixteenths_rule_holds_for_every_row_of_the_table() -> None:
    for row in read_table("needle_drawn_cup_inch"):
        _, digits = row["designation"].split("-")
        assert sixteenths(digits) == (int(row["bore_16ths"]), int(row["width_16ths"])), row


@pytest.mark.parametrize(
    ("table", "columns"),
    [
        ("needle_drawn_cup", {"bore": "Fw_mm", "width": "C_mm"}),
        ("needle_cage_k", {"bore": "Fw_mm", "outside": "Ew_mm", "width": "Bc_mm"}),
        ("needle_machined", {"width": "B_mm"}),
    ],
)
def test_the_sizes_in_the_number_are_those_of_the_table(
    table: str, columns: dict[str, str]
) -> None:
    for row in read_table(table):
        sizes = read(row["designation"])[0].sizes
        for name, column in columns.items():
            if name in sizes:
                assert sizes[name] == round(float(row[column]) * NM_PER_MM), row


@given(st.integers(3, 99), st.integers(5, 60), st.sampled_from(["HK", "BK"]))
def test_a_drawn_cup_number_is_read_back(bore: int, width: int, letters: str) -> None:
    reading = read(f"{letters}{bore:02d}{width:02d}")[0]
    assert dict(reading.sizes) == mm(bore=bore, width=width)


@given(st.integers(3, 165), st.integers(1, 40), st.integers(5, 60))
def test_a_cage_number_is_read_back(bore: int, wall: int, width: int) -> None:
    reading = read(f"K{bore}x{bore + wall}x{width}")[0]
    assert dict(reading.sizes) == mm(bore=bore, outside=bore + wall, width=width)
