"""README.md shows what the commands really print, and every command there is."""

from __future__ import annotations

import pytest

from scripts.readme import BLOCK, README, filled
from xref.cli.app import Commands


@pytest.fixture(scope="module")
def text() -> str:
    return README.read_text("utf-8")


def test_every_example_prints_what_it_shows(text: str) -> None:
    assert filled(text) == text


@pytest.mark.parametrize("name", Commands.homes)
def test_every_command_has_an_example(name: str, text: str) -> None:
    shown = "\n".join(BLOCK.findall(text))
    assert any(f"{line} ".startswith(f"$ xref {name} ") for line in shown.splitlines())


def test_it_stays_a_page_and_leaves_the_options_to_the_help(text: str) -> None:
    assert len(text.splitlines()) <= 345
    assert " --help\nUsage:" not in text


def test_a_wrong_example_would_be_found(text: str) -> None:
    shown = text.index("It is 6304")
    until = text[: text.index("```", shown) + 3]
    wrong = until.replace("It is 6304", "It is 6305")
    assert wrong != until
    assert filled(wrong) != wrong
