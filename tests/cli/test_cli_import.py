"""``xref import`` and ``xref export`` at the command line: exit codes, JSON, round trips."""

from __future__ import annotations

import json
import subprocess
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from fixtures import hostile

Done = subprocess.CompletedProcess[str]
Run = Callable[..., Done]
LIST = "Part No.,Maker,Description,Bore (mm),Shelf\nQF-2214,Quillfeather,chain case,20,A1\n"
COUNTS = ("read", "added", "changed", "unchanged", "rejected")


@pytest.fixture
def parts(tmp_path: Path) -> Path:
    """A list of one part."""
    path = tmp_path / "parts.csv"
    path.write_text(LIST, encoding="utf-8")
    return path


def counts(done: Done) -> list[int]:
    document: dict[str, Any] = json.loads(done.stdout)
    return [document[name] for name in COUNTS]


def test_import_prints_the_mapping_and_what_became_of_the_rows(xref: Run, parts: Path) -> None:
    done = xref("import", str(parts))
    assert (done.returncode, done.stderr) == (0, "")
    assert "Part No.                        number  (100% sure, by its heading)" in done.stdout
    assert "Shelf                           kept with the part" in done.stdout
    assert "1 rows read: 1 added, 0 changed, 0 unchanged, 0 rejected." in done.stdout


def test_json_has_the_promised_keys(xref: Run, parts: Path) -> None:
    parts.write_text(LIST + "QF-2215,Quillfeather,cover,wide,A2\n", encoding="utf-8")
    done = xref("import", str(parts), "--json")
    document = json.loads(done.stdout)
    assert (done.returncode, counts(done)) == (0, [2, 2, 0, 0, 0])
    assert document["mapping"]["Bore (mm)"] == "bore"
    [found] = document["findings"]
    assert found == {
        "file": "parts.csv",
        "sheet": "",
        "row": 3,
        "column": "Bore (mm)",
        "kind": "size",
        "message": '"wide" does not begin with a number',
    }


def test_rejected_row_is_exit_1_and_nothing_is_written(xref: Run, parts: Path) -> None:
    parts.write_text(LIST + ",Quillfeather,cover,,A2\n", encoding="utf-8")
    done = xref("import", str(parts))
    assert done.returncode == 1
    assert "Nothing was changed" in done.stdout
    assert xref("part", "list").returncode == 1


def test_keep_good_names_the_file_of_rejected_rows(xref: Run, parts: Path) -> None:
    parts.write_text(LIST + ",Quillfeather,cover,,A2\n", encoding="utf-8")
    done = xref("import", str(parts), "--keep-good", "--json")
    assert (done.returncode, counts(done)) == (1, [2, 1, 0, 0, 1])
    [rest] = json.loads(done.stdout)["rejects"]
    assert (
        Path(rest)
        .read_text(encoding="utf-8-sig")
        .splitlines()[0]
        .endswith("Shelf,reason for rejection")
    )


def test_preview_changes_nothing(xref: Run, parts: Path) -> None:
    done = xref("import", str(parts), "--preview")
    assert (done.returncode, "preview" in done.stdout) == (0, True)
    assert xref("part", "show", "QF-2214").returncode == 1


def test_units_and_map_are_taken(xref: Run, parts: Path) -> None:
    parts.write_text("Ours,Deep,Bore\nQF-1,x,1 1/4\n", encoding="utf-8")
    done = xref(
        "import", str(parts), "--map", "ours=number", "--map", "Deep=words", "--units", "inch"
    )
    assert done.returncode == 0
    shown = json.loads(xref("part", "show", "QF-1", "--json").stdout)
    assert (shown["description"], shown["sizes"]) == ("x", {"bore": 31.75})


@pytest.mark.parametrize(
    ("args", "code"),
    [
        (["--map", "Part No.=colour"], 2),
        (["--map", "Part No."], 2),
        (["--map", "Colour=kind"], 1),
        (["--sheet", "Stock"], 1),
        (["--units", "yard"], 2),
        (["--map", "Part No.=extra"], 3),
        (["--map", "Shelf=bore", "--map", "Bore (mm)=bore"], 2),
    ],
)
def test_wrong_option_is_answered_in_two_lines(
    xref: Run, parts: Path, args: list[str], code: int
) -> None:
    done = xref("import", str(parts), *args)
    assert (done.returncode, done.stdout) == (code, "")
    assert 1 <= len(done.stderr.splitlines()) <= 2


@pytest.mark.parametrize(
    ("told", "names"),
    [
        ("Shelf=boor", ("Did you mean bore?", "replaced by", "cone-width")),
        ("Colour=kind", ("Columns: Part No., Maker, Description, Bore (mm), Shelf.",)),
        ("Part No.=extra", ("--map COLUMN=number: Part No., Maker, Description",)),
    ],
)
def test_wrong_map_is_answered_with_the_fields_or_columns_there_are(
    xref: Run, parts: Path, told: str, names: tuple[str, ...]
) -> None:
    said = xref("import", str(parts), "--map", told).stderr
    for name in names:
        assert name in said


def test_file_that_is_not_there_is_exit_3(xref: Run, tmp_path: Path) -> None:
    done = xref("import", str(tmp_path / "none.csv"))
    assert (done.returncode, "none.csv is not there" in done.stderr) == (3, True)


@pytest.mark.parametrize("name", ["truncated.xlsx", "locked.xlsx", "wide.xlsx", "wrong.csv"])
def test_hostile_file_is_exit_3(xref: Run, tmp_path: Path, name: str) -> None:
    hostile.HOSTILE[name](tmp_path / name)
    done = xref("import", str(tmp_path / name))
    assert (done.returncode, done.stdout) == (3, "")
    assert name in done.stderr
    assert len(done.stderr.splitlines()) == 2


@pytest.mark.parametrize("ending", ["csv", "xlsx"])
def test_export_imports_again_unchanged(
    xref: Run, parts: Path, tmp_path: Path, ending: str
) -> None:
    xref("import", str(parts))
    out = tmp_path / f"out.{ending}"
    assert xref("export", str(out)).returncode == 0
    assert counts(xref("import", str(out), "--json")) == [1, 0, 0, 1, 0]


def test_exported_cells_are_harmless_and_come_back(xref: Run, parts: Path, tmp_path: Path) -> None:
    parts.write_text("Part No.,Description,Bin\nQF-1,=1+1,+A1\n", encoding="utf-8")
    xref("import", str(parts))
    out = tmp_path / "out.csv"
    xref("export", str(out))
    assert "'=1+1" in out.read_text(encoding="utf-8-sig")
    assert "'+A1" in out.read_text(encoding="utf-8-sig")
    assert json.loads(xref("part", "show", "QF-1", "--json").stdout)["description"] == "=1+1"


def test_export_never_has_standard_rows(xref: Run, parts: Path, tmp_path: Path) -> None:
    xref("import", str(parts))
    out = tmp_path / "out.csv"
    assert xref("export", str(out), "--kind", "bearing").returncode == 1
    xref("export", str(out))
    assert len(out.read_text(encoding="utf-8-sig").splitlines()) == 2


@pytest.mark.parametrize(("name", "code"), [("out.pdf", 2), ("missing/out.csv", 3)])
def test_export_that_cannot_be_written_is_refused(
    xref: Run, tmp_path: Path, name: str, code: int
) -> None:
    done = xref("export", str(tmp_path / name))
    assert (done.returncode, done.stdout) == (code, "")


def test_show_prints_what_the_list_said_besides(xref: Run, parts: Path) -> None:
    parts.write_text(
        "Part No.,Bore,Shelf,Price,Supplier\nQF-1,20,A1,£3,Dunmarrow\nQF-1,21,,,\n",
        encoding="utf-8",
    )
    xref("import", str(parts))
    said = xref("part", "show", "QF-1").stdout
    assert "  price       Dunmarrow, £3" in said
    assert "  or bore     21 mm (parts.csv)" in said
    assert "  kept        Shelf: A1" in said


def test_designations_without_a_heading_are_proposed_and_recorded_when_told(
    xref: Run, parts: Path
) -> None:
    parts.write_text("Part No.,X\nQF-1,6204\nQF-2,6304\nQF-3,6205\n", encoding="utf-8")
    said = xref("import", str(parts), "--preview").stdout
    assert "  X                               kept with the part; perhaps interchange" in said
    document = json.loads(xref("import", str(parts), "--json").stdout)
    assert document["columns"][1]["perhaps"] == "interchange"
    assert "interchange" not in xref("part", "show", "QF-1").stdout
    assert json.loads(xref("equivalents", "QF-1", "--json").stdout)["equivalents"] == []
    assert xref("import", str(parts), "--map", "X=interchange").returncode == 0
    [found, *_] = json.loads(xref("equivalents", "QF-1", "--json").stdout)["equivalents"]
    assert (found["number"], found["grade"]) == ("6204", "stated")


def test_sizes_in_one_column_are_understood_by_what_stands_there(xref: Run, parts: Path) -> None:
    parts.write_text(
        "Part No.,Measured\nQF-1,20x47x14\nQF-2,35 x 52 x 7 mm\nQF-3,25x52x15\n", encoding="utf-8"
    )
    said = xref("import", str(parts)).stdout
    assert "3 rows read: 3 added" in said
    shown = json.loads(xref("part", "show", "QF-2", "--json").stdout)
    assert shown["sizes"] == {"bore": 35, "outside": 52, "width": 7}
