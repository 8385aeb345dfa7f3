"""What a person sees of a decoded number."""

from __future__ import annotations

import pytest

from xref.errors import InputError
from xref.render.decode import decode_text
from xref.services.decode.decode import decode


def shown(text: str) -> list[str]:
    """The lines a person sees."""
    return decode_text(decode(text)).splitlines()


def test_the_answer_stands_first_and_the_caution_last() -> None:
    lines = shown("35x52x7 TC QW")
    assert lines[0].startswith("35x52x7 TC: rotary shaft seal")
    assert "Not understood: QW" in lines
    assert any(line.startswith("Caution: ") for line in lines)
    assert "qualified person" in " ".join(lines[-2:])


def test_colliding_readings_begin_with_what_decides() -> None:
    lines = shown("7206")
    assert lines[0] == "2 readings of 7206:"
    assert lines[1].startswith("What decides: width 16 mm")


def test_a_text_without_a_reading_says_so_and_what_to_do() -> None:
    assert shown("hello") == [
        '"hello" is no number this tool can read.',
        "It may be a maker's own part number: try it as a mark, and measure the part.",
    ]


@pytest.mark.parametrize("text", ["x" * 79, "214 " + "Q" * 70, "AS568-214 שלום"])
def test_long_and_odd_text_stays_within_eighty_columns(text: str) -> None:
    assert all(len(line) <= 80 for line in shown(text))


def test_signs_that_turn_the_line_around_are_refused_and_made_visible() -> None:
    with pytest.raises(InputError, match="invisible character") as refused:
        decode("AS568-214 \u202e45")
    assert '"AS568-214 \\x202e45"' in refused.value.message
