"""What the shell and the screen get: help, completion, lines of a width, and colour or none."""

from __future__ import annotations

import os
import pty
import shutil
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import click
import pytest

from xref.cli.app import Commands, app

Run = Callable[..., subprocess.CompletedProcess[str]]
CHECKOUT = Path(__file__).parents[2]


@pytest.fixture
def store(small: Path, tmp_path: Path) -> Path:
    """The path of a store of this test's own, with few rows to look through."""
    return Path(shutil.copy(small, tmp_path / "store.xref"))


def commands(command: click.Command, path: tuple[str, ...] = ()) -> Iterator[tuple[str, ...]]:
    """Every command and group of commands, by the words that call it."""
    yield path
    if not isinstance(command, click.Group):
        return
    ctx = click.Context(command)
    for name in command.list_commands(ctx):
        found = command.get_command(ctx, name)
        assert found is not None
        yield from commands(found, (*path, name))


@pytest.mark.parametrize("words", list(commands(app)), ids=" ".join)
def test_every_help_ends_in_an_example(xref: Run, words: tuple[str, ...]) -> None:
    shown = xref(*words, "--help").stdout.rstrip().splitlines()
    begins = max(at for at, line in enumerate(shown) if line.strip().startswith("Example"))
    example = [line.strip() for line in shown[begins + 1 :]]
    assert example[0].startswith(" ".join(("xref", *words)))
    assert all(line.startswith(("xref ", "--")) for line in example)


def test_the_help_says_how_to_switch_completion_on(xref: Run) -> None:
    assert 'eval "$(_XREF_COMPLETE=bash_source xref)"' in xref("--help").stdout


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_the_shell_gets_its_completion_script(process: Run, shell: str) -> None:
    done = process(_XREF_COMPLETE=f"{shell}_source")
    assert (done.returncode, done.stderr) == (0, "")
    assert f"_XREF_COMPLETE={shell}_complete" in done.stdout


@pytest.mark.parametrize(
    ("line", "offered"),
    [
        ("xref ba", {"backup"}),
        ("xref part s", {"show"}),
        ("xref nonsense s", set()),
        ("xref identify --bo", {"--bore"}),
    ],
)
def test_the_shell_is_offered_what_fits(line: str, offered: set[str]) -> None:
    words = line.split()
    done = subprocess.run(
        [sys.executable, "-m", "xref"],
        capture_output=True,
        text=True,
        cwd=CHECKOUT,
        check=False,
        env={
            **os.environ,
            "_XREF_COMPLETE": "bash_complete",
            "COMP_WORDS": line,
            "COMP_CWORD": str(len(words) - 1),
        },
    )
    assert {one.split(",")[1] for one in done.stdout.splitlines()} == offered
    assert "Traceback" not in done.stderr


def test_xref_alone_says_three_things_to_do(xref: Run) -> None:
    shown = xref().stdout
    said = [line for line in shown.splitlines() if line.startswith("  xref ")]
    assert len(said) == 3
    assert all(line.split()[1] in Commands.homes for line in said)


ASKED = ("identify", "--mark", "62?4", "--bore", "20mm", "--why")


@pytest.mark.parametrize("columns", ["50", "80", "100"])
def test_lines_keep_to_the_width_that_is_asked_for(
    xref: Run, monkeypatch: pytest.MonkeyPatch, columns: str
) -> None:
    monkeypatch.setenv("COLUMNS", columns)
    for args in (ASKED, ("check",), ("history",), ("equivalents", "6204")):
        shown = xref(*args).stdout
        assert shown
        assert max(map(len, shown.splitlines())) <= int(columns)


def on_a_terminal(store: Path, *args: str, **env: str) -> str:
    """What a command writes where it thinks that a person looks at a terminal."""
    ours, theirs = pty.openpty()
    child = subprocess.Popen(
        [sys.executable, "-m", "xref", "--store", str(store), *args],
        stdout=theirs,
        stderr=theirs,
        cwd=CHECKOUT,
        env={**os.environ, "TERM": "xterm", **env},
    )
    os.close(theirs)
    said = b""
    while True:
        try:
            piece = os.read(ours, 65536)
        except OSError:  # how Linux tells that the other end is shut
            break
        if not piece:
            break
        said += piece
    child.wait()
    os.close(ours)
    return said.decode()


@pytest.mark.parametrize("args", [ASKED, ("nonsense",), ("check",)], ids=lambda a: a[0])
def test_no_colour_where_none_is_wanted_or_where_it_is_piped(
    process: Run, store: Path, args: tuple[str, ...]
) -> None:
    piped = process(*args)
    assert "\x1b" not in piped.stdout + piped.stderr
    shown = on_a_terminal(store, *args, NO_COLOR="1")
    assert shown
    assert "\x1b" not in shown
