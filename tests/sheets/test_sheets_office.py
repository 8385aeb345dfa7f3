"""An export, saved again by a spreadsheet program as each kind of workbook, comes in unchanged.

Runs where LibreOffice is installed, without a window.
"""

from __future__ import annotations

import csv
import shutil
import subprocess
from pathlib import Path

import pytest

from fixtures import workbooks
from xref.services.lists.export import export_file
from xref.services.open import OpenStore
from xref.sheets.finding import Findings
from xref.sheets.reading import read_tables
from xref.sheets.rows import RowReader
from xref.standards.lookup import find
from xref.store.open.engine import open_engine

OFFICE = shutil.which("soffice") or shutil.which("libreoffice")

pytestmark = pytest.mark.skipif(OFFICE is None, reason="LibreOffice is not installed here")

LIST = (
    ("Part No.", "Maker", "Description", "Bore (mm)", "Shelf", "Replaced by", "Model", "Serials"),
    ("00123", "Dunmarrow", "=1+1", "12.7", "TRUE", "QF-1; QF-2", "Whimbrel", "QW101-QW349"),
    ("1E5", "Dunmarrow", "Büchse", "31.75", "3-4", "", "", ""),
    ("3-4", "Quillfeather", "NA", "", "0815", "", "", ""),
)


def _saved_as(kind: str, path: Path, folder: Path) -> Path:
    assert OFFICE is not None
    profile = (folder / "profile").as_uri()
    subprocess.run(
        [
            OFFICE,
            f"-env:UserInstallation={profile}",
            "--headless",
            "--convert-to",
            kind,
            "--outdir",
            str(folder / kind),
            str(path),
        ],
        check=True,
        capture_output=True,
        timeout=180,
    )
    return folder / kind / f"{path.stem}.{kind}"


@pytest.mark.parametrize("kind", ["xlsx", "xls", "ods"])
def test_export_saved_by_a_spreadsheet_program_comes_in_unchanged(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, kind: str
) -> None:
    monkeypatch.setattr("xref.store.open.seed.standard_parts", lambda: find("6204"))
    path, out = tmp_path / "list.csv", tmp_path / "parts.xlsx"
    with path.open("w", encoding="utf-8", newline="") as stream:
        csv.writer(stream).writerows(LIST)
    store = open_engine(tmp_path / "store.xref")
    assert OpenStore(store).import_file(path).rejected == 0
    with store.reading() as conn:
        rows = export_file(conn, out).rows
    again = OpenStore(store).import_file(_saved_as(kind, out, tmp_path))
    assert (again.read, again.unchanged) == (rows, rows)
    store.close()


@pytest.mark.parametrize(
    ("kind", "recovered"),
    [
        ("xlsx", ("00471", "TRUE", "0031-704")),
        ("xls", ("471", "TRUE", "31704")),
        ("ods", ("471", "1", "31704")),
    ],
)
def test_what_a_spreadsheet_program_made_of_numbers_is_recovered_or_rejected(
    tmp_path: Path, kind: str, recovered: tuple[str, str, str]
) -> None:
    path = tmp_path / "typed.xlsx"
    workbooks.typed_xlsx(path)
    padded, truth, grouped = recovered
    findings = Findings(path.name)
    [table] = read_tables(_saved_as(kind, path, tmp_path), "", {}, findings)
    rows = list(RowReader(table, "mm", findings).rows())
    assert [row.number for row in rows] == [padded, "471", "100000", "", truth, "0815", grouped, ""]
    assert [row.line for row in rows if row.reason] == [5, 9]


@pytest.mark.parametrize("kind", ["xlsx", "xls", "ods"])
def test_makers_merged_downward_are_filled(tmp_path: Path, kind: str) -> None:
    path = tmp_path / "sheets.xlsx"
    workbooks.sheets_xlsx(path)
    findings = Findings(path.name)
    tables = read_tables(_saved_as(kind, path, tmp_path), "Whimbrel", {}, findings)
    rows = [row for table in tables for row in RowReader(table, "mm", findings).rows()]
    assert [row.told["maker"] for row in rows] == ["Quillfeather", "Quillfeather", "Dunmarrow"]
