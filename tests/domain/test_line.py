"""What a person writes down, kept on one line."""

from __future__ import annotations

import pytest

from xref.domain.line import needed_line, one_line, optional_line
from xref.errors import InputError


@pytest.mark.parametrize(
    ("text", "line"),
    [("", ""), (" \t\n", ""), (" kit \t QF-77\n(Whimbrel) ", "kit QF-77 (Whimbrel)")],
)
def test_a_line_has_single_spaces_and_none_at_its_ends(text: str, line: str) -> None:
    assert one_line(text) == line


def test_a_text_keeps_its_own_case() -> None:
    assert needed_line("Büchse  für\tAchse", 20, "note") == "Büchse für Achse"


@pytest.mark.parametrize("text", ["", "  ", "a\x07b", "a\nb", "123456"])
def test_a_needed_text_that_is_empty_too_long_or_controls_is_refused(text: str) -> None:
    with pytest.raises(InputError, match="note"):
        needed_line(text, 5, "note")


@pytest.mark.parametrize("text", ["", "  "])
def test_an_optional_text_may_be_left_out(text: str) -> None:
    assert optional_line(text, 5, "note") == ""


@pytest.mark.parametrize("text", ["a\x07b", "123456"])
def test_an_optional_text_is_checked_as_a_needed_one(text: str) -> None:
    with pytest.raises(InputError, match="note"):
        optional_line(text, 5, "note")
