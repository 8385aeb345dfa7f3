"""What is wanted is asked for whole, for the machine it is for, or one line says to name one."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Callable

import pytest

from tests.cli.conftest import Done

Run = Callable[..., Done]


@pytest.fixture
def forked(xref: Run) -> Run:
    """QF-500 became a set of which one member became one of two by serial; QF-600 became another
    from a serial on."""
    for words in (
        ("supersede", "QF-500", "QF-507", "QF-508", "--as", "set", "--maker", "Quillfeather"),
        ("supersede", "QF-508", "QF-509", "--from-serial", "QW350", "--maker", "Quillfeather"),
        ("supersede", "QF-508", "QF-510", "--from-serial", "to QW349", "--maker", "Quillfeather"),
        ("supersede", "QF-600", "QF-601", "--from-serial", "QW350", "--maker", "Quillfeather"),
        ("machine", "add", "QW 312", "--model", "Whimbrel", "--serial", "QW312"),
        ("machine", "add", "QW 360", "--model", "Whimbrel", "--serial", "QW360"),
    ):
        assert xref(*words).returncode == 0
    return xref


def asks(run: Run, *words: str) -> dict[str, str]:
    page = run("wanted", "sheet", "--csv", *words).stdout
    rows = csv.DictReader(io.StringIO(page))
    return {row["note"]: row["ask for"] for row in rows}


def test_each_thing_is_asked_for_whole_for_its_own_machine(forked: Run) -> None:
    for machine in ("QW 312", "QW 360"):
        done = forked("wanted", "add", "QF-500", "--machine", machine, "--note", machine)
        assert done.returncode == 0
    assert asks(forked) == {"QW 312": "QF-507 + QF-510", "QW 360": "QF-507 + QF-509"}
    listed = forked("wanted", "list").stdout
    assert "QF-507 + QF-510" in listed
    assert "on QW 360" in listed
    assert "--machine" not in listed


def test_machine_leaves_out_what_is_for_another_and_stands_for_none(forked: Run) -> None:
    forked("wanted", "add", "QF-500", "--machine", "QW 360", "--note", "other")
    forked("wanted", "add", "QF-500", "--note", "open")
    assert asks(forked, "--machine", "QW 312") == {"open": "QF-507 + QF-510"}
    rows = json.loads(forked("wanted", "list", "--machine", "QW 360", "--json").stdout)["wanted"]
    assert [(row["machine"], row["order"]["ask"]) for row in rows] == [
        ("QW 360", "QF-507 + QF-509"),
        (None, "QF-507 + QF-509"),
    ]


@pytest.mark.parametrize("words", [("add", "QF-500"), ("list",), ("sheet",), ("sheet", "--csv")])
def test_one_line_says_how_a_machine_is_named(forked: Run, words: tuple[str, ...]) -> None:
    if words[0] != "add":
        forked("wanted", "add", "QF-500")
    done = forked("wanted", *words)
    said = [line for line in f"{done.stdout}\n{done.stderr}".splitlines() if "--machine" in line]
    assert said == [
        "1 needs its machine named: xref wanted change 1 --machine NAME "
        "(a new one: xref wanted add QF-500 --machine NAME)"
    ]
    assert forked("wanted", "change", "1", "--machine", "QW 312").returncode == 0
    assert asks(forked) == {"": "QF-507 + QF-510"}
    forked("wanted", "change", "1", "--without", "machine")
    assert "name a machine first" in asks(forked)[""]


def test_sold_as_is_said_only_where_it_holds_for_every_machine(forked: Run) -> None:
    for number, before, after in (
        ("QF-600", "", "QF-601"),
        ("QF-500", "QF-507 + QF-510", "QF-507 + QF-509"),
    ):
        told = " ".join(forked("equivalents", number).stdout.split())
        assert f"sold as QF-{'601' if number == 'QF-600' else '507'}" not in told
        assert f"What {number} is sold as now depends on the serial" in told
        assert f"xref equivalents {number} --machine NAME" in told
        order = json.loads(forked("equivalents", number, "--json").stdout)["order"]
        assert (order["number"], bool(order["open"])) == (number, True)
        told = forked("equivalents", number, "--machine", "QW 312").stdout
        assert (f"sold as {before} now" in told) == bool(before)
        assert "depends on the serial" not in told
        assert f"sold as {after} now" in forked("equivalents", number, "--machine", "QW 360").stdout


def test_a_machine_whose_serial_is_of_no_use_is_said_to_be_so(forked: Run) -> None:
    forked("machine", "add", "odd", "--model", "Whimbrel", "--serial", "77")
    told = " ".join(forked("equivalents", "QF-600", "--machine", "odd").stdout.split())
    assert "that of odd does not say" in told
    assert "--machine NAME" not in told


def test_a_machine_that_is_not_there_is_refused(forked: Run) -> None:
    for words in (("add", "QF-1"), ("list",), ("sheet",)):
        assert forked("wanted", *words, "--machine", "nowhere").returncode in (1, 2)


def test_a_machine_that_something_is_wanted_for_goes_only_when_that_may_stay(forked: Run) -> None:
    forked("wanted", "add", "QF-500", "--machine", "QW 312")
    refused = forked("machine", "remove", "QW 312")
    assert refused.returncode == 2
    assert "wanted 1" in refused.stderr
    assert forked("machine", "remove", "QW 312", "--keep-items").returncode == 0
    rows = json.loads(forked("wanted", "list", "--json").stdout)["wanted"]
    assert [row["machine"] for row in rows] == [None]
