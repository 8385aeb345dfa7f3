"""``xref identify --from``: a box of parts, one a row, one JSON line a row."""

from __future__ import annotations

import json
import re
import subprocess
from collections.abc import Callable
from pathlib import Path
from typing import Any, Literal

import pandas
import pytest
from openpyxl import Workbook

from xref.errors import FileError
from xref.sheets.box import read_box

Run = Callable[..., subprocess.CompletedProcess[str]]


@pytest.fixture
def box(tmp_path: Path) -> Callable[[bytes], str]:
    """Write a box and name it."""

    def write(content: bytes) -> str:
        path = tmp_path / "box.csv"
        path.write_bytes(content)
        return str(path)

    return write


Box = Callable[[bytes], str]


def lines(done: subprocess.CompletedProcess[str]) -> list[dict[str, Any]]:
    """One document a line."""
    return [json.loads(line) for line in done.stdout.splitlines()]


def first_numbers(done: subprocess.CompletedProcess[str]) -> list[str]:
    """The best candidate of each row."""
    return [line["candidates"][0]["number"] for line in lines(done)]


def test_rows_are_answered_in_order_as_a_single_question_would_be(xref: Run, box: Box) -> None:
    path = box(
        b"mark,bore,width,kind,words,tool,condition,size:section\n"
        b"6205,,,,,,,\n"
        b",20.3mm,20mm,bush,,rule,worn,\n"
        b"214,,,,,,,3.53mm\n"
        b"7206,,17.25mm,,,,,\n"
    )
    done = xref("identify", "--json", "--from", path)
    assert (done.returncode, done.stderr) == (0, "")
    alone = [
        ("--mark", "6205"),
        (
            *("--bore", "20.3mm", "--width", "20mm", "--kind", "bush"),
            *("--tool", "rule", "--condition", "worn"),
        ),
        ("--mark", "214", "--size", "section=3.53mm"),
        ("--mark", "7206", "--width", "17.25mm"),
    ]
    assert lines(done) == [json.loads(xref("identify", "--json", *a).stdout) for a in alone]


def test_row_that_cannot_be_read_has_an_error_in_its_place(xref: Run, box: Box) -> None:
    path = box(b"mark,bore\n6204,\n6205,minus three\n6206,\n6207,20mm,left over\n6208,\n")
    done = xref("identify", "--json", "--from", path)
    found = lines(done)
    assert done.returncode == 1
    assert [("error" in line) for line in found] == [False, True, False, True, False]
    assert found[1]["error"].keys() == {"kind", "message", "hint"}
    assert "minus three" in found[1]["error"]["message"]
    assert "row 5" in found[3]["error"]["message"]
    assert [found[i]["candidates"][0]["number"] for i in (0, 2, 4)] == ["6204", "6206", "6208"]


def test_row_that_fits_nothing_is_an_answer_and_no_error(xref: Run, box: Box) -> None:
    done = xref("identify", "--json", "--from", box(b"mark\nZZZZ9QQ#1\n6204\n"))
    assert done.returncode == 0
    assert [line["verdict"] for line in lines(done)] == ["none", "several"]


def test_marks_of_one_part_are_parted_by_a_bar_between_spaces(xref: Run, box: Box) -> None:
    done = xref("identify", "--json", "--from", box(b"mark\n62?4 | 6?04\n62|04\n"))
    assert [line["query"]["marks"] for line in lines(done)] == [["62?4", "6?04"], ["6204"]]


def test_casting_numbers_have_a_column_of_their_own(xref: Run, box: Box) -> None:
    xref("mark", "add", "QF-1", "QB 77", "--role", "casting", "--maker", "Quillfeather")
    done = xref("identify", "--json", "--from", box(b"cast\nQB77\n"))
    assert lines(done)[0]["query"]["casts"] == ["QB77"]
    assert first_numbers(done) == ["QF-1"]


@pytest.mark.parametrize(
    "content",
    [
        b"\xef\xbb\xbfmark,bore\n6204,20mm\n",
        b"mark,bore\r\n6204,20mm\r\n",
        b" Mark , BORE \n 6204 , 20mm \n",
        b"mark,bore\n\n6204,20mm\n,\n   ,  \n",
        b'"mark","bore"\n"6204","20mm"',
        b"bore,mark\n20mm,6204\n",
        b"mark;bore\n6204;20mm\n",
        b"mark;bore\n6204;20,0mm\n",
        b"mark\tbore\n6204\t20mm\n",
        b"mark|bore\n6204|20mm\n",
        "mark,bore\n6204,20mm\n".encode("utf-16"),
        "mark;bore\n6204;20mm\n".encode("utf-16-le"),
        b"mark,bore,words\n6204,20mm,caf\xe9\n",
    ],
    ids=[
        "byte order mark",
        "carriage returns",
        "spaces and capitals",
        "blank rows",
        "quoted",
        "other order",
        "semicolon",
        "decimal comma",
        "tab",
        "bar",
        "utf-16",
        "utf-16 without a mark",
        "cp1252",
    ],
)
def test_one_row_is_read_however_the_sheet_was_saved(xref: Run, box: Box, content: bytes) -> None:
    done = xref("identify", "--json", "--from", box(content))
    assert done.returncode == 0
    [line] = lines(done)
    assert line["query"]["marks"] == ["6204"]
    assert line["query"]["sizes"]["bore"]["mm"] == 20.0


def test_box_of_a_header_alone_has_no_lines(xref: Run, box: Box) -> None:
    done = xref("identify", "--json", "--from", box(b"mark,bore\n"))
    assert (done.returncode, done.stdout, done.stderr) == (0, "", "")


def test_limit_holds_for_each_row(xref: Run, box: Box) -> None:
    done = xref("identify", "--json", "--limit", "2", "--from", box(b"mark\n62?4\n62?5\n"))
    assert [len(line["candidates"]) for line in lines(done)] == [2, 2]


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"price\n4\n", "no column"),
        (b"", "no column"),
        (b"price;weight\n4;2\n", "no column"),
        (b"mark\n" + b"6" * 200_000 + b"\n", "could not be read as CSV text"),
        (b"mark,mark\n6204,6205\n", 'the column "mark" twice'),
        (b"bore,mark,size:bore\n20mm,6204,25mm\n", 'the column "bore" twice'),
        (b"size:cone width,Size: CONE-WIDTH\n1mm,2mm\n", '"size:cone-width" twice'),
        (b"mark,size:\n6204,2mm\n", '"size:"'),
        (b'mark,bore\n"6204,20mm\n', "could not be read as CSV text"),
        (b'mark,bore\n"62"04,20mm\n', "could not be read as CSV text"),
    ],
    ids=[
        "no known column",
        "empty",
        "semicolons",
        "endless cell",
        "column twice",
        "size twice",
        "size twice, spelt otherwise",
        "size without a name",
        "open quote",
        "quote within",
    ],
)
def test_file_that_is_no_box_is_refused(xref: Run, box: Box, content: bytes, said: str) -> None:
    path = box(content)
    done = xref("identify", "--json", "--from", path)
    assert done.returncode == 3
    assert done.stderr.startswith(f"xref: {path} ")
    assert said in done.stderr
    assert done.stderr.count("\n") == 2
    assert done.stdout.count("\n") == 1
    assert json.loads(done.stdout)["error"]["kind"] == "file"


def test_file_that_fails_partway_ends_in_one_line_of_json(xref: Run, box: Box) -> None:
    done = xref("identify", "--json", "--from", box(b'mark\n6204\n6205\n"6206\n'))
    assert done.returncode == 3
    assert [line.keys() == {"error"} for line in lines(done)] == [False, False, True]
    error = lines(done)[-1]["error"]
    assert error["kind"] == "file"
    assert done.stderr.startswith(f"xref: {error['message']}.\n")


@pytest.mark.parametrize(
    "option",
    [
        ("--mark", "6204"),
        ("--cast", "QB 77"),
        ("--bore", "20mm"),
        ("--size", "section=3.53mm"),
        ("--kind", "bearing"),
        ("--words", "chain case"),
        ("--tool", "caliper"),
        ("--condition", "used"),
        ("--cannot", "width"),
        ("--built", "1951"),
    ],
    ids=lambda option: option[0],
)
def test_question_beside_a_box_is_refused(xref: Run, box: Box, option: tuple[str, str]) -> None:
    """Even where it says what is the default anyway: no row would be asked with it."""
    done = xref("identify", "--json", *option, "--from", box(b"mark\n6204\n"))
    assert (done.returncode, done.stdout.count("\n")) == (2, 1)
    assert done.stderr.startswith(f"xref: {option[0]} cannot be given with --from")
    assert "column" in done.stderr.splitlines()[1]


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"mark\n6204,20mm\n", "row 2 has 1 cell more than"),
        (b"mark\n6204,20mm,47mm\n", "row 2 has 2 cells more than"),
        (b"mark,\n6204,20mm\n", "row 2 has 1 cell more than"),
    ],
    ids=["one", "two", "under a column without a name"],
)
def test_filled_cell_under_no_column_is_an_error_of_its_row(
    xref: Run, box: Box, content: bytes, said: str
) -> None:
    done = xref("identify", "--json", "--from", box(content))
    assert done.returncode == 1
    [line] = lines(done)
    assert said in line["error"]["message"]


def test_empty_cells_beyond_the_header_do_no_harm(xref: Run, box: Box) -> None:
    done = xref("identify", "--json", "--from", box(b"mark,bore,\n6204,20mm,,\n"))
    assert (done.returncode, first_numbers(done)) == (0, ["6204"])


@pytest.mark.parametrize("has", [False, True])
def test_machine_is_a_column_only_where_the_question_has_one(box: Box, has: bool) -> None:
    """Otherwise it would be read over and the answer given without it."""
    path = Path(box(b"mark,machine\n6204,QW 312\n"))
    fields = {"marks", "kind", "words", "tool", "condition"} | ({"machine"} if has else set())
    if has:
        assert [row.question()["machine"] for row in read_box(path, fields)] == ["QW 312"]
    else:
        with pytest.raises(FileError, match='column "machine" that means nothing'):
            list(read_box(path, fields))


@pytest.mark.parametrize(
    ("name", "said"), [("absent.csv", "there is no file"), (".", "is a folder")]
)
def test_what_is_no_file_is_refused(xref: Run, tmp_path: Path, name: str, said: str) -> None:
    done = xref("identify", "--json", "--from", str(tmp_path / name))
    assert done.returncode == 3
    assert done.stderr.startswith("xref: ")
    assert said in done.stderr
    assert "Errno" not in done.stderr
    assert json.loads(done.stdout)["error"]["kind"] == "file"


@pytest.mark.parametrize(("ending", "engine"), [("xlsx", "openpyxl"), ("ods", "odf")])
def test_a_workbook_is_read_as_text_is(
    xref: Run, box: Box, tmp_path: Path, ending: str, engine: Literal["openpyxl", "odf"]
) -> None:
    rows = [["Mark", "Bore", "Shelf"], [6204, "20mm", "left"], ["6304", None, "right"]]
    path = tmp_path / f"box.{ending}"
    pandas.DataFrame(rows).to_excel(path, header=False, index=False, engine=engine)
    done = xref("identify", "--json", "--from", str(path))
    text = box(b"mark,bore,shelf\n6204,20mm,left\n6304,,right\n")
    assert done.returncode == 0
    assert done.stdout == xref("identify", "--json", "--from", text).stdout
    assert first_numbers(done) == ["6204", "6304"]


def test_a_workbook_without_a_column_to_ask_by_is_refused(xref: Run, tmp_path: Path) -> None:
    path = tmp_path / "box.xlsx"
    Workbook().save(path)
    done = xref("identify", "--json", "--from", str(path))
    assert done.returncode == 3
    assert "no column" in done.stderr


def test_without_json_each_part_has_a_line_and_so_has_what_cannot_be_read(
    xref: Run, box: Box
) -> None:
    path = box(b"shelf,mark,bore\nA1,6204,\nA2,6205,minus three\n,62?4,\n")
    done = xref("identify", "--from", path)
    first, second, third = done.stdout.splitlines()
    assert done.returncode == 1
    assert re.match(r"A1 +6204 +[\d.]+ %  ", first)
    assert second.startswith("A2")
    assert "not read (row 3)" in second
    assert "minus three" in second
    assert re.match(r"62\?4 +6204", third)
    assert "next: " in third


def test_columns_that_mean_nothing_are_carried(xref: Run, box: Box) -> None:
    path = box(b"mark,Price,pri\x1bce,price\n6204,4,5,6\n6304,,,\n")
    first, second = lines(xref("identify", "--json", "--from", path))
    assert first["carried"]["price"] == "4 | 6"
    assert "carried" not in second
    assert "\x1b" not in xref("identify", "--from", path).stdout


def test_a_size_is_a_column_by_its_own_name(xref: Run, box: Box) -> None:
    done = xref("identify", "--json", "--from", box(b"Number,Cone width\n30204,14mm\n"))
    [line] = lines(done)
    assert line["query"]["marks"] == ["30204"]
    assert line["query"]["sizes"]["cone-width"]["mm"] == 14.0


def test_reading_a_box_leaves_the_store_as_it_was(xref: Run, box: Box, store: Path) -> None:
    before = store.read_bytes()
    assert xref("identify", "--json", "--from", box(b"mark\n6204\nbad[\n")).returncode == 1
    assert store.read_bytes() == before
