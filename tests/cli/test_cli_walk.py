"""Every command that reads answers after the import of sheets as people keep them."""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable
from pathlib import Path
from subprocess import CompletedProcess

import pytest

Run = Callable[..., CompletedProcess[str]]
pytestmark = pytest.mark.slow

SHEETS = {
    "kept columns called as ours are": (
        "Part No,Description,Bore,value,name,asked,odds\n"
        "QF-7001,bush reverser,20,B 4,tin,who?,even\nQF-7002,pin,12.5mm,12,,,3\n"
    ),
    "links in one cell": (
        "Part No,Maker,Replaced by,Interchange,Shelf\n"
        'QF-7001,Quillfeather,QF-7002; QF-7003,"D 71, D 72",A1\nQF-7003,Quillfeather,QF-7001,,\n'
    ),
    "serials in words": (
        "Part No,Model,Serials,Assembly,Price\n"
        "QF-7001,Garganey,up to 340,axlebox,£3\nQF-7002,Garganey,from 341 on,axlebox,?\n"
        "QF-7001,Garganey,see book,,\n"
    ),
    "rubbish between": (
        "Stock of the shed\n\nPart No;Description;Bore\nQF-7001;ring \u202e\u200b;20,5\n"
        ";;\nQF-7002;#REF!;1/0\nTotal;;40\n"
    ),
}

READING = (
    ("part", "show", "QF-7001"),
    ("part", "list"),
    ("trace", "QF-7001"),
    ("trace", "QF-7001", "--machine", "shed"),
    ("belongs", "QF-7001", "--machine", "shed"),
    ("donor", "QF-7001", "QF-7002"),
    ("equivalents", "QF-7001"),
    ("identify", "--mark", "QF 70?1"),
    ("decode", "QF-7001"),
    ("history",),
    ("history", "QF-7001"),
    ("source", "list"),
    ("machine", "list"),
    ("bench", "list"),
    ("bench", "show", "1"),
    ("wanted", "list"),
    ("reading", "show"),
    ("check",),
)


@pytest.fixture
def store(small: Path, tmp_path: Path) -> Path:
    """A store of this test's own with hardly a standard's row in it: a walk is many commands."""
    return Path(shutil.copy(small, tmp_path / "store.xref"))


@pytest.mark.parametrize("sheet", SHEETS.values(), ids=SHEETS.keys())
def test_every_reading_command_answers_after_an_import(
    xref: Run, tmp_path: Path, sheet: str
) -> None:
    path = tmp_path / "list.csv"
    path.write_text(sheet, encoding="utf-8")
    xref("import", str(path), "--keep-good")
    assert xref("part", "show", "QF-7001").returncode == 0
    xref("machine", "add", "shed", "--model", "Garganey", "--serial", "GY12")
    xref("bench", "add", "left axlebox", "--mark", "QF 70?1")
    xref("wanted", "add", "QF-7001", "--price", "3.50 GBP")
    for command in READING:
        text, document = xref(*command), xref(*command, "--json")
        assert text.returncode in (0, 1), (command, text.stderr)
        assert text.returncode == document.returncode, command
        assert "something went wrong" not in text.stderr + document.stderr
        assert json.loads(document.stdout), command


def test_price_of_a_thousand_digits_is_refused_in_one_line(xref: Run) -> None:
    done = xref("wanted", "add", "pin", "--price", "9" * 1000)
    assert done.returncode == 2
    assert "is no price" in done.stderr
    assert len(done.stderr) < 200
