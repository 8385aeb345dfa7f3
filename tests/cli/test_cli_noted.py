"""What lists say of a part, and its own number, maker and sizes, are put right one by one."""

from __future__ import annotations

import json
import re
import subprocess
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

Run = Callable[..., subprocess.CompletedProcess[str]]
LIST = """number,maker,description,bore mm,supplier,price,source,replaced by,model,serials,shelf
QF-1,Quillfeather,long bush,20,Dunmarrow,4.20 GBP,Book A,QF-2,Whimbrel,QW1-QW9,b 4
QF-1,Quillfeather,long bushing,21,Dunmarrow,4.50 GBP,Book B,,,,c 4
"""


@pytest.fixture
def full(xref: Run, tmp_path: Path) -> Run:
    """A part with a fact of every sort."""
    sheet = tmp_path / "list.csv"
    sheet.write_text(LIST, encoding="utf-8")
    assert xref("import", str(sheet)).returncode == 0
    xref("mark", "add", "QF-1", "Q 77", "--role", "casting", "--source", "Book A")
    xref("interchange", "QF-1", "QF-3", "--grade", "stated", "--source", "Book B")
    xref("wanted", "add", "QF-1")
    xref("bench", "add", "box 1", "--mark", "QF-1")
    xref("bench", "decide", "1", "QF-1")
    return xref


def rows(run: Run, command: str) -> list[dict[str, Any]]:
    (found,) = json.loads(run(*command.split(), "list", "--json").stdout).values()
    return list(found)


def test_the_card_names_each_fact_by_the_command_and_number_that_remove_it(full: Run) -> None:
    card = " ".join(full("part", "show", "QF-1").stdout.split())
    found = re.findall(r"\[([a-z ]+) (\d+)\]", card.partition("What ends in")[0])
    assert sorted({command for command, _ in found}) == sorted(
        (
            "applies",
            "bench",
            "interchange",
            "mark",
            "part claim",
            "part kept",
            "part price",
            "supersede",
            "wanted",
        )
    )
    for source in (
        "Book A) [applies",
        "Book A [supersede",
        "Book B) [interchange",
        "Book A) [mark",
    ):
        assert source in card
    for command, number in found:
        done = full(*command.split(), "remove", number)
        assert done.returncode == 0, done.stderr
    left = full("part", "show", "QF-1").stdout
    assert re.findall(r"\[([a-z]+) \d+\]", left) == []
    assert full("check").returncode == 0
    for _ in found:
        assert full("undo").returncode == 0
    assert " ".join(full("part", "show", "QF-1").stdout.split()) == card


def test_the_cards_json_has_the_numbers(full: Run) -> None:
    card = json.loads(full("part", "show", "QF-1", "--json").stdout)
    for name in ("marks", "ranges", "interchange", "extras", "claims", "prices", "wanted"):
        assert all(isinstance(one["id"], int) for one in card[name]), name
        assert card[name], name
    assert card["chain"]["later"][0]["id"] == rows(full, "supersede")[0]["id"]


def test_a_price_a_claim_and_a_kept_cell_are_changed_by_themselves(full: Run) -> None:
    first, other = (row["id"] for row in rows(full, "part price"))
    full("part", "price", "change", str(first), "--price", "5.10", "--without", "supplier")
    by_id = {row["id"]: row for row in rows(full, "part price")}
    assert (by_id[first]["price"], by_id[first]["supplier"]) == ("5.10", None)
    assert by_id[other]["supplier"] == "Dunmarrow"
    bore = next(row["id"] for row in rows(full, "part claim") if row["field"] == "bore")
    full("part", "claim", "change", str(bore), "--value", "1in", "--source", "Book C")
    row = next(row for row in rows(full, "part claim") if row["id"] == bore)
    assert (row["value"], row["source"]) == ("25.4 mm", "Book C")
    kept = rows(full, "part kept")[0]["id"]
    full("part", "kept", "change", str(kept), "--value", "b 9", "--label", "drawer")
    row = next(row for row in rows(full, "part kept") if row["id"] == kept)
    assert (row["label"], row["value"]) == ("drawer", "b 9")
    assert "b 4" in full("history", "--limit", "1").stdout


@pytest.mark.parametrize(
    "words",
    [
        ("part", "price", "change", "1"),
        ("part", "price", "change", "99", "--price", "2"),
        ("part", "price", "change", "1", "--price", "2", "--without", "price"),
        ("part", "price", "change", "1", "--without", "colour"),
        ("part", "claim", "change", "2", "--value", "wide"),
        ("part", "kept", "remove", "x"),
        ("part", "kept", "change", "1", "--value", ""),
    ],
)
def test_what_cannot_be_is_refused_in_two_lines(full: Run, words: tuple[str, ...]) -> None:
    done = full(*words)
    assert done.returncode in (1, 2)
    assert 1 <= len(done.stderr.splitlines()) <= 2


def test_a_number_and_a_maker_are_put_right_and_all_that_names_the_part_follows(full: Run) -> None:
    before = full("part", "show", "QF-1").stdout
    words = ("--new-number", "QF-11", "--new-maker", "Dunmarrow", "--without", "bore")
    done = full("part", "change", "QF-1", *words, "--source", "Book B")
    assert done.returncode == 0, done.stderr
    card = json.loads(full("part", "show", "QF-11", "--json").stdout)
    assert (card["maker"], card["sizes"], card["source"]) == ("Dunmarrow", {}, "Book B")
    assert (card["chain"]["later"][0]["old"], len(card["ranges"])) == ("QF-11", 1)
    assert full("part", "show", "QF-1").returncode == 1
    assert "QF-11" in full("identify", "--mark", "QF-11").stdout
    told = full("history", "--limit", "1").stdout
    for said in ("number QF-1 → QF-11", "maker Quillfeather → Dunmarrow", "Book A → Book B"):
        assert said in told
    assert full("check").returncode == 0
    assert full("undo").returncode == 0
    assert full("part", "show", "QF-1").stdout == before
    assert full("check").returncode == 0


def test_the_old_number_is_free_and_no_more_the_same_thing(full: Run) -> None:
    full("part", "change", "QF-1", "--new-number", "QF-11")
    full("part", "add", "QF-1", "--maker", "Quillfeather")
    assert json.loads(full("part", "show", "QF-11", "--json").stdout)["same_part"] == []
    taken = full("part", "change", "QF-1", "--new-number", "qf 11")
    assert taken.returncode == 2
    assert "on record already" in taken.stderr
    assert full("check").returncode == 0


def test_a_part_that_gets_a_standards_number_becomes_that_standards_thing(xref: Run) -> None:
    xref("part", "add", "62O4")
    xref("part", "change", "62O4", "--new-number", "6204")
    card = json.loads(xref("part", "show", "6204", "--json").stdout)
    assert [one["number"] for one in card["same_part"]] == ["6204"]
    assert card["type"] == "deep groove ball"
    xref("part", "change", "6204", "--new-maker", "Quillfeather")
    card = json.loads(xref("part", "show", "Quillfeather:6204", "--json").stdout)
    assert (card["same_part"], card["type"]) == ([], None)
    refused = xref("part", "change", "Quillfeather:6204", "--new-maker", "ISO 15")
    assert refused.returncode == 2
    assert xref("check").returncode == 0
