"""``xref supersede``: a step is written down once, and again only where something differs."""

from __future__ import annotations

import json
import shutil
import subprocess
from collections.abc import Callable
from pathlib import Path

import pytest

Run = Callable[..., subprocess.CompletedProcess[str]]
SET = ("supersede", "QF-1", "QF-2", "QF-3", "--as", "set", "--with", "QF-9")


@pytest.fixture
def store(small: Path, tmp_path: Path) -> Path:
    """The path of a store of this test's own, with few rows to look through."""
    return Path(shutil.copy(small, tmp_path / "store.xref"))


def steps(xref: Run) -> int:
    return len(json.loads(xref("trace", "QF-1", "--json").stdout)["later"])


def commands(xref: Run) -> int:
    return len(json.loads(xref("history", "--json").stdout)["actions"])


@pytest.mark.parametrize(
    "again",
    [
        SET,
        ("supersede", "qf 1", "QF-3", "QF-2", "--with", "QF-9", "--as", "set"),
        (*SET, "--quantity", "1"),
    ],
    ids=["word for word", "in another order", "with what is usual"],
)
def test_a_step_on_record_is_not_written_down_again(xref: Run, again: tuple[str, ...]) -> None:
    assert xref(*SET).stdout == "QF-1 → QF-2, QF-3.\n"
    before = (steps(xref), commands(xref))
    done = xref(*again)
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.startswith("QF-1 → ")
    assert done.stdout.endswith(" is already on record.\n")
    assert (steps(xref), commands(xref)) == before


@pytest.mark.parametrize(
    "more",
    [
        ("--date", "1953"),
        ("--quantity", "2"),
        ("--serves-back",),
        ("--from-serial", "QW350"),
        ("--source", "Whimbrel Letters"),
        ("--with", "QF-8"),
    ],
    ids=lambda more: more[0],
)
def test_a_step_that_differs_in_anything_is_written_down(xref: Run, more: tuple[str, ...]) -> None:
    xref("source", "add", "Whimbrel Letters")
    xref(*SET)
    before = commands(xref)
    done = xref(*SET, *more)
    assert (done.returncode, done.stdout) == (0, "QF-1 → QF-2, QF-3.\n")
    assert commands(xref) == before + 1
