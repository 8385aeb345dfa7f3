"""Shaft seal call-outs: marked sizes, type letters with what they rest on, six-digit codes."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from xref.designation.reading import Reading
from xref.designation.shaft_seal import read
from xref.tables import read_table

MM = 1_000_000


def only(text: str) -> Reading:
    """The one reading of ``text``."""
    (reading,) = read(text)
    return reading


@pytest.mark.parametrize(
    "text",
    [
        "35x52x7",
        "35 x 52 x 7 mm",
        "35×52×7",
        "35*52*7",
        "35-52-7",
        "35/52/7",
        "35 52 7",
        "35.0x52.0x7.0",
        "355207",
        "oil seal 35x52x7",
        "DIN 3760 35x52x7",
        "ISO 6194-1 35-52-7",
    ],
)
def test_shaft_then_housing_bore_then_width(text: str) -> None:
    # Order d1 x D x b and the separators: common practice, no published source.
    reading = only(text)
    assert reading.designation == "35x52x7"
    assert reading.sizes == {"bore": 35 * MM, "outside": 52 * MM, "width": 7 * MM}
    assert reading.unknown == ()


@pytest.mark.parametrize(
    "text",
    [
        "52x35x7",
        "35x52",
        "35x52x7x9",
        "1-35-52-7",
        "20x23x20",
        "202320",
        "35520",
        "3552077",
        "6204",
        "bush 35x52x7",
        "K35x52x7",
        "035x52x0",
        "1,250x52x7",
    ],
)
def test_rows_of_numbers_that_are_no_seal_are_not_read(text: str) -> None:
    assert read(text) == ()


def test_a_fraction_makes_all_three_sizes_inches() -> None:
    reading = only("1-3/8 x 2 x 1/4 TC")
    assert reading.sizes == {"bore": 34_925_000, "outside": 50_800_000, "width": 6_350_000}
    assert reading.numbering == "inch"


def test_two_widths_are_not_taken_for_a_fraction_of_an_inch() -> None:
    # "/" parts a second width: common practice, no published source.
    reading = only("35x52x7/8 AS")
    assert reading.sizes["width"] == 7 * MM
    assert reading.unknown == ("8",)


@pytest.mark.parametrize("code", ["A", "AS", "B", "BS", "C", "CS"])
def test_letters_of_din_3760_are_standard(code: str) -> None:
    (feature,) = only(f"35x52x7 {code}").features
    assert (feature.code, feature.basis) == (code, "standard")
    assert "DIN 3760" in feature.meaning


@pytest.mark.parametrize(
    "text", ["35x52x7 TC", "35x52x7TC", "TC 35x52x7", "TC35x52x7", "TC 355207"]
)
def test_trade_letters_stand_before_or_after_and_are_common_usage(text: str) -> None:
    (feature,) = only(text).features
    assert (feature.code, feature.basis) == ("TC", "common usage")
    assert "two lips" in feature.meaning
    assert "not a standard" in feature.meaning


@pytest.mark.parametrize(
    ("code", "words"),
    [("SC", "one list calls SC metal-cased"), ("TB", "one lip"), ("TCN", "pressure")],
)
def test_where_sellers_contradict_each_other_the_reading_says_so(code: str, words: str) -> None:
    (feature,) = only(f"35x52x7 {code}").features
    assert words in feature.meaning


def test_letters_that_stand_in_two_systems_are_given_in_both() -> None:
    features = only("35x52x7 SA").features
    assert sorted(f.basis for f in features) == ["common usage", "standard"]


def test_a_type_number_of_iso_6194_is_a_standard_feature() -> None:
    (feature,) = only("ISO 6194-1 type 4 35x52x7").features
    assert (feature.code, feature.basis) == ("type 4", "standard")


def test_unknown_letters_and_rubber_are_kept_apart() -> None:
    reading = only("35x52x7 HMQ TC NBR")
    assert [f.code for f in reading.features] == ["TC", "NBR"]
    assert reading.canonical == "35x52x7 TC NBR"
    assert reading.unknown == ("HMQ",)


def test_three_digits_a_size_give_shaft_and_bore_and_no_width() -> None:
    # JIS B 2402-1 size code, "020035 for 20 x 35": memory.
    reading = only("020035")
    assert reading.sizes == {"bore": 20 * MM, "outside": 35 * MM}
    assert "one source" in reading.note


@pytest.mark.parametrize("row", read_table("shaft_seal_iso6194"), ids=lambda r: "x".join(sizes(r)))
def test_every_size_of_the_table_is_read_back(row: dict[str, str]) -> None:
    bore, outside, width = (round(float(text) * MM) for text in sizes(row))
    wanted = {"bore": bore, "outside": outside, "width": width}
    for separator in "x-/":
        assert [dict(r.sizes) for r in read(separator.join(sizes(row)))] == [wanted]


def sizes(row: dict[str, str]) -> tuple[str, str, str]:
    """Shaft, bore and width as the table writes them."""
    return row["shaft_d1_mm"], row["bore_D_mm"], row["width_b_mm"]


@given(
    bore=st.integers(5, 99), ring=st.integers(8, 30), width=st.integers(3, 12), cross=st.booleans()
)
def test_sizes_are_read_back_from_what_is_also_written(
    bore: int, ring: int, width: int, cross: bool
) -> None:
    text = f"{bore}x{bore + ring}x{width}" if cross else f"{bore}-{bore + ring}-{width}"
    found = read(text)
    assert [r.designation for r in found] == [f"{bore}x{bore + ring}x{width}"]
    for writing in found[0].also_written:
        assert found[0].sizes in [r.sizes for r in read(writing)]
