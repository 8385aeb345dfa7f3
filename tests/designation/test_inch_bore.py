"""An inch bore behind a metric number: common practice, no published source."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from xref.designation.bearing import read
from xref.designation.inch_bore import makes_sense
from xref.designation.reading import PRACTICE
from xref.domain.size import NM_PER_INCH, NM_PER_MM
from xref.services.decode.decode import decode


@pytest.mark.parametrize(
    ("text", "metric", "inches"),
    [
        ("6203-10", "6203", "5/8"),
        ("6203-5/8", "6203", "5/8"),
        ("6203 5/8", "6203", "5/8"),
        ("6203-2RS-10", "6203", "5/8"),
        ("6203ZZ 5/8", "6203", "5/8"),
        ("6203-10ZZ", "6203", "5/8"),
        ("6204-12C3", "6204", "3/4"),
        ("6205-2RS-16", "6205", "1"),
        ("6206-1-1/4", "6206", "5/4"),
        ('6203-1/2" 2RS', "6203", "1/2"),
        ("608-1/4", "608", "1/4"),
        ("62203-10", "62203", "5/8"),
        ("203-10", "6203", "5/8"),
    ],
)
def test_the_bore_is_read_in_sixteenths_or_as_a_fraction(
    text: str, metric: str, inches: str
) -> None:
    reading = read(text)[0]
    assert reading.of == metric
    assert reading.sizes["bore"] == Fraction(inches) * NM_PER_INCH
    assert reading.standard == PRACTICE
    assert reading.unknown == ()


@pytest.mark.parametrize(
    "text",
    ["6204-15", "6205-2", "6205-2RS", "604-2RS", "6205-16MM", "R8-10", "NU206-10", "6203-3/7"],
)
def test_what_no_ball_bearing_is_bored_to_is_no_bore(text: str) -> None:
    assert all(not reading.of for reading in read(text))


@given(st.integers(0, 99), st.sampled_from(["62", "63", "60"]), st.integers(4, 20))
def test_a_bore_is_read_only_where_it_makes_sense(sixteenths: int, series: str, code: int) -> None:
    inches = Fraction(sixteenths, 16)
    readings = read(f"{series}{code:02d}-{sixteenths:02d}")
    bored = [reading for reading in readings if reading.of]
    assert bool(bored) == makes_sense(inches, 5 * code * NM_PER_MM)
    assert all(reading.sizes["bore"] == inches * NM_PER_INCH for reading in bored)


def test_outside_and_width_are_those_of_the_metric_number() -> None:
    said = decode("6203-10").readings[0]
    assert {name: nm / NM_PER_MM for name, nm in said.sizes.items()} == {
        "bore": 15.875,
        "outside": 40,
        "width": 12,
    }
    assert said.tables_agreeing == decode("6203").readings[0].tables_agreeing
    assert "203" not in said.also_written
    assert said.also_written == ("6203-5/8",)
