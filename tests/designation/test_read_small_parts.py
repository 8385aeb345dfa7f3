"""What a restorer types for small parts, lead screws, chain and bearing units."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from xref.designation import bearings_more, chains, lead_screw, small_parts
from xref.designation.lead_screw import turns_pitch
from xref.services.decode.decode import decode

MM = 1_000_000
INCH = 25_400_000


@pytest.mark.parametrize(
    ("text", "number"),
    [
        ("1/4 ball", "1/4 ball"),
        ('1/4" steel ball', "1/4 ball"),
        ("22 x 1/4 balls", "1/4 ball"),
        ("5/16 ball bearings x 9", "5/16 ball"),
        ("6.5 mm ball", "ball 6.5"),
        ("ball 7.938", "ball 7.938"),
        ("0.25 ball", "1/4 ball"),
        ("3x15.8 needle roller", "needle roller 3x15.8"),
        ("3 x 15,8", "needle roller 3x15.8"),
        ("No 4 taper pin", "taper pin No. 4"),
        ("#2/0 taper pin", "taper pin No. 2/0"),
        ("taper pin no. 6 x 2 in", "taper pin No. 6"),
        ("BS 46 1/4x1/4", "BS 46 1/4x1/4"),
        ("3/16 sq key", "BS 46 3/16x3/16"),
        ("No 9 woodruff", "WOODRUFF No. 9"),
        ("woodruff key #9", "WOODRUFF No. 9"),
        ("DIN 6799 - 9", "DIN 6799-9"),
        ("9 e-clip", "DIN 6799-9"),
        ("1/4 E-clip", "MS16633 1/4"),
        ("1/2 crescent circlip", "MS16632 1/2"),
        ("2 in internal circlip", "MS16625 2"),
        ("25mm external circlip", "DIN 471-25"),
        ("internal circlip 52", "DIN 472-52"),
        ("DIN 127 B M8", "DIN 127 M8"),
        ("M8 spring washer", "DIN 127 M8"),
        ("3/8 spring lock washer", "ASME B18.21.1 spring regular 3/8"),
        ("1/2 high collar spring washer", "ASME B18.21.1 spring high collar 1/2"),
        ("EN 15", "EN15"),
        ("B015", "BO15"),
        ("L17", "L17"),
        ("GE20ES-2RS", "GE20E"),
        ("GEH20ES-2RS", "GEH20ES-2RS"),
        ("UCP205", "UC205"),
        ("UCFL 205-16", "UC205-16"),
        ("520 chain", "chain 520"),
        ("520H x 112", "chain 520"),
        ("1/2 x 5/16 chain", "08B-1"),
        ("5/8x3/8", "10B-1"),
        ("5/8 x 3/8 duplex chain", "10B-2"),
        ("S45", "S45"),
        ("4L490", "4L490"),
        ("Tr20x4", "Tr 20x4"),
        ("TR 40 x 14 (P7) LH", "Tr 40x7"),
        ("1/2 Acme", "1/2 Acme"),
        ("3/4-6 acme", "3/4-6 Acme"),
        ("16tpi", "16 tpi"),
        ("1/4-20", "1/4-20 UNC"),
        ("10-32", "#10-32 UNF"),
        ("1/2-12", "1/2-12 BSW"),
        ("B&S 7", "Brown & Sharpe 7"),
        ("Jarno 6", "Jarno 6"),
        ("MT 4 1/2", "MT 4 1/2"),
    ],
)
def test_what_is_typed_is_read(text: str, number: str) -> None:
    assert number in [reading.designation for reading in decode(text).readings]


@pytest.mark.parametrize(
    ("text", "not_this"),
    [
        ("1/4 ball valve", "ball"),
        ("ball joint 16", "ball"),
        ("E15.5", "bearing"),
        ("UCP20", "bearing"),
        ("GE0E", "bearing"),
        ("521 chain", "chain"),
        ("1/2 x 7/16 chain", "chain"),
        ("0tpi", "thread"),
        ("1/4-19", "thread"),
        ("6L490", "belt"),
        ("No 44 taper pin x", "pin"),
        ("8-40", "thread"),
    ],
)
def test_what_is_near_is_not_taken_for_it(text: str, not_this: str) -> None:
    assert not_this not in [reading.kind for reading in decode(text).readings]


def test_428_is_a_chain_and_an_o_ring_and_both_are_shown() -> None:
    assert {reading.kind for reading in decode("428").readings} == {"o-ring", "chain"}


def test_how_many_balls_is_kept() -> None:
    (found,) = small_parts.read("22 x 1/4 balls")
    assert [feature.code for feature in found.features] == ["x22"]
    assert dict(found.sizes) == {"diameter": INCH // 4}


def test_a_small_decimal_ball_may_be_inches_or_millimetres() -> None:
    read = decode("0.5 ball").readings
    assert {reading.sizes["diameter"] for reading in read} == {INCH // 2, MM // 2}


def test_a_bearing_unit_names_the_insert_it_holds_and_its_housing() -> None:
    found = decode("UCP205-16").readings[0]
    assert found.canonical == "UCP205-16"
    assert found.sizes["bore"] == INCH
    assert "insert UC205-16 in housing P205" in found.note


def test_inch_thrust_needles_and_heavy_needles_are_sixteenths() -> None:
    # Common practice of trade numbers: 1625 is 1 in by 1-9/16 in; the thickness is from memory.
    (thrust,) = bearings_more.read("NTA-1625")
    assert dict(thrust.sizes) == {"bore": INCH, "outside": 25 * INCH // 16, "width": 5 * INCH // 64}
    (heavy,) = bearings_more.read("HJ-162412")
    assert dict(heavy.sizes) == {"bore": INCH, "outside": 3 * INCH // 2, "width": 3 * INCH // 4}
    assert all("by rule, no table known" in reading.note for reading in (thrust, heavy))


def test_a_light_belt_is_as_long_outside_as_its_number_in_tenths_of_an_inch() -> None:
    (belt,) = chains.read("4L490")
    assert dict(belt.sizes) == {"top-width": INCH // 2, "outside-length": 49 * INCH}


@given(st.integers(1, 200))
def test_turns_to_the_inch_are_a_pitch(turns: int) -> None:
    for text in (f"{turns}tpi", f"{turns} TPI", f"{turns} threads per inch"):
        assert turns_pitch(text) == round(INCH / turns)


@settings(max_examples=300)
@given(st.text('0123456789/.x- EBOLGSTRUCPFNAHJMKIDZ#"', max_size=16))
def test_any_text_is_read_or_left(text: str) -> None:
    for module in (small_parts, bearings_more, chains, lead_screw):
        if text.strip():
            for reading in module.read(text):
                assert reading.kind
                assert all(value > 0 for value in reading.sizes.values()), reading
