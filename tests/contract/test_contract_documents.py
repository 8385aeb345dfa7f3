"""The one JSON document of each command that reads: its keys, their types, and the exit code."""

from __future__ import annotations

import csv
import json
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import click
import pytest

from xref.cli.app import app

Said = Callable[..., tuple[int, str, str]]
Asked = Callable[..., tuple[int, dict[str, Any]]]

WITHOUT_JSON = {
    "export",
    "undo",
    "backup",
    "restore",
    "demo",
    "page",
    "draw",
    "supersede",
    "interchange",
    "applies",
}
"""Commands at the top that write; what groups hold is told by its verb."""
READING_VERBS = ("list", "show")


def commands() -> Iterator[tuple[tuple[str, ...], click.Command]]:
    """Every command by its words."""
    context = click.Context(app)
    for name in app.list_commands(context):
        command = app.get_command(context, name)
        assert command is not None
        if isinstance(command, click.Group):
            yield from (((name, verb), below) for verb, below in command.commands.items())
        else:
            yield (name,), command


def test_every_command_that_reads_takes_json() -> None:
    for words, command in commands():
        reads = words[-1] in READING_VERBS if len(words) > 1 else words[0] not in WITHOUT_JSON
        takes = any("--json" in param.opts for param in command.params)
        assert takes or not reads, words


def test_trace(asked: Asked) -> None:
    code, told = asked("trace", "QF-4471")
    assert code == 0
    promised = {"number", "maker", "current", "later", "earlier", "findings", "cautions"}
    assert told.keys() == promised
    (end,) = told["current"]
    assert end.keys() >= {"number", "maker", "quantity", "via"}
    assert (end["number"], end["maker"]) == ("D 70-0142", "Dunmarrow")
    assert end["via"] == ["QF-4471", "D 70-0142"]


@pytest.mark.parametrize(
    ("number", "code", "verdict"),
    [("QF-2214", 0, "listed"), ("QF-4471", 1, "not listed"), ("6204", 1, "unknown")],
)
def test_belongs(asked: Asked, number: str, code: int, verdict: str) -> None:
    answered, told = asked("belongs", number, "--machine", "QW 312")
    assert (answered, told["verdict"]) == (code, verdict)
    assert told.keys() >= {"verdict", "because", "ranges"}
    assert isinstance(told["because"], str)
    assert bool(told["ranges"]) == (verdict != "unknown")


def test_a_number_that_supersession_reaches_from_a_listed_one_is_a_service_part(
    said: Said, asked: Asked
) -> None:
    assert said("supersede", "QF-2214", "NEW-1")[0] == 0
    assert said("supersede", "NEW-1", "NEW-2")[0] == 0
    code, told = asked("belongs", "NEW-2", "--machine", "QW 312")
    assert (code, told["verdict"]) == (0, "service part")


def test_donor(asked: Asked) -> None:
    numbers = ("QF-4471", "QF-4477", "QF-3311")
    code, told = asked("donor", *numbers)
    assert (code, told["machine_inside"], told["outliers"]) == (0, None, [])
    best = told["ranges"][0]
    assert best.keys() >= {"model", "from", "to", "supported_by", "against"}
    assert (best["from"], best["to"]) == ("QW360", "QW420")
    assert best["supported_by"] == list(numbers)
    assert asked("donor", *numbers, "--machine", "QW 312")[1]["machine_inside"] is False
    assert asked("donor", "QF-2214", "--machine", "QW 312")[1]["machine_inside"] is True
    assert asked("donor", "QF-2214", *numbers)[1]["outliers"] == ["QF-2214"]
    code, nothing = asked("donor", "6204")
    assert code == 1
    assert any("load rating" in text for text in nothing.pop("cautions"))
    assert nothing == {
        "ranges": [],
        "machine_inside": None,
        "machine_reached": False,
        "outliers": [],
        "replacing": [],
        "silent": ["6204"],
    }


def test_decode(asked: Asked) -> None:
    code, told = asked("decode", "6204 2RS C3 QQ9")
    assert code == 0
    assert told.keys() >= {"text", "readings", "decided_by", "unknown", "cautions"}
    assert "load rating" in told["cautions"][0]
    assert (told["text"], told["unknown"]) == ("6204 2RS C3 QQ9", ["QQ9"])
    (reading,) = told["readings"]
    assert reading.keys() == {
        "designation",
        "kind",
        "standard",
        "sizes",
        "features",
        "canonical",
        "also_written",
        "also_written_basis",
        "tables_agreeing",
        "note",
    }
    assert reading["sizes"] == {"bore": 20.0, "outside": 47.0, "width": 14.0}
    assert [(f["code"], f["basis"]) for f in reading["features"]] == [
        ("2RS", "standard"),
        ("C3", "standard"),
    ]
    assert all(f.keys() == {"code", "meaning", "basis"} for f in reading["features"])
    assert asked("decode", "7206")[1]["decided_by"].startswith("width 16 mm")
    code, none = asked("decode", "QZX")
    assert (code, none["readings"], none["unknown"]) == (1, [], ["QZX"])
    assert none["cautions"] == []


def test_import(asked: Asked, tmp_path: Path) -> None:
    sheet = tmp_path / "parts.csv"
    sheet.write_text("number,bore,shoe\nN-1,20mm,a\n,25mm,b\nN-2,abc,c\n")
    code, told = asked("import", str(sheet))
    assert code == 1
    assert told.keys() >= {
        "read",
        "added",
        "changed",
        "unchanged",
        "rejected",
        "mapping",
        "findings",
    }
    assert [told[k] for k in ("read", "added", "rejected")] == [3, 2, 1]
    assert told["mapping"] == {"number": "number", "bore": "bore", "shoe": "extra"}
    for finding in told["findings"]:
        assert finding.keys() == {"file", "sheet", "row", "column", "kind", "message"}
    assert asked("part", "show", "N-1")[0] == 1, "all or nothing"
    assert asked("import", str(sheet), "--keep-good")[0] == 1
    assert asked("part", "show", "N-2")[1]["sizes"] == {}, "the cell is a finding, the row stays"
    assert [path.name for path in tmp_path.glob("*rejected*")] == ["parts.rejected.csv"]


def test_an_export_imports_again_unchanged_and_has_no_standard_rows(
    said: Said, asked: Asked, tmp_path: Path
) -> None:
    for name in ("own.csv", "own.xlsx"):
        sheet = str(tmp_path / name)
        assert said("export", sheet)[0] == 0
        code, told = asked("import", sheet)
        assert [code, *(told[k] for k in ("added", "changed", "rejected"))] == [0, 0, 0, 0]
    with (tmp_path / "own.csv").open(encoding="utf-8-sig", newline="") as text:
        rows = list(csv.DictReader(text))
    assert {row["maker"] for row in rows} == {"Quillfeather", "Dunmarrow"}
    assert len({row["number"] for row in rows}) == len(asked("part", "list")[1]["parts"])


def test_a_box_answers_a_line_a_row_in_order(said: Said, tmp_path: Path) -> None:
    box = tmp_path / "box.csv"
    box.write_text(
        "mark,bore,width,machine,size:teeth,tool\n6204,20mm,,,,rule\n,x,,,,\n6204 | QF 4471,,,,,\n"
        "6204,,,nowhere,,\n,,,,17,\nZZZZ9QQ#1,,,,,\n"
    )
    code, out, _ = said("identify", "--from", str(box), "--json")
    lines = [json.loads(line) for line in out.splitlines()]
    assert code == 1
    assert ["error" in line for line in lines] == [False, True, False, True, False, False]
    assert lines[0]["query"]["tool"] == "rule"
    assert lines[2]["query"]["marks"] == ["6204", "QF4471"]
    assert lines[4]["query"]["sizes"]["teeth"]["count"] == 17
    assert lines[5]["verdict"] == "none"
    box.write_text("mark\nZZZZ9QQ#1\n")
    assert said("identify", "--from", str(box), "--json")[0] == 0, "every row could be read"


@pytest.mark.parametrize(
    ("words", "code", "kind"),
    [
        (("trace", "NOT-1234567"), 1, "not found"),
        (("belongs", "QF-4471", "--machine", "nowhere"), 1, "not found"),
        (("identify",), 2, "usage"),
        (("identify", "--kind", "b", "--mark", "6204"), 2, "usage"),
        (("identify", "--size", "breadth=3mm"), 2, "usage"),
        (("identify", "--bore", "20mm", "--size", "bore=20mm"), 2, "usage"),
        (("nothing",), 2, "usage"),
        (("import", "nowhere.csv"), 3, "file"),
    ],
)
def test_an_error_is_two_lines_and_one_document(
    said: Said, words: tuple[str, ...], code: int, kind: str
) -> None:
    answered, out, err = said(*words, "--json")
    told = json.loads(out)["error"]
    assert (answered, told["kind"]) == (code, kind)
    assert told.keys() == {"kind", "message", "hint"}
    assert 1 <= len(err.splitlines()) <= 2
    assert told["message"] in err


def test_a_file_that_is_no_store_cannot_be_used(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    from xref.cli.app import main

    other = tmp_path / "notes.txt"
    other.write_text("not a store")
    assert main(["--store", str(other), "part", "list", "--json"]) == 3
    assert json.loads(capsys.readouterr().out)["error"]["kind"] == "store"
    assert other.read_text() == "not a store"
