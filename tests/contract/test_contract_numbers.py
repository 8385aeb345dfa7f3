"""A NUMBER resolves as given, then by key, then folded, then as a designation."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

Said = Callable[..., tuple[int, str, str]]
Asked = Callable[..., tuple[int, dict[str, Any]]]


@pytest.mark.parametrize(
    ("text", "row"),
    [
        ("6204-2RS C3", "6204"),
        ("LM11949/10", "LM11949/LM11910"),
        ("BS 214", "AS568-214"),
        ("GOST 7206", "30206"),
    ],
)
def test_a_designation_resolves_to_its_standard_row(asked: Asked, text: str, row: str) -> None:
    code, shown = asked("part", "show", text)
    assert (code, shown["number"], shown["from"]) == (0, row, "standard")
    assert asked("trace", text)[1]["number"] == row
    assert asked("donor", text)[1]["silent"] == [row]
    if "-2RS" not in text:
        assert asked("equivalents", text) == asked("equivalents", row)


def test_a_part_of_that_number_goes_before_the_designation(said: Said, asked: Asked) -> None:
    assert said("part", "add", "6204-2RS", "--maker", "Dunmarrow")[0] == 0
    assert asked("part", "show", "6204 2rs")[1]["maker"] == "Dunmarrow"


def test_a_designation_with_a_piece_left_over_is_no_number(asked: Asked) -> None:
    code, document = asked("trace", "6204-QQ9")
    assert (code, document["error"]["kind"]) == (1, "not found")


def test_a_number_that_is_written_down_keeps_its_suffix(said: Said, asked: Asked) -> None:
    code, _, err = said("supersede", "QF-1421", "6204-2RS C3")
    assert (code, err) == (0, "6204-2RS C3 was not in the store: added as mentioned only.\n")
    assert asked("trace", "QF-1421")[1]["current"][0]["number"] == "6204-2RS C3"


def test_each_choice_offered_can_be_typed(said: Said, asked: Asked) -> None:
    assert said("part", "add", "Q 1")[0] == 0
    assert said("part", "add", "Q-1", "--maker", "Dunmarrow")[0] == 0
    code, document = asked("part", "show", "Q1")
    assert (code, document["error"]["kind"]) == (2, "ambiguous")
    assert document["error"]["hint"] == "Say which: :Q 1, Dunmarrow:Q-1."
    for choice, maker in ((":Q 1", None), ("Dunmarrow:Q-1", "Dunmarrow")):
        assert asked("part", "show", choice)[1]["maker"] == maker
        assert asked("trace", choice)[1]["maker"] == maker


def test_the_whole_text_is_a_number_before_a_maker_and_a_number(said: Said, asked: Asked) -> None:
    assert said("part", "add", "A:B")[0] == 0
    assert said("part", "add", "B", "--maker", "A")[0] == 0
    assert asked("part", "show", "A:B")[1]["number"] == "A:B"
    assert asked("part", "show", "B")[1]["number"] == "B"


def test_the_key_is_unique_for_a_maker_and_leading_zeros_count(said: Said) -> None:
    for number in ("A--B", "3½", "007", "7"):
        assert said("part", "add", number, "--maker", "Z")[0] == 0
    for same in ("a_b", "A.B", "3 1/2"):
        assert said("part", "add", same, "--maker", "z")[0] == 2
    assert said("part", "add", "AB", "--maker", "Z")[0] == 0


@pytest.mark.parametrize(
    "words",
    [
        ("trace", "NOT-1234567"),
        ("belongs", "NOT-1234567", "--machine", "QW 312"),
        ("donor", "NOT-1234567"),
        ("equivalents", "NOT-1234567"),
        ("part", "show", "NOT-1234567"),
        ("history", "NOT-1234567"),
    ],
)
def test_a_command_that_reads_makes_no_number(asked: Asked, words: tuple[str, ...]) -> None:
    for _ in range(2):
        code, document = asked(*words)
        assert (code, document["error"]["kind"]) == (1, "not found")
