"""An export, saved again by a spreadsheet program as each kind of workbook, comes in unchanged.

Runs where LibreOffice is installed, without a window.
"""

from __future__ import annotations

import csv
import shutil
import subprocess
from pathlib import Path

import pytest

from xref.services.exporting import export_file
from xref.services.opening import OpenStore
from xref.standards.lookup import find
from xref.store.engine import open_engine

OFFICE = shutil.which("soffice") or shutil.which("libreoffice")

pytestmark = pytest.mark.skipif(OFFICE is None, reason="LibreOffice is not installed here")

LIST = (
    ("Part No.", "Maker", "Description", "Bore (mm)", "Shelf", "Replaced by", "Model", "Serials"),
    ("00123", "Dunmarrow", "=1+1", "12.7", "TRUE", "QF-1; QF-2", "Wren", "QW101-QW349"),
    ("1E5", "Dunmarrow", "Büchse", "31.75", "3-4", "", "", ""),
    ("3-4", "Quillfeather", "NA", "", "0815", "", "", ""),
)  # fmt: skip


def _saved_as(kind: str, path: Path, folder: Path) -> Path:
    assert OFFICE is not None
    profile = (folder / "profile").as_uri()
    subprocess.run(
        [OFFICE, f"-env:UserInstallation={profile}", "--headless", "--convert-to", kind,
         "--outdir", str(folder / kind), str(path)],
        check=True, capture_output=True, timeout=180,
    )  # fmt: skip
    return folder / kind / f"{path.stem}.{kind}"


@pytest.mark.parametrize("kind", ["xlsx", "xls", "ods"])
def test_export_saved_by_a_spreadsheet_program_comes_in_unchanged(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, kind: str
) -> None:
    monkeypatch.setattr("xref.store.seed.standard_parts", lambda: find("6204"))
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
