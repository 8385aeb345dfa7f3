"""A decision on the bench is taken back by itself, whatever else was decided since."""

from __future__ import annotations

import json
import re
import subprocess
from collections.abc import Callable

import pytest

Run = Callable[..., subprocess.CompletedProcess[str]]


@pytest.fixture
def bench(xref: Run) -> Run:
    """Three parts and three items on the bench, whose marks are read a little wrong."""
    for number, mark in (("QF-8801", "QF-88O1"), ("QF-8802", "QF-88O2"), ("QF-8803", "QF-88O3")):
        xref("part", "add", number, "--maker", "Quillfeather")
        assert xref("bench", "add", "box 1", "--mark", mark).returncode == 0
    return xref


def actions(run: Run, command: str) -> list[int]:
    told = json.loads(run("history", "--json", "--limit", "50").stdout)["actions"]
    return sorted(one["id"] for one in told if one["command"] == command and not one["undone"])


def habits(run: Run) -> object:
    return json.loads(run("reading", "show", "--json").stdout)


def test_the_first_decision_goes_alone_and_the_later_ones_still_teach(bench: Run) -> None:
    bench("bench", "decide", "1", "QF-8801")
    one = habits(bench)
    bench("bench", "decide", "2", "QF-8802")
    bench("bench", "decide", "3", "QF-8803")
    bench("wanted", "add", "QF-8803")
    for number in actions(bench, "bench decide")[:2]:
        done = bench("undo", str(number))
        assert done.returncode == 0, done.stderr
    assert habits(bench) == one
    open_ones = json.loads(bench("bench", "list", "--undecided", "--json").stdout)["items"]
    assert [item["label"] for item in open_ones] == [1, 2]
    (last,) = actions(bench, "bench decide")
    assert bench("undo", str(last)).returncode == 0
    assert habits(bench) != one
    assert bench("check").returncode == 0


def test_it_is_refused_where_its_own_item_was_changed_and_that_action_is_named(bench: Run) -> None:
    bench("bench", "decide", "1", "QF-8801")
    bench("bench", "decide", "2", "QF-8802")
    bench("bench", "outcome", "1", "fitted")
    refused = bench("undo", str(actions(bench, "bench decide")[0]))
    assert refused.returncode == 2
    (outcome,) = actions(bench, "bench outcome")
    assert re.findall(r"(\d+) \(", refused.stderr.partition(":")[2])[-1:] == [str(outcome)]
    assert "bench decide) cannot" in refused.stderr


def test_a_reset_of_what_was_learned_is_taken_back_beside_what_was_learned_since(
    bench: Run,
) -> None:
    bench("bench", "decide", "1", "QF-8801")
    one = habits(bench)
    bench("reading", "reset")
    bench("bench", "decide", "2", "QF-8802")
    (reset,) = actions(bench, "reading reset")
    assert bench("undo", str(reset)).returncode == 0
    assert habits(bench) != one
    (_, second) = actions(bench, "bench decide")
    assert bench("undo", str(second)).returncode == 0
    assert habits(bench) == one
