"""Shaft seals as GOST 8752 numbers them."""

from __future__ import annotations

import pytest

from xref.designation.seal_gost import read
from xref.services.decode.decode import decode

MM = 1_000_000


@pytest.mark.parametrize(
    ("text", "sizes"),
    [
        ("1.2-35x58-1", (35, 58)),
        ("2.1-20x40-3 GOST 8752-79", (20, 40)),
        ("1.1-100x125", (100, 125)),
        ("2.2-45X65X10-1", (45, 65, 10)),
    ],
)
def test_type_shaft_bore_and_rubber_are_read(text: str, sizes: tuple[int, ...]) -> None:
    found = [tuple(reading.sizes.values()) for reading in read(text)]
    assert found == [tuple(size * MM for size in sizes)]


def test_a_dust_lip_and_the_rubber_are_told_and_the_width_is_left_open() -> None:
    (reading,) = read("2.1-20x40-3")
    assert [feature.code for feature in reading.features] == ["2.", ".1", "-3"]
    assert "dust lip" in reading.features[0].meaning
    assert "width" not in reading.sizes


@pytest.mark.parametrize("text", ["3.1-20x40-1", "1.2-40x20-1", "1.2-20x21-1", "1.25-20x40", "1.2"])
def test_what_is_no_such_seal_is_left(text: str) -> None:
    assert read(text) == ()


def test_decode_tells_the_seal() -> None:
    assert decode("1.2-35x58-1").readings[0].kind == "shaft seal"
