"""What the terminal says of a model, a component or a source that was not on record."""

from __future__ import annotations

import json
import subprocess
from collections.abc import Callable
from pathlib import Path

Run = Callable[..., subprocess.CompletedProcess[str]]


def test_the_near_model_and_source_are_named_beside_the_answer(xref: Run) -> None:
    words = ("--serials", "1-9")
    xref("applies", "Q-1", "--model", "Dotterel", *words, "--source", "Book of 1950")
    done = xref("applies", "Q-1", "--model", "Doterel", *words, "--source", "Bok of 1950")
    assert done.returncode == 0
    assert 'the model "Doterel" is new; near it on record: Dotterel.' in done.stderr
    assert 'the source "Bok of 1950" is new; near it on record: Book of 1950.' in done.stderr
    assert "new" not in done.stdout


def test_nothing_is_said_to_be_new_where_all_is_on_record(xref: Run) -> None:
    same = ("applies", "Q-1", "--model", "Dotterel", "--counts", "engine", "--serials", "1-9")
    assert "is new" in xref(*same).stderr
    assert "is new" not in xref(*same).stderr


def new(run: Run, *words: str) -> list[tuple[str, str, list[str]]]:
    done = run(*words, "--json")
    assert done.returncode == 0, done.stderr
    told = [(one["what"], one["name"], one["near"]) for one in json.loads(done.stdout)["new"]]
    for _, name, near in told:
        assert name in done.stderr
        assert all(other in done.stderr for other in near)
    return told


def test_every_command_that_writes_down_says_in_json_what_it_made_anew(xref: Run) -> None:
    xref("part", "add", "QF-1", "--maker", "Quillfeather")
    assert new(xref, "part", "add", "QF-2", "--maker", "Quilfeather", "--source", "Book") == [
        ("source", "Book", []),
        ("maker", "Quilfeather", ["Quillfeather"]),
    ]
    assert new(xref, "applies", "QF-3", "--model", "Garganey", "--counts", "winch") == [
        ("number", "QF-3", []),
        ("model", "Garganey", []),
        ("component", "winch", []),
    ]
    machine = ("machine", "add", "No 7", "--serial", "7")
    assert new(xref, *machine, "--model", "Gargany", "--maker", "Dunmarow") == [
        ("maker", "Dunmarow", []),
        ("model", "Gargany", ["Garganey"]),
    ]
    assert new(xref, "mark", "add", "QF-4", "Q 9", "--role", "casting", "--source", "Bok") == [
        ("number", "QF-4", []),
        ("source", "Bok", ["Book"]),
    ]
    assert new(xref, "supersede", "QF-1", "QF-5", "--maker", "Quillfeather") == [
        ("number", "QF-5", [])
    ]
    assert new(xref, "interchange", "QF-1", "QF-6", "--grade", "stated") == [("number", "QF-6", [])]
    label = json.loads(xref("bench", "add", "box 1", "--mark", "QF", "--json").stdout)["label"]
    assert new(xref, "bench", "decide", str(label), "QF-8") == [("number", "QF-8", [])]
    assert new(xref, "wanted", "add", "a long bush") == []
    assert new(xref, "source", "add", "Third book") == []


def test_a_machine_and_a_range_are_given_back_as_json(xref: Run) -> None:
    machine = json.loads(
        xref("machine", "add", "No 7", "--model", "Garganey", "--serial", "G7", "--json").stdout
    )
    assert machine["serials"]["works"]["serial"] == "G7"
    again = ("machine", "add", "No 7", "--model", "Garganey", "--serial", "G8", "--json")
    assert json.loads(xref(*again).stdout)["changed"] == [
        {"component": "works", "was": "G7", "now": "G8"}
    ]
    told = xref("applies", "QF-3", "--model", "Garganey", "--serials", "G1-G9", "--json").stdout
    assert json.loads(told)["range"]["serials"] == "G1-G9"


def test_a_list_tells_of_makers_only_where_one_may_be_a_slip(xref: Run, tmp_path: Path) -> None:
    xref("part", "add", "QF-1", "--maker", "Quillfeather")
    sheet = tmp_path / "list.csv"
    sheet.write_text("number,maker\nA-1,Quilfeather\nA-2,Dunmarrow\n", encoding="utf-8")
    done = xref("import", str(sheet))
    assert 'the maker "Quilfeather" is new; near it on record: Quillfeather.' in done.stderr
    assert "Dunmarrow" not in done.stderr
