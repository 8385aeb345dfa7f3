"""Sizes as they are measured, and the uncertainty each is read with."""

from __future__ import annotations

import pytest

from xref.domain.query import SizeReading
from xref.errors import InputError
from xref.services.question import Asked, understand

MM = 1_000_000


def read(name: str, text: str) -> SizeReading:
    return understand(Asked(sizes={name: text})).sizes[name]


@pytest.mark.parametrize(
    ("text", "nm", "count"),
    [
        ("127.6mm/10", 12_760_000, 10),
        ("5in/10", 12_700_000, 10),
        ('5" / 10', 12_700_000, 10),
        ("1-1/2in/4", 9_525_000, 4),
        ("38.1 mm/3", 12_700_000, 3),
        ("9.525mm/1", 9_525_000, 1),
    ],
)
def test_a_pitch_over_several_shares_what_tool_and_hand_are_off(
    text: str, nm: int, count: int
) -> None:
    several, alone = read("pitch", text), read("length", text.rpartition("/")[0].strip())
    assert several.value == nm
    assert several.error == pytest.approx(alone.error / count, abs=1)
    assert several.hand == pytest.approx(alone.hand / count, abs=1)
    assert several.text == text


@pytest.mark.parametrize("text", ["1/2in", "1/2", "3/8 in"])
def test_a_fraction_is_no_number_of_pitches(text: str) -> None:
    assert read("pitch", text).value == read("length", text).value


@pytest.mark.parametrize("text", ["127.6mm/0", "127.6mm/1000", "mm/10", "127.6mm/ten"])
def test_what_is_over_no_number_of_pitches_is_refused(text: str) -> None:
    with pytest.raises(InputError):
        read("pitch", text)


def test_only_a_pitch_is_measured_over_several() -> None:
    with pytest.raises(InputError):
        read("length", "127.6mm/10")


def test_a_spanner_of_two_hexagons_is_asked_about_by_both() -> None:
    with pytest.raises(InputError, match=r"1/2 W, 23\.368 mm and 1/2 BS, 20\.828 mm"):
        read("across-flats", "1/2 BSW")
    assert read("across-flats", "1/2 BS").value == 20_828_000
