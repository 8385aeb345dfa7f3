"""Every kind of fact a list carries comes back from an export; rows of several sheets add up."""

from __future__ import annotations

import csv
import shutil
import tempfile
from collections.abc import Sequence
from pathlib import Path

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from xref.services.links.facts import Facts, facts_of
from xref.services.lists.export import export_file
from xref.services.open import OpenStore
from xref.store.open.engine import Store, open_engine
from xref.store.write.sheet_facts import own_ids

FULL: Sequence[Sequence[str]] = (
    (
        "Part No.",
        "Maker",
        "Kind",
        "Description",
        "Status",
        "Note",
        "Source",
        "Mark",
        "Casting no",
        "size mark",
        "date mark",
        "Bore (mm)",
        "O.D. (in)",
        "Teeth",
        "Shelf",
        "Supplier",
        "Price",
        "Currency",
        "Price date",
        "Model",
        "Serial from",
        "Serial to",
        "Fig",
        "Qty",
        "Replaced by",
        "Replaces",
        "Interchange",
    ),
    (
        "QF-2214",
        "Quillfeather",
        "gear",
        "fan gear",
        "superseded",
        "=worn early",
        "Whimbrel book",
        "QF22",
        "C-7 | C-8",
        "20",
        "A4",
        "12,7",
        "1 1/4",
        "31",
        "A1",
        "Dunmarrow",
        "12.50",
        "GBP",
        "2026-03",
        "Whimbrel",
        "QW101",
        "QW499",
        "12",
        "2",
        "QF-3214 and QF-3215",
        "QF-1214; QF-1215",
        "Dunmarrow:DM 881 [with-work, one way]",
    ),
    (
        "QF-2214",
        "Quillfeather",
        "",
        "",
        "",
        "",
        "Garganey book",
        "",
        "",
        "",
        "",
        "13",
        "",
        "",
        "B2",
        "Dunmarrow",
        "13.00",
        "GBP",
        "2026-09",
        "Garganey",
        "QL7",
        "",
        "",
        "1",
        "",
        "",
        "",
    ),
)


def opened(small: Path, path: Path) -> Store:
    return open_engine(shutil.copy(small, path))


def bring(store: Store, path: Path, rows: Sequence[Sequence[str]]) -> None:
    with path.open("w", encoding="utf-8", newline="") as stream:
        csv.writer(stream).writerows(rows)
    assert OpenStore(store).import_file(path).written


def told(store: Store) -> dict[tuple[str, str], object]:
    with store.reading() as conn:
        return {
            (f.part.maker, f.part.number): _plain(f)
            for f in facts_of(conn, own_ids(conn))
            if f.part.status != "mentioned"
        }


def _all(store: Store) -> list[Facts]:
    with store.reading() as conn:
        return list(facts_of(conn, own_ids(conn)))


def _plain(facts: Facts) -> object:
    part = facts.part
    return (
        part.kind,
        part.words,
        part.status,
        part.note,
        {name: held.value for name, held in part.sizes.items()},
        sorted((m.role, m.text) for m in part.marks),
        sorted((e.label, e.value) for e in facts.extras),
        sorted(facts.claims),
        sorted(facts.prices),
        sorted((a.model, a.serials, a.assembly, a.quantity or 0, a.source) for a in facts.applies),
        sorted((s.kind, s.news, s.source) for s in facts.steps),
        sorted((i.number, i.grade, i.way, i.note, i.source) for i in facts.interchanges),
    )


@pytest.mark.parametrize("ending", ["csv", "xlsx"])
def test_every_carried_field_reaches_another_store(
    small: Path, tmp_path: Path, ending: str
) -> None:
    one, two = opened(small, tmp_path / "one.xref"), opened(small, tmp_path / "two.xref")
    bring(one, tmp_path / "parts.csv", FULL)
    out = tmp_path / f"out.{ending}"
    with one.reading() as conn:
        exported = export_file(conn, out)
    assert exported.beyond == {}
    again = OpenStore(one).import_file(out)
    assert (again.unchanged, again.read) == (exported.rows, exported.rows)
    assert OpenStore(two).import_file(out).rejected == 0
    before = told(one)
    [full] = [facts for (_, number), facts in before.items() if number == "QF-2214"]
    assert isinstance(full, tuple)
    assert all(full)
    assert told(two) == before
    names = {facts.part.number for facts in _all(one)}
    assert {facts.part.number for facts in _all(two)} == names
    one.close()
    two.close()


PASSED_OVER = (
    "total",
    "section",
    "repeated heading",
    "line between",
    "above the heading",
    "heading line",
)
CELL = st.sampled_from(
    ("", "QF-1", "QF-2", "QF 1;2", "Total", "12,7", "£3", "Whimbrel; Garganey", "#REF!")
)
ROWS = st.lists(st.lists(CELL, min_size=5, max_size=5), max_size=5)
HEADING = ("Part No.", "Description", "Bore", "Replaced by", "Model")


@settings(max_examples=20)
@example(sheets=[[], [["", "", "", "", "#REF!"]]])
@given(sheets=st.lists(ROWS, min_size=2, max_size=3))
def test_rows_of_several_sheets_add_up_and_good_ones_are_kept(
    small: Path, sheets: list[list[list[str]]]
) -> None:
    from openpyxl import Workbook

    with tempfile.TemporaryDirectory() as name:
        path = Path(name) / "parts.xlsx"
        book = Workbook()
        book.remove(book.active)
        for at, rows in enumerate(sheets):
            sheet = book.create_sheet(f"list {at}")
            for row in (HEADING, *rows):
                sheet.append([cell or None for cell in row])
        book.save(path)
        store = opened(small, Path(name) / "store.xref")
        done = OpenStore(store).import_file(path, keep_good=True)
        passed = sum(done.counts.get(k, 0) for k in PASSED_OVER)
        filled = sum(any(row) for rows in sheets for row in rows)
        assert done.read == done.added + done.changed + done.unchanged + done.rejected
        assert done.read + passed == filled
        assert sum(_length(Path(rest)) - 1 for rest in done.rejects) == done.rejected
        store.close()


def _length(path: Path) -> int:
    with path.open(encoding="utf-8-sig", newline="") as stream:
        return len(list(csv.reader(stream)))
