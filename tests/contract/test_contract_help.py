"""The help of every command is what its file says, and ends in an example of that command."""

from __future__ import annotations

import shlex

import pytest

from scripts.readme import HELP, commands, help_file, help_of

NAMES = commands()


@pytest.mark.parametrize("command", NAMES, ids=lambda name: name or "xref")
def test_the_help_is_what_its_file_says(command: str) -> None:
    assert help_of(command) == help_file(command).read_text("utf-8")


def test_no_file_holds_the_help_of_a_command_that_is_gone() -> None:
    assert set(HELP.iterdir()) == {help_file(command) for command in NAMES}


def test_the_commands_of_groups_are_among_them() -> None:
    assert {"", "identify", "bench", "bench add", "wanted sheet"} <= set(NAMES)


@pytest.mark.parametrize("command", NAMES, ids=lambda name: name or "xref")
def test_the_help_ends_in_an_example_of_the_command(command: str) -> None:
    _, found, example = help_of(command).partition("\n  Example:\n")
    assert found
    first = shlex.split(example.replace("\n      ", " ").strip().splitlines()[0])
    assert first[: 1 + len(command.split())] == ["xref", *command.split()]
