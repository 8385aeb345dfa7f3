"""``xref identify`` from the command line: the answer, its odds, its reasons and its exit code."""

from __future__ import annotations

import json
import math
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

Run = Callable[..., subprocess.CompletedProcess[str]]

SEVEN = ("--bore", "20.0mm", "--outside", "47.02mm", "--width", "14mm")
"""The boundary dimensions of diameter series 2, bore 20 (ISO 15), read by caliper."""

CASES = {
    "size alone": SEVEN,
    "6?04 and a width": ("--mark", "6?04", "--bore", "20mm", "--width", "15mm"),
    "7206, 17.25 wide": ("--mark", "7206", "--width", "17.25mm"),
    "a mark against sizes": (
        "--mark",
        "6204",
        "--bore",
        "25mm",
        "--outside",
        "62mm",
        "--width",
        "17mm",
    ),
    "o-ring": ("--size", "inside=24.99mm", "--size", "section=3.53mm"),
    "no such number": ("--mark", "ZZZZ9QQ#1"),
    "a worn bush": (
        "--kind",
        "bush",
        "--condition",
        "worn",
        "--bore",
        "20.3mm",
        "--outside",
        "23.05mm",
        "--width",
        "20mm",
    ),
}

NAMED = {"query", "verdict", "candidates", "others", "none_of_these", "next_check"}
CANDIDATE = {
    "number",
    "maker",
    "kind",
    "description",
    "from",
    "also",
    "probability",
    "start_bits",
    "total_bits",
    "evidence",
    "not_compared",
    "order",
    "cautions",
}
"""What other programs lean on: more may stand beside these keys, none of them may go."""


def asked(xref: Run, *args: str) -> dict[str, Any]:
    """The JSON document of one question; nothing but it stands on stdout."""
    document: dict[str, Any] = json.loads(xref("identify", "--json", *args).stdout)
    return document


@pytest.mark.parametrize("args", CASES.values(), ids=CASES)
def test_json_has_the_promised_keys_and_the_odds_and_bits_add_up(
    xref: Run, args: tuple[str, ...]
) -> None:
    answer = asked(xref, *args)
    assert answer.keys() >= NAMED
    assert answer["others"].keys() >= {"count", "probability"}
    printed = math.fsum(c["probability"] for c in answer["candidates"])
    total = printed + answer["others"]["probability"] + answer["none_of_these"]
    assert total == pytest.approx(1.0, abs=1e-9)
    assert answer["candidates"]
    for c in answer["candidates"]:
        assert c.keys() >= CANDIDATE
        assert c["order"].keys() == {"number", "maker", "steps", "ask", "open"}
        assert all(
            e.keys() == {"about", "seen", "expected", "bits", "reason"} for e in c["evidence"]
        )
        bits = c["start_bits"] + math.fsum(e["bits"] for e in c["evidence"])
        assert bits == pytest.approx(c["total_bits"], abs=1e-9)
    for check in answer["next_check"]:
        assert check.keys() == {"key", "check", "bits", "would_decide"}
        assert all(way.keys() == {"answer", "if", "then"} for way in check["would_decide"])


@pytest.mark.parametrize(
    ("case", "verdict", "first"),
    [
        ("6?04 and a width", "one", "6304"),
        ("7206, 17.25 wide", "several", "30206"),
        ("a mark against sizes", "several", "6305"),
        ("o-ring", "several", "AS568-214"),
        ("a worn bush", "several", "20x23x20"),
    ],
)
def test_best_answer_is_the_part_the_tables_give(
    xref: Run, case: str, verdict: str, first: str
) -> None:
    """Sizes of 6304, 30206, 6305 and 214 as in ISO 15, ISO 355 and SAE AS568; bush as ISO 3547."""
    answer = asked(xref, *CASES[case])
    assert (answer["verdict"], answer["candidates"][0]["number"]) == (verdict, first)


def test_seven_bearings_of_one_size_are_a_tie_and_the_next_check_asks_what_rolls(xref: Run) -> None:
    answer = asked(xref, *SEVEN)
    best = answer["candidates"][0]["probability"]
    tied = {c["number"] for c in answer["candidates"] if c["probability"] > 0.8 * best}
    assert answer["verdict"] == "several"
    assert tied == {"6204", "7204", "1204", "N204", "NJ204", "NU204", "NUP204", "L20"}
    told = {
        way["if"]: set(way["then"]) & tied
        for check in answer["next_check"]
        if "roll" in check["check"]
        for way in check["would_decide"]
    }
    assert told["balls"] >= {"1204", "6204", "7204"}
    assert told["rollers"] == {"N204", "NJ204", "NU204", "NUP204"}


def test_mark_that_the_sizes_speak_against_is_shown_all_the_same(xref: Run) -> None:
    answer = asked(xref, *CASES["a mark against sizes"], "--limit", "1")
    assert [c["number"] for c in answer["candidates"]] == ["6305", "6204"]
    assert any("mark" in why and "size" in why for why in answer["why_not_one"])


@pytest.mark.parametrize(
    ("case", "code"), [("no such number", 1), ("size alone", 0), ("7206, 17.25 wide", 0)]
)
def test_exit_code_is_one_only_where_nothing_fits(xref: Run, case: str, code: int) -> None:
    text, document = xref("identify", *CASES[case]), xref("identify", "--json", *CASES[case])
    assert (text.returncode, document.returncode) == (code, code)
    assert (json.loads(document.stdout)["verdict"] == "none") == bool(code)
    assert text.stderr == document.stderr == ""


def test_text_gives_the_answer_first_then_why_then_next_then_the_caution(xref: Run) -> None:
    text = xref("identify", *SEVEN).stdout
    places = [text.index(f"\n{word}") for word in ("      9", "Why ", "Next: ", "Caution: ")]
    assert text.startswith("Several could be it")
    assert places == sorted(places)
    assert text.index("Odds are not a fitting instruction") > places[-1]


@pytest.mark.parametrize("why", [(), ("--why",)], ids=["", "why"])
@pytest.mark.parametrize("case", CASES)
def test_piped_text_keeps_to_eighty_columns(xref: Run, case: str, why: tuple[str, ...]) -> None:
    lines = xref("identify", *CASES[case], *why).stdout.splitlines()
    assert [line for line in lines if len(line) > 80] == []


def test_text_of_a_sure_answer_begins_with_its_number(xref: Run) -> None:
    assert xref("identify", *CASES["6?04 and a width"]).stdout.startswith("It is 6304: ")


def test_size_that_cannot_be_measured_is_not_asked_for(xref: Run) -> None:
    mark = ("--bore", "25mm", "--outside", "52mm")
    measured = "measure the width"
    first = [check["check"] for check in asked(xref, *mark)["next_check"]]
    second = asked(xref, *mark, "--cannot", "width")
    assert any(measured in check for check in first)
    assert second["query"]["cannot"] == ["width"]
    assert not any(measured in check["check"] for check in second["next_check"])


def test_why_shows_every_item_of_the_best_answer_with_its_bits(xref: Run) -> None:
    args = CASES["6?04 and a width"]
    best = asked(xref, *args)["candidates"][0]
    text = xref("identify", "--why", *args).stdout
    why = text.split("Why 6304:\n")[1].split("\n\n")[0]
    for bits in (best["start_bits"], best["total_bits"], *(e["bits"] for e in best["evidence"])):
        assert f"{bits:+7.1f} bits" in why
    assert len(best["evidence"]) == why.count(" bits  ") - 2
    assert "struck  6 3 0 4" in why
    assert "read    6 ? 0 4" in why
    assert " bits" not in xref("identify", *args).stdout


@pytest.mark.parametrize("limit", [1, 3, 12])
def test_limit_says_how_many_candidates_are_printed(xref: Run, limit: int) -> None:
    answer = asked(xref, *SEVEN, "--limit", str(limit))
    assert len(answer["candidates"]) == limit
    shares = [c["probability"] for c in answer["candidates"]]
    assert shares == sorted(shares, reverse=True)


def test_unit_that_was_not_written_is_said(xref: Run) -> None:
    bare = ("--mark", "6304", "--bore", "20")
    answer = asked(xref, *bare)
    size = answer["query"]["sizes"]["bore"]
    assert (size["mm"], size["unit"], size["unit_assumed"]) == (20.0, "mm", True)
    assert any("bore 20 as mm" in note for note in answer["notes"])
    assert "No unit was written: bore 20 as mm." in xref("identify", *bare).stdout
    assert "No unit was written" not in xref("identify", "--mark", "6304", "--bore", "20mm").stdout


def test_inch_size_is_read_exactly(xref: Run) -> None:
    answer = asked(xref, "--bore", "1-3/8in", "--tool", "rule")
    size = answer["query"]["sizes"]["bore"]
    assert (size["mm"], size["unit"], size["unit_assumed"]) == (34.925, "inch", False)
    assert answer["query"]["tool"] == "rule"


def test_of_two_readings_of_one_mark_the_better_counts(xref: Run) -> None:
    answer = asked(xref, "--mark", "QQ77Q", "--mark", "6204")
    assert answer["query"]["marks"] == ["QQ77Q", "6204"]
    assert answer["candidates"][0]["number"] == "6204"


def test_part_of_ones_own_is_found_by_its_mark_and_words(xref: Run) -> None:
    xref(
        "part",
        "add",
        "QF-2214",
        "--maker",
        "Quillfeather",
        "--kind",
        "casting",
        "--words",
        "chain case, jackshaft",
    )
    best = asked(xref, "--mark", "QF2?14", "--words", "chain case")["candidates"][0]
    assert (best["number"], best["maker"], best["from"]) == ("QF-2214", "Quillfeather", "store")
    assert (best["order"]["number"], best["order"]["maker"]) == ("QF-2214", "Quillfeather")
    assert {e["about"] for e in best["evidence"]} >= {"mark: read", "words"}


def test_piped_output_is_the_same_from_a_process_of_its_own(xref: Run, process: Run) -> None:
    here, there = xref("identify", *SEVEN), process("identify", *SEVEN)
    assert (there.returncode, there.stdout, there.stderr) == (0, here.stdout, "")


@pytest.mark.parametrize(
    ("args", "code"),
    [
        (("identify", "--json", *SEVEN), 0),
        (("identify", *SEVEN), 0),
        (("identify", "--json", "--from", "box.csv"), 0),
        (("part", "list", "--standard"), 0),
        (("--help",), 0),
        (("demo",), 0),
        ((), 0),
        (("part", "show", "--json", "ZZ9ZZ9ZZ9"), 1),
    ],
    ids=["json", "text", "a box", "list", "help", "demo", "nothing", "a refusal"],
)
def test_reader_that_goes_away_leaves_no_complaint(
    store: Path, args: tuple[str, ...], code: int
) -> None:
    """Exit 0 as of any filter; a refusal, which stands on stderr, stays one."""
    box = store.with_name("box.csv")
    box.write_text("mark\n" + "6204\n" * 3)
    read, write = os.pipe()
    os.close(read)
    run = subprocess.run(
        [
            sys.executable,
            "-m",
            "xref",
            "--store",
            str(store),
            *(str(box) if arg == box.name else arg for arg in args),
        ],
        stdout=write,
        stderr=subprocess.PIPE,
        cwd=Path(__file__).parents[2],
        check=False,
        timeout=120,
    )
    os.close(write)
    complaint = run.stderr if code == 0 else run.stderr.split(b"\n", 2)[2]
    assert (run.returncode, complaint) == (code, b"")


def test_reader_of_the_first_line_gets_it_and_both_leave_quietly(store: Path) -> None:
    """More than a pipe holds (64 KiB), so that the writer is still writing when it closes."""
    listed = subprocess.Popen(
        [
            sys.executable,
            "-m",
            "xref",
            "--store",
            str(store),
            "part",
            "list",
            "--standard",
            "--limit",
            "5000",
            "--json",
        ],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        cwd=Path(__file__).parents[2],
    )
    assert listed.stdout is not None
    assert listed.stderr is not None
    assert listed.stdout.readline() == b"{\n"
    listed.stdout.close()
    assert (listed.wait(timeout=120), listed.stderr.read()) == (0, b"")
    listed.stderr.close()


def test_words_that_no_description_has_are_said_to_tell_nothing(xref: Run) -> None:
    xref("part", "add", "QF-12", "--words", "sprocket, axle")
    said = xref("identify", "--words", "x").stdout
    assert said.startswith("This tells no part from the others; the nearest:\n")


def test_a_mark_that_was_not_taken_for_a_number_is_named(xref: Run) -> None:
    said = xref("identify", "--mark", "62?4", "--mark", "Quillfeather", "--bore", "20mm").stdout
    assert "Not taken for a number: QUILLFEATHER." in " ".join(said.split())
    assert "Not taken" not in xref("identify", "--mark", "62?4", "--bore", "20mm").stdout
    turned = xref("identify", "--mark", "9029", "--mark", "6206", "--bore", "30mm").stdout
    assert "Not taken" in turned
    assert "Not taken" not in xref("identify", "--mark", "9029", "--bore", "30mm").stdout


def test_a_short_list_out_of_many_says_that_most_are_not_shown(xref: Run) -> None:
    said = xref("identify", "--bore", "20mm").stdout
    assert said.startswith("Many could be it, most of them not shown (a mark, or three sizes,")
