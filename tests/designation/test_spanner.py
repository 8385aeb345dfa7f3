"""Spanners by what is stamped on them and how people say them."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from xref.designation import spanner
from xref.designation.spanner import Hexagon, across_flats, hexagons
from xref.errors import InputError

MM = 1_000_000
INCH = 25_400_000


@pytest.mark.parametrize(
    ("text", "nm"),
    [
        ("19AF", 19 * MM),
        ("19 AF", 19 * MM),
        ("13 mm AF", 13 * MM),
        ("13mm A/F", 13 * MM),
        ("AF 10", 10 * MM),
        ("17 across flats", 17 * MM),
        ("5.5 AF", 5_500_000),
        ("3/4 AF", 3 * INCH // 4),
        ('3/4" AF', 3 * INCH // 4),
        ("1-1/8 AF", 9 * INCH // 8),
        ("1 AF", INCH),
        ("0.920 in AF", round(0.92 * INCH)),
        ("5/8 AF spanner", 5 * INCH // 8),
    ],
)
def test_a_size_across_flats_is_read(text: str, nm: int) -> None:
    assert across_flats(text) == nm


@pytest.mark.parametrize(
    ("text", "named"),
    [
        # W names the large hexagon and BS the small one: common practice, memory.
        ("1/2W", [Hexagon("1/2", "large")]),
        ("1/2 W", [Hexagon("1/2", "large")]),
        ("7/16 BS", [Hexagon("7/16", "small")]),
        ("5/16 BSF", [Hexagon("5/16", "small")]),
        ("1/2 BSW", [Hexagon("1/2", "large"), Hexagon("1/2", "small")]),
        ("3/8 Whit", [Hexagon("3/8", "large"), Hexagon("3/8", "small")]),
        ("1-1/8W", [Hexagon("1 1/8", "large")]),
        ("2BA", [Hexagon("2", "BA")]),
        ("0 BA spanner", [Hexagon("0", "BA")]),
        ("1/4 W 5/16 BS", [Hexagon("1/4", "large"), Hexagon("5/16", "small")]),
        ("3/16W-1/4BS", [Hexagon("3/16", "large"), Hexagon("1/4", "small")]),
    ],
)
def test_a_spanner_is_named_by_its_thread(text: str, named: list[Hexagon]) -> None:
    assert list(hexagons(text)) == named


@pytest.mark.parametrize(
    "text",
    [
        "6204",
        "M10",
        "1/2",
        "13 mm",
        "AF",
        "1/2-13 UNC",
        "22x47x7",
        "3/8-16 UNC",
        "G 1/2",
        "4W",
        "AS568-214",
        "12AF6",
        "1/2 W 20",
        "SN 510",
        "08B-1",
        "A46",
        "1/2 BSP",
    ],
)
def test_what_is_no_spanner_is_left_to_others(text: str) -> None:
    assert spanner.read(text) == ()


@given(st.text(st.characters(exclude_categories=()), max_size=20))
def test_only_the_users_error_escapes_any_mark(text: str) -> None:
    try:
        readings = spanner.read(text)
    except InputError:
        return
    assert all(reading.kind == "other" for reading in readings)
