"""Bush call-outs: bore, outside, length; the wall tells a bush from a seal."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from xref.designation import shaft_seal
from xref.designation.bush import read
from xref.designation.three_sizes import bush_wall, like_a_seal
from xref.tables import read_table

MM = 1_000_000


@pytest.mark.parametrize(
    "text",
    [
        "20x23x20",
        "20 × 23 × 20 mm",
        "20-23-20",
        "202320",
        "bush 20x23x20",
        "wrapped bush 202320",
        "ISO 3547 20x23x20",
        "20x23x20 bushing",
    ],
)
def test_bore_outside_and_length_in_their_usual_writings(text: str) -> None:
    (reading,) = read(text)
    assert (reading.designation, reading.type) == ("20x23x20", "wrapped bush")
    assert reading.sizes == {"bore": 20 * MM, "outside": 23 * MM, "width": 20 * MM}
    assert (reading.unknown, reading.needs_table) == ((), False)


@pytest.mark.parametrize(
    "text", ["23x20x20", "35x52x7", "355207", "20232", "2023201", "6204", "seal 20x23x20", "20x23"]
)
def test_rows_of_numbers_that_are_no_bush_are_not_read(text: str) -> None:
    assert [r for r in read(text) if not r.needs_table] == []


@pytest.mark.parametrize(
    ("digits", "designation"),
    [
        ("060807", "6x8x7"),
        ("9095100", "90x95x100"),
        ("9510060", "95x100x60"),
        ("95100100", "95x100x100"),
        ("10010560", "100x105x60"),
        ("100105100", "100x105x100"),
    ],
)
def test_six_to_nine_digits_are_parted_where_the_wall_is_right(
    digits: str, designation: str
) -> None:
    assert [r.designation for r in read(digits) if r.type == "wrapped bush"] == [designation]


@pytest.mark.parametrize(
    ("sizes", "wall"),
    [
        # Walls of 0.75, 1, 1.5, 2 and 2.5 mm: rows of the ISO 3547 table.
        ((4, 5.5, 4), "wrapped"),
        ((18, 20, 25), "wrapped"),
        ((20, 23, 20), "wrapped"),
        ((40, 44, 40), "wrapped"),
        ((45, 50, 40), "wrapped"),
        # The wall of a neighbouring size.
        ((18, 21, 25), "solid"),
        ((40, 45, 40), "solid"),
        # A ring with the proportions of a seal.
        ((35, 52, 7), "none"),
    ],
    ids=str,
)
def test_the_wall_rule_of_iso_3547(sizes: tuple[float, float, float], wall: str) -> None:
    bore, outside, length = (round(size * MM) for size in sizes)
    assert bush_wall(bore, outside, length) == wall


@pytest.mark.parametrize(
    "row", read_table("plain_bush"), ids=lambda r: f"{r['d_mm']}x{r['D_mm']}x{r['L_mm']}"
)
def test_every_bush_of_the_tables_is_read_back(row: dict[str, str]) -> None:
    texts = (row["d_mm"], row["D_mm"], row["L_mm"])
    bore, outside, width = (round(float(text) * MM) for text in texts)
    (reading,) = read("x".join(texts))
    assert reading.sizes == {"bore": bore, "outside": outside, "width": width}


def test_no_size_of_the_seal_table_is_taken_for_a_bush_and_none_of_the_bushes_for_a_seal() -> None:
    seals = [
        (r["shaft_d1_mm"], r["bore_D_mm"], r["width_b_mm"]) for r in _table("shaft_seal_iso6194")
    ]
    bushes = [(r["d_mm"], r["D_mm"], r["L_mm"]) for r in _table("plain_bush")]
    for seal in seals:
        assert read("x".join(seal)) == ()
    for bush in bushes:
        assert shaft_seal.read("x".join(bush)) == ()


def _table(name: str) -> tuple[dict[str, str], ...]:
    return read_table(name)


def test_a_size_that_either_may_have_says_what_decides() -> None:
    bore, outside, width = 20 * MM, 26 * MM, 8 * MM
    assert like_a_seal(bore, outside, width)
    assert bush_wall(bore, outside, width) == "solid"
    (bush,), (seal,) = read("20x26x8"), shaft_seal.read("20x26x8")
    assert bush.decided_by == seal.decided_by != ""
    assert "lip" in bush.decided_by


def test_what_is_not_understood_is_listed() -> None:
    (reading,) = read("20x23x20 QW")
    assert reading.unknown == ("QW",)


@given(bore=st.integers(45, 99), length=st.integers(10, 99))
def test_digits_and_crosses_say_the_same(bore: int, length: int) -> None:
    (crosses,) = read(f"{bore}x{bore + 5}x{length}")
    assert crosses.sizes in [reading.sizes for reading in read(*crosses.also_written)]
