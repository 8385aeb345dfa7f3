"""Workbooks that would take the machine are refused by what is counted, or by a bound process."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from fixtures import taking, workbooks
from xref.errors import FileError
from xref.sheets import apart
from xref.sheets.apart import read_apart
from xref.sheets.compound import check_chains
from xref.sheets.open_document import look_through
from xref.sheets.open_xml import check_xlsx
from xref.sheets.reading import read_sheets

OPEN_XML = [name for name in taking.TAKING if name.endswith(".xlsx")]
OPEN_DOCUMENT = [name for name in taking.TAKING if name.endswith(".ods")]
OLD = [name for name in taking.TAKING if name.endswith(".xls")]


def written(tmp_path: Path, name: str) -> Path:
    path = tmp_path / name
    taking.TAKING[name](path)
    return path


@pytest.mark.parametrize("name", taking.TAKING)
def test_workbook_that_would_take_the_machine_is_refused_in_one_line(
    tmp_path: Path, name: str
) -> None:
    with pytest.raises(FileError) as refused:
        read_sheets(written(tmp_path, name), "")
    assert name in refused.value.message
    assert "\n" not in refused.value.message
    assert refused.value.hint


@pytest.mark.parametrize("name", OPEN_XML)
def test_counting_alone_refuses_an_xlsx_that_spreads_out(tmp_path: Path, name: str) -> None:
    with pytest.raises(FileError):
        check_xlsx(written(tmp_path, name), name)


@pytest.mark.parametrize("name", OPEN_DOCUMENT)
def test_counting_alone_refuses_an_ods_that_spreads_out(tmp_path: Path, name: str) -> None:
    with pytest.raises(FileError):
        look_through(written(tmp_path, name), name)


@pytest.mark.parametrize("name", OLD)
def test_chain_of_sectors_that_comes_round_is_seen(tmp_path: Path, name: str) -> None:
    with pytest.raises(ValueError, match=r"chain|table"):
        check_chains(written(tmp_path, name).read_bytes())


def test_chains_of_a_sound_xls_are_let_by(tmp_path: Path) -> None:
    path = tmp_path / "old.xls"
    workbooks.old_xls(path)
    check_chains(path.read_bytes())


def test_sheet_without_places_is_counted_by_its_order(tmp_path: Path) -> None:
    path = tmp_path / "unplaced.xlsx"
    row = "<row>" + "<c><v>1</v></c>" * 501 + "</row>"
    sheet = f'<worksheet xmlns="{taking.MAIN}"><sheetData>{row}</sheetData></worksheet>'
    taking.sheet_xlsx(path, sheet)
    with pytest.raises(FileError, match="501 columns"):
        check_xlsx(path, path.name)


def test_long_shared_text_beside_short_ones_that_are_used_is_no_matter(tmp_path: Path) -> None:
    path = tmp_path / "shared.xlsx"
    rows = '<row r="1"><c r="A1" t="s"><v>1</v></c></row>'
    rows += "".join(f'<row r="{n}"><c r="A{n}" t="s"><v>0</v></c></row>' for n in range(2, 20_000))
    sheet = f'<worksheet xmlns="{taking.MAIN}"><sheetData>{rows}</sheetData></worksheet>'
    texts = taking.SHARED.format("QF-2214") + taking.SHARED.format("x" * 30_000)
    taking.sheet_xlsx(path, sheet, texts)
    assert [len(s.rows) for s in read_sheets(path, "") if isinstance(s.rows, list)] == [19_999]


def test_sheet_with_prefix_quotes_and_place_of_its_own_is_read(tmp_path: Path) -> None:
    path = tmp_path / "odd.xlsx"
    rows = "<s:row r='1'><s:c r='A1' t='inlineStr'><s:is><s:t>Part No.</s:t></s:is></s:c></s:row>"
    sheet = f"<s:worksheet xmlns:s='{taking.MAIN}'><s:sheetData>{rows}</s:sheetData></s:worksheet>"
    taking.sheet_xlsx(path, sheet, place="odd/place.xml")
    assert [s.rows for s in read_sheets(path, "")] == [[(1, ["Part No."])]]


def _endless(path: Path) -> Iterator[Any]:
    while True:
        yield path.name


def _greedy(_: Path) -> Iterator[Any]:
    yield len(bytearray(3_000_000_000))


def _killed(_: Path) -> Iterator[Any]:
    os.abort()
    yield 0


TASKS = {"endless": _endless, "greedy": _greedy, "killed": _killed}


@pytest.fixture
def own_tasks(monkeypatch: pytest.MonkeyPatch) -> None:
    told = "import xref.sheets.workbook as w, tests.sheets.test_sheets_bounds as t"
    start = apart._START.replace("; serve()", f"; {told}; w.TASKS = t.TASKS; serve()")
    monkeypatch.setattr(apart, "_START", start)
    monkeypatch.setattr(sys, "path", [str(Path(__file__).parents[2]), *sys.path])


@pytest.mark.usefixtures("own_tasks")
def test_process_that_is_ended_by_what_it_reads_is_one_line(tmp_path: Path) -> None:
    with pytest.raises(FileError, match=r"a\.xlsx is damaged, or too big to read"):
        list(read_apart("killed", tmp_path / "a.xlsx"))


@pytest.mark.usefixtures("own_tasks")
@pytest.mark.skipif(sys.platform != "linux", reason="the system bounds no memory")
def test_process_gets_no_more_memory_than_its_bound(tmp_path: Path) -> None:
    with pytest.raises(FileError, match="too big to read"):
        list(read_apart("greedy", tmp_path / "a.xlsx"))


@pytest.mark.usefixtures("own_tasks")
def test_process_that_runs_over_its_time_is_one_line(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(apart, "MOST_SECONDS", 1.0)
    with pytest.raises(FileError, match="takes more than 1 seconds to read"):
        for _ in read_apart("endless", tmp_path / "a.xlsx"):
            pass
