"""What is asked about a part is asked alike, whichever command asks it."""

from __future__ import annotations

import json
import subprocess
from collections.abc import Callable

import pytest

Run = Callable[..., subprocess.CompletedProcess[str]]
BEARING = (
    "--mark",
    "62?4",
    "--cast",
    "QF 12",
    "--bore",
    "20mm",
    "--outside",
    "47mm",
    "--size",
    "width=14mm",
    "--kind",
    "bear",
    "--words",
    "ball race",
    "--tool",
    "micrometer",
    "--condition",
    "worn",
    "--cast-date",
    "6-52",
    "--built",
    "1951",
    "--cannot",
    "width",
)


def test_a_kept_question_is_the_one_that_was_asked(xref: Run) -> None:
    asked = json.loads(xref("identify", *BEARING, "--keep", "gearbox", "--json").stdout)["query"]
    assert xref("bench", "add", "gearbox", *BEARING).returncode == 0
    one, two = (json.loads(xref("bench", "show", n, "--json").stdout) for n in ("1", "2"))
    assert one["asked"] == two["asked"]
    assert two["asked"]["sizes"] == {"bore": "20mm", "outside": "47mm", "width": "14mm"}
    assert two["asked"]["cannot"] == ["width"]
    assert asked["sizes"]["width"]["mm"] == 14


@pytest.mark.parametrize(
    "command", [("identify",), ("bench", "add", "gearbox"), ("equivalents",), ("part", "add", "X1")]
)
@pytest.mark.parametrize("names", [("hole", "hole"), ("cross-hole", "Cross hole")])
def test_no_size_overrides_another_in_silence(
    xref: Run, command: tuple[str, ...], names: tuple[str, str]
) -> None:
    done = xref(*command, "--size", f"{names[0]}=3mm", "--size", f"{names[1]}=4mm")
    assert (done.returncode, done.stdout) == (2, "")
    assert "is given twice" in done.stderr


@pytest.mark.parametrize("command", [("identify",), ("bench", "add", "gearbox"), ("equivalents",)])
def test_a_size_is_not_given_by_two_options(xref: Run, command: tuple[str, ...]) -> None:
    done = xref(*command, "--bore", "20mm", "--size", "bore=25mm")
    assert (done.returncode, done.stdout) == (2, "")
    assert "bore is given twice" in done.stderr
