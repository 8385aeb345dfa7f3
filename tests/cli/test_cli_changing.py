"""Every fact that can be added is listed with its number, changed and removed by itself."""

from __future__ import annotations

import json
import subprocess
from collections.abc import Callable, Sequence
from pathlib import Path

import pytest

from tests.store.test_store_history import dump

Done = subprocess.CompletedProcess[str]
Run = Callable[..., Done]

SETUP: tuple[Sequence[str], ...] = (
    ("source", "add", "Whimbrel Parts Book", "--edition", "1951"),
    ("part", "add", "QF-1", "--maker", "Quillfeather", "--words", "sand lever"),
    ("part", "add", "QF-2", "--maker", "Quillfeather"),
    ("machine", "add", "Hettie", "--model", "Whimbrel", "--serial", "QW312"),
)

FACTS: dict[str, tuple[Sequence[str], Sequence[str], str]] = {
    "applies": (
        ("applies", "QF-1", "--model", "Whimbrel", "--from", "QW101", "--to", "QW349"),
        ("--to", "QW360", "--assembly", "sanding gear"),
        "QW101-QW360, sanding gear",
    ),
    "supersede": (
        ("supersede", "QF-1", "QF-2", "--date", "1951"),
        ("--new", "QF-3", "--without", "date", "--quantity", "2"),
        "→ 2 × QF-3",
    ),
    "interchange": (
        ("interchange", "QF-1", "QF-2", "--grade", "same"),
        ("--grade", "with-work", "--note", "ream it"),
        "with work, ream it",
    ),
    "mark": (
        ("mark", "add", "QF-1", "QF 7", "--role", "number"),
        ("--role", "casting", "--source", "Whimbrel Parts Book"),
        "QF 7 (casting), Whimbrel Parts Book 1951",
    ),
    "wanted": (
        ("wanted", "add", "QF-1", "--price", "4.20 GBP"),
        ("--quantity", "3", "--without", "price"),
        "3 × QF-1",
    ),
    "bench": (
        ("bench", "add", "cab floor", "--mark", "QF 1", "--machine", "Hettie", "--bore", "20"),
        ("--bore", "21", "--side", "left", "--without", "machine"),
        "cab floor, undecided, QF 1, bore 21mm, side left",
    ),
}
"""How each fact is added, how it is changed, and what it says then."""


@pytest.fixture
def ready(xref: Run) -> Run:
    for args in SETUP:
        assert xref(*args).returncode == 0
    return xref


@pytest.mark.parametrize("name", FACTS)
def test_a_fact_is_changed_and_removed_by_its_number_and_each_can_be_undone(
    ready: Run, store: Path, name: str
) -> None:
    add, change, says = FACTS[name]
    before = dump(store)
    assert ready(*add).returncode == 0
    added = dump(store)
    done = ready(name, "change", "1", *change)
    assert (done.returncode, done.stdout.count("Changed ")) == (0, 1)
    assert says in done.stdout.partition("; it is ")[2]
    changed = dump(store)
    assert changed != added
    done = ready(name, "remove", "1")
    assert done.returncode == 0
    assert done.stdout.startswith("Removed ")
    assert says in done.stdout
    assert ready(name, "remove", "1").returncode == 1
    for state in (changed, added, before):
        assert ready("undo").returncode == 0
        assert dump(store) == state
    assert "in order" in ready("check").stdout


@pytest.mark.parametrize("name", ["applies", "supersede", "interchange", "mark"])
def test_a_list_shows_the_numbers_of_one_part_or_of_all(ready: Run, name: str) -> None:
    assert ready(name, "list").returncode == 1
    assert ready(*FACTS[name][0]).returncode == 0
    for args in ((), ("QF-1",)):
        shown = ready(name, "list", *args)
        assert shown.stdout.startswith("  1  QF-1  ")
        (only,) = json.loads(ready(name, "list", *args, "--json").stdout).popitem()[1]
        assert (only["id"], only["number"]) == (1, "QF-1")


@pytest.mark.parametrize("name", FACTS)
def test_a_change_that_gives_nothing_or_names_nothing_is_refused(ready: Run, name: str) -> None:
    assert ready(*FACTS[name][0]).returncode == 0
    assert "nothing to change is given" in ready(name, "change", "1").stderr
    assert ready(name, "change", "77", *FACTS[name][1]).returncode == 1
    done = ready(name, "change", "1", "--without", "feathers")
    assert (done.returncode, "Use " in done.stderr) == (2, True)


@pytest.mark.parametrize("name", ["applies", "supersede", "interchange"])
def test_a_number_that_is_called_as_a_command_is_given_after_two_dashes(
    ready: Run, name: str
) -> None:
    options = {
        "applies": ["--model", "Whimbrel", "--", "list"],
        "supersede": ["--as", "one", "--", "list", "QF-2"],
        "interchange": ["--grade", "stated", "--", "list", "QF-2"],
    }[name]
    assert ready(name, *options).returncode == 0
    assert ready("part", "show", "list").returncode == 0


def test_a_number_taken_for_a_part_goes_with_the_links_it_stood_in(ready: Run, store: Path) -> None:
    ready("supersede", "QF-1", "NLA")
    ready("supersede", "QF-2", "QF-3", "NLA", "--as", "set")
    ready("wanted", "add", "NLA")
    ready("bench", "add", "cab", "--mark", "NLA")
    ready("bench", "decide", "1", "NLA")
    before = dump(store)
    refused = ready("part", "remove", "NLA")
    assert refused.returncode == 2
    assert "supersession 1 (QF-1 → NLA)" in refused.stderr
    assert "label 1 of the bench book" in refused.stderr
    assert dump(store) == before
    done = ready("part", "remove", "NLA", "--with-links")
    assert done.returncode == 0
    assert "Removed supersession 1 of QF-1: → NLA." in done.stdout
    assert "QF-1 is current now." in done.stdout
    assert "it was → QF-3 + NLA; it is → QF-3." in done.stdout
    assert "undecided" in ready("bench", "list").stdout
    assert "NLA" in ready("wanted", "list").stdout
    assert ready("part", "show", "NLA").returncode == 1
    assert "in order" in ready("check").stdout
    assert ready("undo").returncode == 0
    assert dump(store) == before


def test_a_mistyped_model_is_merged_into_the_right_one(ready: Run) -> None:
    ready("applies", "QF-1", "--model", "Wimbrel", "--from", "QW101")
    assert ready("belongs", "QF-1", "--machine", "Hettie").returncode == 1
    done = ready("model", "merge", "Wimbrel", "Whimbrel")
    assert "1 serial range went to Whimbrel." in done.stdout
    assert ready("belongs", "QF-1", "--machine", "Hettie").returncode == 0
    assert ready("model", "remove", "Wimbrel").returncode == 1
    refused = ready("model", "remove", "Whimbrel")
    assert refused.returncode == 2
    assert "1 machine" in refused.stderr
    assert "1 serial range" in refused.stderr
    ready("applies", "QF-2", "--model", "Garganey")
    refused = ready("model", "change", "Garganey", "--name", "Whimbrel")
    assert "xref model merge" in refused.stderr
    assert "Dotterel" in ready("model", "change", "Garganey", "--name", "Dotterel").stdout
    assert "Dotterel" in ready("applies", "list", "QF-2").stdout


def test_a_source_is_renamed_merged_and_removed(ready: Run) -> None:
    ready("source", "add", "Wimbrel Book")
    ready("applies", "QF-1", "--model", "Whimbrel", "--source", "Wimbrel Book")
    assert ready("source", "remove", "Wimbrel Book").returncode == 2
    done = ready("source", "merge", "Wimbrel Book", "Whimbrel Parts Book")
    assert "1 serial range went to Whimbrel Parts Book 1951." in done.stdout
    ready("source", "change", "Whimbrel Parts Book", "--edition", "1952")
    assert "Whimbrel Parts Book 1952" in ready("applies", "list").stdout
    done = ready("source", "remove", "Whimbrel Parts Book", "--keep-facts")
    assert "Without a source now: 1 serial range." in done.stdout
    assert "Book" not in ready("applies", "list").stdout


def test_a_machine_is_renamed_with_what_lies_on_the_bench_of_it(ready: Run) -> None:
    ready("bench", "add", "cab floor", "--words", "pin", "--machine", "Hettie")
    assert ready("machine", "change", "Hettie", "--name", "Hattie").returncode == 0
    assert ready("bench", "list").returncode == 0
    assert "Hattie" in ready("bench", "show", "1").stdout
    assert "label 1" in ready("machine", "remove", "Hattie").stderr
    assert ready("machine", "remove", "Hattie", "--keep-items").returncode == 0
    assert ready("bench", "list").returncode == 0
    assert "Hattie" not in ready("bench", "show", "1").stdout


def test_a_range_keeps_its_other_end_where_one_is_given(ready: Run) -> None:
    ready("applies", "QF-1", "--model", "Whimbrel", "--from", "QW101")
    ready("applies", "change", "1", "--to", "QW349")
    assert "QW101-QW349" in ready("applies", "list").stdout
    ready("applies", "change", "1", "--serials", "QW1-QW9, QW20-QW30")
    refused = ready("applies", "change", "1", "--to", "QW40")
    assert "several pieces" in refused.stderr
    ready("applies", "QF-1", "--model", "Whimbrel", "--serials", "QW7")
    refused = ready("applies", "change", "1", "--serials", "QW7")
    assert "range 2 says that already" in refused.stderr
