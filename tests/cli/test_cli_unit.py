"""The unit of a bare size: millimetres until set, and what was written down before stays."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.cli.conftest import Done

Xref = Callable[..., Done]


def bore(xref: Xref, *args: str) -> float:
    """The bore that ``identify`` understood, in millimetres."""
    done = xref("identify", *args, "--json")
    return float(json.loads(done.stdout)["query"]["sizes"]["bore"]["mm"])


def test_a_bare_size_is_in_millimetres_until_inches_are_set(xref: Xref) -> None:
    assert json.loads(xref("unit", "--json").stdout) == {"unit": "mm"}
    assert bore(xref, "--bore", "2") == 2.0
    assert "inches" in xref("unit", "inch").stdout
    assert bore(xref, "--bore", "2") == 50.8
    assert bore(xref, "--bore", "2mm") == 2.0
    assert "bore 2 as inch" in xref("identify", "--bore", "2").stdout
    xref("unit", "mm")
    assert bore(xref, "--bore", "2") == 2.0


def test_a_part_and_a_list_take_their_bare_sizes_in_inches(xref: Xref, tmp_path: Path) -> None:
    xref("unit", "inch")
    xref("part", "add", "QF-1", "--size", "bore=2")
    box = tmp_path / "box.csv"
    box.write_text("Part no.,Bore\nQF-2,2\n", encoding="utf-8")
    xref("import", str(box))
    for number in ("QF-1", "QF-2"):
        told = json.loads(xref("part", "show", number, "--json").stdout)
        assert told["sizes"]["bore"] == 50.8


def test_what_lies_on_the_bench_keeps_the_unit_it_was_measured_in(xref: Xref) -> None:
    xref("bench", "add", "axle", "--mark", "6204", "--bore", "20")
    xref("unit", "inch")
    xref("bench", "add", "buffer", "--bore", "2")
    assert "unit         inch" in xref("bench", "show", "2").stdout
    assert "unit" not in xref("bench", "show", "1").stdout
    items = json.loads(xref("bench", "list", "--json").stdout)["items"]
    assert [item["verdict"] for item in items if item["label"] == 1] != ["none"]


@pytest.mark.parametrize("name", ["cm", "", "mm inch"])
def test_another_unit_is_refused_in_one_line(xref: Xref, name: str) -> None:
    done = xref("unit", name)
    assert (done.returncode, done.stderr) == (
        2,
        "xref: bare numbers are taken in mm or inch.\n      Write one of the two.\n",
    )
