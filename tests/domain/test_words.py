"""Descriptions as words."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from xref.domain.words import split_words


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", []),
        (" - / ", []),
        ("Axle box, Axle-Box LINER", ["axle", "box", "liner"]),
        ("spring_hanger (left)", ["spring", "hanger", "left"]),
        ("20×23 bush", ["20", "23", "bush"]),
        ("Büchse für Achse", ["büchse", "für", "achse"]),
    ],
)
def test_a_description_is_its_words_once_each_in_order(text: str, words: list[str]) -> None:
    assert split_words(text) == words


@given(st.text(st.characters(max_codepoint=0x24F), max_size=60))
def test_the_words_of_the_words_are_the_same(text: str) -> None:
    words = split_words(text)
    assert split_words(" ".join(words)) == words
    assert len(set(words)) == len(words)
