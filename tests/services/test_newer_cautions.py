"""Cautions of the newer families: balls, spring parts, lead screws."""

from __future__ import annotations

import pytest

from xref.services.decode.decode import decode
from xref.services.parts.read_cautions import DEFER_READING, read_cautions


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("3/8 steel ball", "whole set"),
        ("DIN 2093 A 50", "bent open"),
        ("DIN 6799-5", "bent open"),
        ("Tr20x4", "lifts or holds a load"),
        ("UCP205", "load rating"),
        ("H206", "driven up"),
        ("C2206", "load rating"),
    ],
)
def test_what_a_newer_family_must_be_minded_for_is_told(text: str, said: str) -> None:
    told = read_cautions(decode(text).readings)
    assert any(said in caution for caution in told[:-1])
    assert told[-1] == DEFER_READING


@pytest.mark.parametrize("text", ["ISO 7089 M10", "6204NR", "16 SWG", "M10"])
def test_what_is_no_spring_part_is_not_cautioned_as_one(text: str) -> None:
    assert not any("bent open" in caution for caution in read_cautions(decode(text).readings))


def test_nothing_read_is_nothing_cautioned() -> None:
    assert read_cautions(decode("QZX").readings) == ()
