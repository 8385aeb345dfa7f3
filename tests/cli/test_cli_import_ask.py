"""What is not certain of a list is asked, remembered for its headings, and can be forgotten."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

Run = Callable[..., subprocess.CompletedProcess[str]]
CHECKOUT = Path(__file__).parents[2]
TWO = "Part No,Stores No,Description,Bore\nQF-12,88-1,bush,1.25\nQF-13,88-2,ring,1.5\n"
PLAIN = "Part No.,Description,Bore,Superseded by\nQF-12,bush,20,QF-99\nQF-13,ring,25,\n"


@pytest.fixture
def asking(store: Path) -> Callable[..., subprocess.CompletedProcess[str]]:
    """Run the command line in a process of its own, with what a person types."""

    def run(typed: str, *args: str) -> subprocess.CompletedProcess[str]:
        return subprocess.run(
            [sys.executable, "-m", "xref", "--store", str(store), *args],
            input=typed,
            capture_output=True,
            encoding="utf-8",
            cwd=CHECKOUT,
            check=False,
            timeout=120,
            env=dict(os.environ),
        )

    return run


def listed(tmp_path: Path, text: str, name: str = "list.csv") -> str:
    path = tmp_path / name
    path.write_text(text, encoding="utf-8")
    return str(path)


def test_a_preview_shows_first_cells_units_and_all_that_is_new(xref: Run, tmp_path: Path) -> None:
    xref("part", "add", "QF-12", "--words", "a wheel")
    path = listed(tmp_path, PLAIN)
    text = xref("import", path, "--preview").stdout
    for said in ("QF-12 | QF-13", "taken in mm", "mentioned only: QF-99", "contradict"):
        assert said in text
    document = json.loads(xref("import", path, "--preview", "--json").stdout)
    bore = document["columns"][2]
    assert (bore["letter"], bore["heading"], bore["samples"]) == ("C", "Bore", ["20", "25"])
    assert bore["why"] == "its heading says so"
    assert document["unit"] == {"bare": "mm", "assumed": True}
    assert document["new"]["mentioned_only"] == ["QF-99"]
    assert document["new"]["sources"] == ["list.csv"]
    assert [found["column"] for found in document["contradictions"]] == ["words"]
    assert "list.csv" not in xref("source", "list").stdout


def test_a_file_that_is_refused_shows_its_columns_too(xref: Run, tmp_path: Path) -> None:
    path = listed(tmp_path, "Description,Supplier\nred,A\nblue,B\n")
    refused = xref("import", path, "--preview")
    assert refused.returncode == 3
    assert "red | blue" in refused.stdout
    document = json.loads(xref("import", path, "--preview", "--json").stdout)
    assert document["error"]["kind"] == "file"
    assert [column["heading"] for column in document["columns"]] == ["Description", "Supplier"]


def test_the_unit_is_asked_once_and_remembered_for_such_lists(
    asking: Callable[..., subprocess.CompletedProcess[str]], xref: Run, tmp_path: Path
) -> None:
    path = listed(tmp_path, PLAIN.replace(",20,", ",1.25,").replace(",25,", ",1.5,"))
    done = asking("2\n", "import", path, "--ask")
    assert done.returncode == 0, done.stderr
    assert "What are the sizes without a unit in?" in done.stderr
    assert json.loads(xref("part", "show", "QF-12", "--json").stdout)["sizes"]["bore"] == 31.75
    later = listed(tmp_path, "Superseded by,Bore,Description,Part No.\n,2,pin,QF-14\n", "b.csv")
    told = xref("import", later)
    assert "answered before" in told.stdout
    assert json.loads(xref("part", "show", "QF-14", "--json").stdout)["sizes"]["bore"] == 50.8
    assert "Forgotten" in xref("import", later, "--forget", "--preview").stderr
    assert "taken in mm" in xref("import", later, "--preview").stdout


def test_which_column_is_the_number_is_asked_with_its_first_cells(
    asking: Callable[..., subprocess.CompletedProcess[str]], xref: Run, tmp_path: Path
) -> None:
    path = listed(tmp_path, "Thing,Description,Supplier\nQF-12,bush,A\nQF-13,pin,B\nQF-14,ring,A\n")
    assert xref("import", path).returncode == 3
    done = asking("9\n\n\n\n", "import", path, "--ask")
    assert done.returncode == 0, done.stderr
    assert "QF-12, QF-13" in done.stderr
    assert "from 1 to 3" in done.stderr
    assert xref("part", "show", "QF-12").returncode == 0
    again = xref("import", path)
    assert again.returncode == 0
    assert "3 unchanged" in again.stdout


def test_nothing_is_stored_where_a_question_is_not_answered(
    asking: Callable[..., subprocess.CompletedProcess[str]], xref: Run, tmp_path: Path
) -> None:
    done = asking("", "import", listed(tmp_path, PLAIN), "--ask")
    assert done.returncode == 2
    assert "was not answered" in done.stderr
    assert xref("part", "show", "QF-12").returncode == 1


def test_the_rejected_rows_come_back_as_what_was_answered(
    asking: Callable[..., subprocess.CompletedProcess[str]], xref: Run, tmp_path: Path
) -> None:
    path = listed(tmp_path, PLAIN + ",nameless,30,QF-7\n")
    assert asking("2\n", "import", path, "--ask", "--keep-good").returncode == 1
    rejects = tmp_path / "list.rejected.csv"
    rejects.write_text(rejects.read_text("utf-8-sig").replace('"",nameless', "QF-15,nameless"))
    told = xref("import", str(rejects), "--preview")
    assert "answered before" in told.stdout


@pytest.mark.parametrize("told", ["Was=Is=extra", '"Was=Is"=extra', "'Was=Is'=extra"])
def test_a_heading_with_an_equals_sign_is_mapped(xref: Run, tmp_path: Path, told: str) -> None:
    path = listed(tmp_path, "Part No.,Was=Is\nQF-12,x\n")
    done = json.loads(xref("import", path, "--map", told, "--preview", "--json").stdout)
    assert done["columns"][1]["by"] == "told"


def test_asking_and_a_document_do_not_go_together(xref: Run, tmp_path: Path) -> None:
    assert xref("import", listed(tmp_path, PLAIN), "--ask", "--json").returncode == 2


def test_two_good_candidates_are_offered_with_the_likely_ones_first(
    asking: Callable[..., subprocess.CompletedProcess[str]], tmp_path: Path
) -> None:
    done = asking("1\n1\n", "import", listed(tmp_path, TWO), "--ask", "--preview")
    assert done.returncode == 0, done.stderr
