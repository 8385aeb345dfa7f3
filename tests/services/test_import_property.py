"""Whatever a list holds: no crash, no row lost, and an export that imports again unchanged."""

from __future__ import annotations

import csv
import shutil
import tempfile
from pathlib import Path

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from xref.services.lists import Imported
from xref.services.lists.export import export_file
from xref.services.open import OpenStore
from xref.store.open.engine import Store, open_engine
from xref.store.tables.tables import part

pytestmark = pytest.mark.slow

SLOW = settings(max_examples=10)


HEADINGS = (
    "Part No.",
    "Maker",
    "Kind",
    "Description",
    "Bore (mm)",
    "O.D. (in)",
    "Teeth",
    "Status",
    "Mark",
    "Casting no",
    "Note",
    "Shelf",
    "Shelf",
    "Price",
    "Supplier",
    "Replaced by",
    "Interchange",
    "Model",
    "Serial from",
    "Serial to",
    "Qty",
    "Source",
    "kept: Shelf",
    "",
)

ANYTHING = st.text(st.characters(codec="utf-8", exclude_characters="\x00"), max_size=12)
LIKELY = st.sampled_from(
    (
        "",
        "QF-2214",
        "qf 2214",
        "00123",
        "1E5",
        "3-4",
        "NA",
        "TRUE",
        "Quillfeather",
        "Dunmarrow",
        "bearing",
        "Zahnrad",
        "chain case",
        "=1+1",
        "'=x",
        "-5",
        "+A1",
        "@b",
        "12,7",
        "1,250",
        "1 1/4",
        '1/2"',
        "20 mm",
        "17",
        "superseded",
        "current",
        "mentioned",
        "QW101",
        "Whimbrel",
        "£12.50",
        "QF-1; QF-2",
        "QF-1 and QF-3",
        "Total",
        "Part No.",
        "471.0",
        "#REF!",
        "ISO 15",
        "6204",
        "A\nB",
        "tab\there",
        "62?4",
        "\u200bQF",
        "½",
        "QW 101",
        "2",
        "x" * 90,
    )
)
CELL = st.one_of(LIKELY, LIKELY, ANYTHING)


@st.composite
def lists(draw: st.DrawFn) -> list[list[str]]:
    """A heading line with a column of part numbers, and rows of likely and unlikely cells."""
    others = st.lists(st.sampled_from(HEADINGS[1:]), min_size=1, max_size=8).filter(any)
    heading = ["Part No.", *draw(others)]
    width = len(heading)
    row = st.lists(CELL, min_size=width, max_size=width + 1)
    return [heading, *draw(st.lists(row, min_size=1, max_size=8))]


def written(folder: Path, rows: list[list[str]], name: str) -> Path:
    path = folder / name
    with path.open("w", encoding="utf-8", newline="") as stream:
        csv.writer(stream).writerows(rows)
    return path


def opened(small: Path, folder: Path) -> Store:
    return open_engine(shutil.copy(small, folder / "store.xref"))


def figures(done: Imported) -> tuple[int, int, int, int]:
    assert done.read == done.added + done.changed + done.unchanged + done.rejected
    return done.added, done.changed, done.unchanged, done.rejected


PASSED_OVER = (
    *("total", "section", "repeated heading", "line between", "heading line"),
    "above the heading",
)
"""Findings on lines that are told to be no rows: each filled line is one, or is a row."""


@SLOW
@example(rows=[["Part No.", "Model"], ["QF-2214", "0\r\x80"]])
@example(rows=[["Part No.", "Shelf"], ["", "superseded"]])
@example(rows=[["Part No.", "Shelf"], ["superseded", "Part No."]])
@example(rows=[["Part No.", "Shelf"], ["x", ""], ["Part No.", "Maker"], ["QF-1", "Q"]])
@example(rows=[["Part No.", "Shelf"], ["", "superseded", "bearing"], ["QF-1", "2"]])
@given(rows=lists())
def test_no_row_is_lost(small: Path, rows: list[list[str]]) -> None:
    with tempfile.TemporaryDirectory() as name:
        store = opened(small, Path(name))
        path = written(Path(name), rows, "parts.csv")
        done = OpenStore(store).import_file(path, keep_good=True)
        filled = sum(any(cell.strip() for cell in row) for row in rows[1:])
        assert done.read + sum(done.counts.get(k, 0) for k in PASSED_OVER) == filled
        with store.reading() as conn:
            count = len(conn.execute(part.select()).all())
        assert count >= figures(done)[0]
        if done.rejected:
            [rest] = done.rejects
            with Path(rest).open(encoding="utf-8-sig", newline="") as stream:
                assert len(list(csv.reader(stream))) == done.rejected + 1
        store.close()


@SLOW
@given(rows=lists())
def test_same_list_again_changes_nothing(small: Path, rows: list[list[str]]) -> None:
    with tempfile.TemporaryDirectory() as name:
        store = opened(small, Path(name))
        path = written(Path(name), rows, "parts.csv")
        OpenStore(store).import_file(path, keep_good=True)
        again = OpenStore(store).import_file(path, keep_good=True)
        assert figures(again)[:2] == (0, 0)
        store.close()


@SLOW
@example(rows=[["Part No.", "Replaced by"], ["QF-2214", "Total"]], ending="csv")
@example(rows=[["Part No.", "Maker"], ["|", "|", "|"]], ending="csv")
@example(rows=[["Part No.", "Maker"], ["", ";"], ["", "A; B"], ["", "A; B"]], ending="csv")
@example(rows=[["Part No.", "Replaced by"], ["Q-1", "Q-1"], ["Q-1", "#REF!"]], ending="csv")
@given(rows=lists(), ending=st.sampled_from(("csv", "xlsx")))
def test_export_imports_again_with_nothing_changed(
    small: Path, rows: list[list[str]], ending: str
) -> None:
    with tempfile.TemporaryDirectory() as name:
        store = opened(small, Path(name))
        path = written(Path(name), rows, "parts.csv")
        OpenStore(store).import_file(path, keep_good=True)
        out = Path(name) / f"out.{ending}"
        with store.reading() as conn:
            exported = export_file(conn, out)
        if exported.parts:
            again = OpenStore(store).import_file(out)
            assert figures(again) == (0, 0, exported.rows, 0)
        store.close()
