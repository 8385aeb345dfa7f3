"""Chains, ranges, machines, donors and equivalents from the command line."""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.cli.conftest import Done

Run = Callable[..., Done]


@pytest.fixture
def store(scenario_path: Path, tmp_path: Path) -> Path:
    """The scenario in a store of this test's own."""
    return Path(shutil.copy(scenario_path, tmp_path / "store.xref"))


def told(done: Done) -> Any:
    """The one JSON document that was printed."""
    return json.loads(done.stdout)


@pytest.mark.parametrize(
    ("number", "verdict", "code"),
    [
        ("QF-2214", "listed", 0),
        ("QF-3306A", "service part", 0),
        ("QF-4471", "not listed", 1),
        ("QF-0881", "unknown", 1),
    ],
)
def test_belongs_says_the_verdict_because_of_what_and_by_its_code(
    xref: Run, number: str, verdict: str, code: int
) -> None:
    done = xref("belongs", number, "--machine", "QW 312", "--json")
    assert done.returncode == code
    document = told(done)
    assert {"verdict", "because", "ranges"} <= set(document)
    assert document["verdict"] == verdict
    plain = xref("belongs", number, "--machine", "QW 312")
    assert f"{verdict}." in plain.stdout
    assert "Because" in plain.stdout
    assert ("not that it will go in" in plain.stdout) == (code == 0)


def test_trace_prints_what_to_ask_for_and_draws_the_chain(xref: Run) -> None:
    done = xref("trace", "QF-4471")
    assert done.returncode == 0
    assert done.stdout.startswith("Ask for:\n  D 70-0142")
    assert "QF-4471 → D 70-0142, with QF-4490" in done.stdout


def test_trace_has_the_keys_that_programs_lean_on(xref: Run) -> None:
    document = told(xref("trace", "QF-4471", "--json"))
    assert {"number", "maker", "current", "later", "earlier", "findings"} <= set(document)
    (end,) = document["current"]
    assert end["number"] == "D 70-0142"
    assert end["maker"] == "Dunmarrow"
    assert end["quantity"] == 1
    assert end["via"] == ["QF-4471", "D 70-0142"]


def test_a_way_of_several_is_printed_as_one_line(xref: Run) -> None:
    assert xref("supersede", "QF-0881", "QF-1", "QF-2", "--as", "choice").returncode == 0
    done = xref("supersede", "QF-1", "QF-3", "QF-4", "--as", "set", "--quantity", "2")
    assert done.returncode == 0
    said = xref("trace", "QF-0881").stdout
    assert "Ask for any one of:\n  - 2 × QF-3 + 2 × QF-4\n  - QF-2\n" in said


def test_a_cycle_is_refused_with_its_path_until_it_is_recorded_anyway(xref: Run) -> None:
    refused = xref("supersede", "D 70-0142", "QF-4471")
    assert refused.returncode == 2
    assert "D 70-0142 → QF-4471 → D 70-0142" in refused.stderr
    assert "--record-anyway" in refused.stderr
    done = xref("supersede", "D 70-0142", "QF-4471", "--record-anyway")
    assert done.returncode == 0
    assert "closes a cycle" in done.stderr
    document = told(xref("trace", "QF-4471", "--json"))
    assert [f["kind"] for f in document["findings"]] == ["cycle"]


def test_a_machine_resolves_a_branch_by_serial(xref: Run) -> None:
    xref("supersede", "QF-0881", "QF-1", "--from-serial", "350", "--model", "Whimbrel")
    xref("supersede", "QF-0881", "QF-2", "--from-serial", "to QW349", "--model", "Whimbrel")
    document = told(xref("trace", "QF-0881", "--machine", "QW 312", "--json"))
    assert [end["number"] for end in document["current"]] == ["QF-2"]
    assert document["later"][0]["serials"] == "to QW349"
    both = told(xref("trace", "QF-0881", "--json"))
    assert {end["number"] for end in both["current"]} == {"QF-1", "QF-2"}
    assert {f["kind"] for f in both["findings"]} >= {"fork"}


def test_a_number_made_on_the_way_is_said(xref: Run) -> None:
    done = xref("supersede", "QF-0881", "QF-9001")
    assert "QF-9001 was not in the store: added as mentioned only." in done.stderr
    assert told(xref("trace", "QF-0881", "--json"))["findings"][0]["kind"] == "unknown number"


@pytest.mark.parametrize("command", ["trace", "equivalents", "donor"])
def test_reading_a_number_that_is_not_there_exits_1_and_names_the_nearest(
    xref: Run, command: str
) -> None:
    done = xref(command, "QF-4479")
    assert done.returncode == 1
    assert "QF-447" in done.stderr
    assert xref("part", "show", "QF-4479").returncode == 1


def test_donor_names_range_outliers_and_machine_and_draws_them(xref: Run) -> None:
    numbers = ("QF-4471", "QF-4477", "QF-3311", "QF-3305")
    document = told(xref("donor", *numbers, "--machine", "QW 312", "--json"))
    assert {"ranges", "machine_inside", "outliers"} <= set(document)
    best = document["ranges"][0]
    assert {"model", "from", "to", "supported_by", "against"} <= set(best)
    assert (best["from"], best["to"]) == ("QW360", "QW420")
    assert document["outliers"] == ["QF-3305"]
    assert document["machine_inside"] is False
    said = xref("donor", *numbers, "--machine", "QW 312").stdout
    bar, mark = (row for row in said.splitlines() if "3 parts  |" in row or row.endswith(" QW312"))
    assert "=" in bar
    assert mark.index("^") < bar.index("=")
    assert max(map(len, said.splitlines())) <= 80


def test_a_donor_range_runs_on_over_the_prefixes_in_order_of_build(xref: Run) -> None:
    xref("machine", "add", "M", "--model", "Dotterel", "--serial", "PX3", "--prefixes", "PW,PX")
    xref("applies", "QF-8001", "--model", "Dotterel", "--from", "PW350")
    xref("applies", "QF-8002", "--model", "Dotterel", "--to", "PX20")
    xref("applies", "QF-8003", "--model", "Dotterel", "--from", "PX21")
    done = xref("donor", "QF-8001", "QF-8002", "--machine", "M")
    assert done.stdout.startswith("Likely off a Dotterel from PW350 to PX20.\n")
    assert "M lies inside that range." in done.stdout
    best = told(xref("donor", "QF-8001", "QF-8002", "--json"))["ranges"][0]
    assert (best["from"], best["to"]) == ("PW350", "PX20")
    split = xref("donor", "QF-8002", "QF-8003").stdout
    assert split.startswith("Perhaps off a Dotterel ")
    assert "or as likely, a Dotterel " in split


def test_donor_without_any_range_on_record_exits_1(xref: Run) -> None:
    done = xref("donor", "QF-0881", "--json")
    assert done.returncode == 1
    assert told(done)["ranges"] == []
    assert told(done)["machine_inside"] is None


def test_applies_and_machine_write_what_belongs_reads(xref: Run) -> None:
    assert (
        xref(
            "machine",
            "add",
            "QW 400",
            "--model",
            "Whimbrel",
            "--serial",
            "400",
            "--component",
            "engine=E 1300@block",
        ).returncode
        == 0
    )
    done = xref("applies", "QF-0881", "--model", "Whimbrel", "--from", "350", "--to", "420")
    assert done.stdout == "QF-0881: Whimbrel QW350-QW420.\n"
    assert xref("belongs", "QF-0881", "--machine", "QW 400").returncode == 0
    assert xref("belongs", "QF-0881", "--machine", "QW 312").returncode == 1
    machines = told(xref("machine", "list", "--json"))["machines"]
    held = next(m for m in machines if m["name"] == "QW 400")
    assert held["serials"]["engine"] == {"serial": "E 1300", "stamped": "block"}


def test_does_not_fit_is_a_recorded_fact(xref: Run) -> None:
    xref("applies", "QF-4471", "--model", "Whimbrel", "--serials", "QW300-QW349", "--not")
    document = told(xref("belongs", "QF-4471", "--machine", "QW 312", "--json"))
    assert document["verdict"] == "not listed"
    assert "as not fitting" in document["because"]
    assert [entry["fits"] for entry in document["ranges"]] == [True, False]


def test_serials_not_understood_are_quoted(xref: Run) -> None:
    done = xref("applies", "QF-0881", "--model", "Whimbrel", "--serials", "QW101-199, about 250")
    assert done.returncode == 2
    assert '"ABOUT 250"' in done.stderr


def test_interchange_is_told_by_equivalents(xref: Run) -> None:
    done = xref("interchange", "QF-0881", "QF-9002", "--grade", "tried-fits", "--one-way")
    assert done.stdout.startswith("QF-0881 → QF-9002: tried, fits.\n")
    (held,) = told(xref("equivalents", "QF-9002", "--json"))["equivalents"]
    assert (held["number"], held["grade"], held["direction"]) == (
        "QF-0881",
        "tried, fits",
        "one way",
    )


def test_only_near_misses_exit_1(xref: Run) -> None:
    """6205 is 25 × 52 × 15 (ISO 15); 50 mm is no inch size of 2 in (50.8 mm)."""
    sizes = ("--size", "inside=24.5mm", "--size", "section=3.53mm", "--kind", "o-ring")
    done = xref("equivalents", *sizes, "--json")
    grades = {e["grade"] for e in told(done)["equivalents"]}
    assert grades == {"near miss"}
    assert done.returncode == 1
    assert "these do NOT fit" in xref("equivalents", *sizes).stdout


def test_identify_carries_belongs_and_the_serial_as_evidence(xref: Run) -> None:
    done = xref("identify", "--mark", "QF-4471", "--machine", "QW 312", "--json")
    first = told(done)["candidates"][0]
    assert first["number"] == "QF-4471"
    assert first["belongs"]["verdict"] == "not listed"
    assert "serial" in [e["about"] for e in first["evidence"]]
    assert first["order"]["number"] == "D 70-0142"


RUBBISH = [
    "\x00",
    "a\x00b",
    "x" * 1_000_000,
    "\udcff",
    "\u202eQW312",
    "   ",
    "-",
    "\ud800",
    "🙂",
    "½",
]
COMMANDS = [
    ("trace", "{}"),
    ("trace", "QF-4471", "--machine", "{}"),
    ("trace", "QF-4471", "--maker", "{}"),
    ("belongs", "{}", "--machine", "QW 312"),
    ("belongs", "QF-4471", "--machine", "{}"),
    ("donor", "{}", "QF-4471"),
    ("donor", "QF-4471", "--machine", "{}"),
    ("equivalents", "{}"),
    ("equivalents", "--bore", "{}"),
    ("equivalents", "--size", "bore={}"),
    ("equivalents", "--size", "{}=20mm"),
    ("equivalents", "--bore", "20mm", "--kind", "{}"),
    ("supersede", "{}", "QF-4471"),
    ("supersede", "QF-4471", "{}"),
    ("supersede", "QF-0881", "QF-4471", "--as", "{}"),
    ("supersede", "QF-0881", "QF-4471", "--from-serial", "{}"),
    ("supersede", "QF-0881", "QF-4471", "--model", "{}"),
    ("supersede", "QF-0881", "QF-4471", "--with", "{}"),
    ("supersede", "QF-0881", "QF-4471", "--source", "{}"),
    ("supersede", "QF-0881", "QF-4471", "--date", "{}"),
    ("supersede", "QF-0881", "QF-4471", "--reason", "{}"),
    ("supersede", "QF-0881", "QF-4471", "--quantity", "{}"),
    ("supersede", "QF-0881", "QF-4471", "--maker", "{}"),
    ("interchange", "{}", "QF-4471", "--grade", "stated"),
    ("interchange", "QF-4471", "{}", "--grade", "stated"),
    ("interchange", "QF-0881", "QF-4471", "--grade", "{}"),
    ("interchange", "QF-0881", "QF-4471", "--grade", "stated", "--source", "{}"),
    ("interchange", "QF-0881", "QF-4471", "--grade", "stated", "--note", "{}"),
    ("machine", "add", "{}", "--model", "Whimbrel", "--serial", "QW1"),
    ("machine", "add", "M", "--model", "{}", "--serial", "QW1"),
    ("machine", "add", "M", "--model", "Whimbrel", "--serial", "{}"),
    ("machine", "add", "M", "--model", "Whimbrel", "--serial", "QW1", "--maker", "{}"),
    ("machine", "add", "M", "--model", "Whimbrel", "--serial", "QW1", "--stamped", "{}"),
    ("machine", "add", "M", "--model", "Whimbrel", "--serial", "QW1", "--prefixes", "{}"),
    ("machine", "add", "M", "--model", "Whimbrel", "--serial", "QW1", "--component", "{}"),
    ("machine", "add", "M", "--model", "Whimbrel", "--serial", "QW1", "--component", "engine={}"),
    (
        "machine",
        "add",
        "M",
        "--model",
        "Whimbrel",
        "--serial",
        "QW1",
        "--component",
        "engine=E1@{}",
    ),
    ("machine", "add", "M", "--model", "Whimbrel", "--serial", "QW1", "--component", "{}=E1"),
    ("machine", "remove", "{}"),
    ("applies", "{}", "--model", "Whimbrel"),
    ("applies", "QF-0881", "--model", "{}"),
    ("applies", "QF-0881", "--model", "Whimbrel", "--from", "{}"),
    ("applies", "QF-0881", "--model", "Whimbrel", "--to", "{}"),
    ("applies", "QF-0881", "--model", "Whimbrel", "--serials", "{}"),
    ("applies", "QF-0881", "--model", "Whimbrel", "--counts", "{}"),
    ("applies", "QF-0881", "--model", "Whimbrel", "--assembly", "{}"),
    ("applies", "QF-0881", "--model", "Whimbrel", "--quantity", "{}"),
    ("applies", "QF-0881", "--model", "Whimbrel", "--source", "{}"),
    ("applies", "QF-0881", "--model", "Whimbrel", "--note", "{}"),
    ("applies", "QF-0881", "--model", "Whimbrel", "--maker", "{}"),
]


@pytest.mark.parametrize("command", COMMANDS, ids=" ".join)
def test_rubbish_is_refused_in_words_and_whatever_is_taken_can_be_read_back(
    xref: Run, command: tuple[str, ...]
) -> None:
    """Exit 0, 1 or 2 and never a traceback; the readers then still work on the store."""
    for rubbish in RUBBISH:
        done = xref(*(word.replace("{}", rubbish) for word in command))
        assert done.returncode in (0, 1, 2), done.stderr[:300]
        assert "Traceback" not in done.stderr
        assert len(done.stderr) < 5000
    mine = ("--maker", "Quillfeather", "--json")
    for reader in (
        ("machine", "list", "--json"),
        ("trace", "QF-4471", *mine),
        ("equivalents", "QF-0881", *mine),
        ("belongs", "QF-0881", "--machine", "QW 312", *mine),
    ):
        done = xref(*reader)
        assert done.returncode in (0, 1)
        assert "error" not in told(done)


def test_a_serial_that_is_given_anew_is_said_and_its_place_stays_with_it(xref: Run) -> None:
    new = ("machine", "add", "QW 312", "--model", "Whimbrel", "--serial")
    assert xref(*new, "QW312").stdout == "Changed QW 312, a Whimbrel.\n"
    assert "QW312, stamped on frame, left front" in xref("machine", "list").stdout
    said = xref(*new, "QW313").stdout
    assert said == "Changed QW 312, a Whimbrel.\nIts works serial was QW312 and is QW313 now.\n"
    assert "frame, left front" not in xref("machine", "list").stdout
