"""Imports merge by maker and key, lose nothing, and leave a store as before or whole."""

from __future__ import annotations

import csv
import os
import shutil
import signal
import sqlite3
import subprocess
import sys
from collections import Counter
from collections.abc import Iterator, Sequence
from pathlib import Path

import pytest
from sqlalchemy import select

from fixtures import workbooks
from xref.errors import StoreError
from xref.services.changing import noted
from xref.services.lists import Imported
from xref.services.lists.proposals import designation_in
from xref.services.open import OpenStore
from xref.services.parts import part as parts
from xref.services.upkeep.history import history
from xref.store.index.tally import stored_tally, tally_of
from xref.store.open.engine import Store, open_engine, sqlite_engine
from xref.store.read.load import load_parts
from xref.store.tables.tables import part
from xref.store.upkeep.undo import undo

CHECKOUT = Path(__file__).parents[2]


@pytest.fixture
def opened(seeded_path: Path, tmp_path: Path) -> Iterator[OpenStore]:
    """An open store of this test's own, with the standards' rows."""
    store = open_engine(shutil.copy(seeded_path, tmp_path / "store.xref"))
    yield OpenStore(store)
    store.close()


def listed(folder: Path, *rows: Sequence[str], name: str = "parts.csv") -> Path:
    path = folder / name
    with path.open("w", encoding="utf-8", newline="") as stream:
        csv.writer(stream).writerows(rows)
    return path


def outcome(done: Imported) -> tuple[int, int, int, int]:
    assert done.read == done.added + done.changed + done.unchanged + done.rejected
    return done.added, done.changed, done.unchanged, done.rejected


def dump(path: Path) -> list[str]:
    """Every row of every table, as text."""
    conn = sqlite3.connect(path)
    names = [n for (n,) in conn.execute("SELECT name FROM sqlite_master WHERE type = 'table'")]
    rows = [f"{n}: {row}" for n in sorted(names) for row in conn.execute(f"SELECT * FROM {n}")]
    conn.close()
    return rows


def shown(opened: OpenStore, number: str) -> dict[str, object]:
    with opened.store.reading() as conn:
        return parts.to_json(parts.show(conn, number))


HEADING = ("Part No.", "Maker", "Kind", "Description", "Bore (mm)", "Shelf")
ONE = ("QF-2214", "Quillfeather", "casting", "chain case", "20", "A1")


def test_row_becomes_a_part_with_all_it_says(opened: OpenStore, tmp_path: Path) -> None:
    done = opened.import_file(listed(tmp_path, HEADING, ONE))
    assert outcome(done) == (1, 0, 0, 0)
    assert done.mapping == {
        "Part No.": "number",
        "Maker": "maker",
        "Kind": "kind",
        "Description": "words",
        "Bore (mm)": "bore",
        "Shelf": "extra",
    }
    found = shown(opened, "QF-2214")
    assert (found["maker"], found["kind"], found["description"], found["sizes"]) == (
        "Quillfeather",
        "casting",
        "chain case",
        {"bore": 20.0},
    )


def test_column_that_means_nothing_is_kept_with_the_part(opened: OpenStore, tmp_path: Path) -> None:
    opened.import_file(listed(tmp_path, HEADING, ONE))
    with opened.store.reading() as conn:
        kept = noted.listed(conn, noted.KEPT, "QF-2214")
    assert [(e.values["label"], e.values["value"]) for e in kept] == [("Shelf", "A1")]


def test_same_list_again_changes_nothing(opened: OpenStore, tmp_path: Path) -> None:
    path = listed(tmp_path, HEADING, ONE, ("00123", "Dunmarrow", "", "draw hook", "1,5", "B"))
    opened.import_file(path)
    before = dump(Path(opened.store.where))
    assert outcome(opened.import_file(path)) == (0, 0, 2, 0)
    assert dump(Path(opened.store.where)) == before


@pytest.mark.parametrize("number", ["QF 2214", "qf-2214", "QF.2214"])
def test_other_writing_of_a_number_is_the_same_part(
    opened: OpenStore, tmp_path: Path, number: str
) -> None:
    opened.import_file(listed(tmp_path, HEADING, ONE))
    assert outcome(opened.import_file(listed(tmp_path, HEADING, (number, *ONE[1:])))) == (
        0,
        0,
        1,
        0,
    )


@pytest.mark.parametrize("other", [("QF2214", "Quillfeather"), ("QF-2214", "Dunmarrow")])
def test_other_key_or_maker_is_another_part(
    opened: OpenStore, tmp_path: Path, other: tuple[str, str]
) -> None:
    opened.import_file(listed(tmp_path, HEADING, ONE))
    assert outcome(opened.import_file(listed(tmp_path, HEADING, (*other, *ONE[2:])))) == (
        1,
        0,
        0,
        0,
    )


def test_new_facts_fill_gaps(opened: OpenStore, tmp_path: Path) -> None:
    opened.import_file(listed(tmp_path, HEADING, ("QF-2214", "Quillfeather", "", "", "", "")))
    done = opened.import_file(listed(tmp_path, HEADING, ONE))
    assert outcome(done) == (0, 1, 0, 0)
    assert done.findings == ()
    assert shown(opened, "QF-2214")["sizes"] == {"bore": 20.0}


def test_status_of_a_new_part_is_what_its_row_says(opened: OpenStore, tmp_path: Path) -> None:
    heading, row = (*HEADING, "Status"), (*ONE, "superseded")
    done = opened.import_file(listed(tmp_path, heading, row, (*ONE, "current")))
    assert shown(opened, "QF-2214")["status"] == "superseded"
    assert done.findings == ()


def test_contradicting_fact_is_kept_beside_with_its_source(
    opened: OpenStore, tmp_path: Path
) -> None:
    opened.import_file(listed(tmp_path, HEADING, ONE))
    other = listed(tmp_path, HEADING, (*ONE[:4], "21", "A1"), name="other.csv")
    done = opened.import_file(other)
    assert outcome(done) == (0, 1, 0, 0)
    assert [f.kind for f in done.findings] == ["contradiction"]
    assert shown(opened, "QF-2214")["sizes"] == {"bore": 20.0}
    with opened.store.reading() as conn:
        (claim,) = noted.listed(conn, noted.CLAIM, "QF-2214")
    assert claim.says == "bore 21 mm, other.csv"
    assert outcome(opened.import_file(other)) == (0, 0, 1, 0)


def test_look_alike_number_of_the_same_sizes_is_proposed_and_not_merged(
    opened: OpenStore, tmp_path: Path
) -> None:
    done = opened.import_file(listed(tmp_path, HEADING, ONE, ("QF-2Z14", *ONE[1:])))
    assert outcome(done) == (2, 0, 0, 0)
    assert [f.kind for f in done.findings] == ["near duplicate"]


def test_look_alike_number_of_another_size_is_not_proposed(
    opened: OpenStore, tmp_path: Path
) -> None:
    other = ("QF-2Z14", *ONE[1:4], "35", "A1")
    assert opened.import_file(listed(tmp_path, HEADING, ONE, other)).findings == ()


@pytest.mark.parametrize(
    ("words", "number"),
    [
        ("brg 6204 2rs", "6204"),
        ("bearing, 6204-2RS C3", "6204"),
        ("Lager 6304", "6304"),
        ("lamp bracket 6204", ""),
        ("brg 6?04", ""),
        ("bearing housing", ""),
        ("brg 99999", ""),
    ],
)
def test_designation_is_found_beside_a_word_of_the_trade(words: str, number: str) -> None:
    assert designation_in(words) == number


def test_designation_in_a_description_is_proposed_and_not_recorded(
    opened: OpenStore, tmp_path: Path
) -> None:
    rows = (("Part No.", "Description"), ("QF-77", "brg 6204 2rs"))
    done = opened.import_file(listed(tmp_path, *rows))
    assert [f.kind for f in done.findings] == ["designation"]
    assert "6204" in done.findings[0].message
    assert shown(opened, "QF-77")["sizes"] == {}


def test_rejected_row_leaves_the_store_as_before(opened: OpenStore, tmp_path: Path) -> None:
    before = dump(Path(opened.store.where))
    done = opened.import_file(listed(tmp_path, HEADING, ONE, ("", "Dunmarrow", "", "hook", "", "")))
    assert outcome(done) == (1, 0, 0, 1)
    assert not done.written
    assert dump(Path(opened.store.where)) == before
    assert sorted(p.suffix for p in tmp_path.iterdir() if "rejected" in p.name) == []


def test_good_rows_are_kept_and_the_mended_rest_imports(opened: OpenStore, tmp_path: Path) -> None:
    path = listed(tmp_path, HEADING, ONE, ("", "Dunmarrow", "", "=hook", "12", "B7"))
    done = opened.import_file(path, keep_good=True)
    assert (outcome(done), done.written) == ((1, 0, 0, 1), True)
    [rest] = map(Path, done.rejects)
    assert rest.parent == tmp_path
    with rest.open(encoding="utf-8-sig", newline="") as stream:
        heading, row = list(csv.reader(stream))
    assert heading == [*HEADING, "reason for rejection"]
    assert row == ["", "Dunmarrow", "", "'=hook", "12", "B7", done.findings[0].message]
    mended = listed(tmp_path, heading, ["DM 881", *row[1:]], name="mended.csv")
    assert outcome(opened.import_file(mended)) == (1, 0, 0, 0)
    assert shown(opened, "DM 881")["description"] == "=hook"


def test_a_file_of_rejected_rows_is_never_written_over(opened: OpenStore, tmp_path: Path) -> None:
    path = listed(tmp_path, HEADING, ONE, ("", "Dunmarrow", "", "hook", "", ""))
    first, second = (opened.import_file(path, keep_good=True).rejects for _ in range(2))
    assert first != second


def test_preview_says_the_same_and_changes_nothing(opened: OpenStore, tmp_path: Path) -> None:
    path = listed(tmp_path, HEADING, ONE)
    before = dump(Path(opened.store.where))
    done = opened.import_file(path, preview=True)
    assert (outcome(done), done.written) == ((1, 0, 0, 0), False)
    assert dump(Path(opened.store.where)) == before
    assert outcome(opened.import_file(path)) == outcome(done)


def test_preview_works_on_a_store_that_may_only_be_read(seeded_path: Path, tmp_path: Path) -> None:
    path = listed(tmp_path, HEADING, ONE)
    copy = Path(shutil.copy(seeded_path, tmp_path / "store.xref"))
    before = copy.read_bytes()
    sealed = Store(sqlite_engine(copy, writable=False), str(copy), writable=False)
    done = OpenStore(sealed).import_file(path, preview=True)
    assert (outcome(done), done.written) == ((1, 0, 0, 0), False)
    with pytest.raises(StoreError, match="read-only"):
        OpenStore(sealed).import_file(path)
    sealed.close()
    assert copy.read_bytes() == before


def test_unreadable_size_is_a_finding_and_its_cell_is_kept(
    opened: OpenStore, tmp_path: Path
) -> None:
    done = opened.import_file(listed(tmp_path, HEADING, (*ONE[:4], "about 20", "")))
    assert (outcome(done), done.written) == ((1, 0, 0, 0), True)
    assert [(f.row, f.column, f.kind) for f in done.findings] == [(2, "Bore (mm)", "size")]
    with opened.store.reading() as conn:
        kept = noted.listed(conn, noted.KEPT, "QF-2214")
    assert [(e.values["label"], e.values["value"]) for e in kept] == [("Bore (mm)", "about 20")]


def test_standard_is_no_maker_of_ones_own_parts(opened: OpenStore, tmp_path: Path) -> None:
    done = opened.import_file(listed(tmp_path, HEADING, ("6204", "ISO 15", "", "", "", "")))
    assert outcome(done) == (0, 0, 0, 1)


def test_designation_as_number_joins_the_standards_row(opened: OpenStore, tmp_path: Path) -> None:
    opened.import_file(listed(tmp_path, ("Part No.", "Shelf"), ("6204", "A1")))
    with opened.store.reading() as conn:
        rows = conn.execute(select(part.c.group_key, part.c.kind).where(part.c.key == "6204"))
        assert len({tuple(row) for row in rows}) == 1


LINKS = (
    "Part No.",
    "Maker",
    "Replaced by",
    "Replaces",
    "Interchange",
    "Model",
    "Serial from",
    "Serial to",
    "Qty",
    "Price",
    "Supplier",
    "Source",
)
LINKED = (
    "QF-2214",
    "Quillfeather",
    "QF-3214",
    "QF-1214; QF-1215",
    "Dunmarrow:DM 881 [with-work]",
    "Whimbrel",
    "QW101",
    "QW499",
    "2",
    "£12.50",
    "Dunmarrow",
    "Whimbrel parts book",
)


def test_links_prices_and_ranges_are_recorded_once(opened: OpenStore, tmp_path: Path) -> None:
    path = listed(tmp_path, LINKS, LINKED)
    assert outcome(opened.import_file(path)) == (1, 0, 0, 0)
    before = Counter(row.split(":")[0] for row in dump(Path(opened.store.where)))
    assert (before["supersession"], before["interchange"], before["applicability"]) == (3, 1, 1)
    assert before["price"] == 1
    assert shown(opened, "QF-2214")["status"] == "superseded"
    assert shown(opened, "QF-1215")["status"] == "superseded"
    assert outcome(opened.import_file(path)) == (0, 0, 1, 0)
    assert Counter(row.split(":")[0] for row in dump(Path(opened.store.where))) == before


def test_number_mentioned_by_a_link_is_completed_by_its_own_row(
    opened: OpenStore, tmp_path: Path
) -> None:
    opened.import_file(listed(tmp_path, LINKS, LINKED))
    done = opened.import_file(listed(tmp_path, HEADING, ("QF-3214", *ONE[1:])))
    assert outcome(done) == (0, 1, 0, 0)
    assert shown(opened, "QF-3214")["status"] == "current"


def test_range_that_cannot_be_read_is_kept_beside_the_part(
    opened: OpenStore, tmp_path: Path
) -> None:
    row = ("QF-1", "", "", "", "", "Whimbrel", "early ones", "", "", "", "", "")
    done = opened.import_file(listed(tmp_path, LINKS, row))
    assert [f.kind for f in done.findings] == ["serials"]
    assert "EARLY ONES" in done.findings[0].message


@pytest.mark.parametrize("waiting", [60_000, 1], ids=["written at the end", "and between"])
def test_population_stays_exact(
    opened: OpenStore, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, waiting: int
) -> None:
    monkeypatch.setattr("xref.store.write.bulk._MOST_FIGURES", waiting)
    path = tmp_path / "many.csv"
    workbooks.plain_csv(path, 700)
    opened.import_file(path)
    more = (("Part No.", "Maker", "Description", "Bore", "Mark"), ("6204", "", "", "", "X6204"))
    opened.import_file(listed(tmp_path, *more, (ONE[0], ONE[1], "new words", "12", "QF 2 2 1 4")))
    shouted = ("QF-2299", "QUILLFEATHER", *ONE[2:])
    opened.import_file(listed(tmp_path, HEADING, ONE, shouted))
    with opened.store.reading() as conn:
        stored = stored_tally(conn)
        every = load_parts(conn, list(conn.scalars(select(part.c.id))))
    counted = {key: float(x) for key, x in tally_of(every).items() if abs(x) > 1e-9}
    assert stored == pytest.approx(counted)


def test_imported_numbers_are_found_by_their_worn_marks(opened: OpenStore, tmp_path: Path) -> None:
    path = tmp_path / "many.csv"
    workbooks.plain_csv(path, 5_000)
    opened.import_file(path)
    opened.import_file(listed(tmp_path, HEADING, ONE))
    answer = opened.identify(mark=["QF-2?14"], size={"bore": "20 mm"}).to_json()
    assert answer["candidates"][0]["number"] == "QF-2214"


STOPPED = """
import sys
from xref.services.lists.merge import Merger
from xref import open_store

merged = Merger.chunk

def chunk(self, sheet, rows):
    merged(self, sheet, rows)
    print("merged", flush=True)
    # Until this process is killed: the one that asks never writes.
    sys.stdin.read()

Merger.chunk = chunk
with open_store(sys.argv[1]) as opened:
    opened.import_file(sys.argv[2])
"""


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="this system cannot kill so")
def test_killed_import_leaves_the_store_as_before(seeded_path: Path, tmp_path: Path) -> None:
    store, path = Path(shutil.copy(seeded_path, tmp_path / "store.xref")), tmp_path / "many.csv"
    workbooks.plain_csv(path, 6_000)
    before = dump(store)
    with subprocess.Popen(
        [sys.executable, "-c", STOPPED, str(store), str(path)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        cwd=CHECKOUT,
        env={**os.environ, "PYTHONPATH": str(CHECKOUT)},
    ) as process:
        assert process.stdout is not None
        assert process.stderr is not None
        assert process.stdout.readline() == b"merged\n", process.stderr.read().decode()
        process.send_signal(signal.SIGKILL)
        assert process.wait() == -signal.SIGKILL
    assert dump(store) == before
    again = open_engine(store)
    assert outcome(OpenStore(again).import_file(path)) == (6_000, 0, 0, 0)
    again.close()


def test_import_is_taken_back_whole(opened: OpenStore, tmp_path: Path) -> None:
    opened.import_file(listed(tmp_path, HEADING, ONE, ("QF-3", *ONE[1:])))
    tables = ("part", "spelling", "size", "part_extra", "part_claim", "price", "tally")

    def held() -> list[str]:
        return [r for r in dump(Path(opened.store.where)) if r.split(":")[0] in tables]

    before = sorted(held())
    path = listed(tmp_path, LINKS, LINKED, ("QF-3", "Quillfeather", *[""] * 7, "£3", "", ""))
    more = listed(tmp_path, HEADING, (*ONE[:4], "21", "B2"), ("QF-4", *ONE[1:]), name="more.csv")
    for each in (more, path):
        assert opened.import_file(each).written
    assert sorted(held()) != before
    for _ in range(2):
        with opened.store.writing("undo", watched=False) as unit:
            undo(unit)
            unit.commit()
    assert sorted(held()) == before


def test_a_size_that_an_import_leaves_is_not_written_again(
    opened: OpenStore, tmp_path: Path
) -> None:
    opened.import_file(listed(tmp_path, ["Part No.", "Length (mm)"], ["QF-1", "30"]))
    more = ["Part No.", "Length (mm)", "Teeth"], ["QF-1", "30", "17"]
    assert outcome(opened.import_file(listed(tmp_path, *more))) == (0, 1, 0, 0)
    with opened.store.reading() as conn:
        [done] = history(conn, None, None, 1)
    assert [c.line() for c in done.changes if c.what == "size"] == [
        "size added: part QF-1, name teeth, value 17"
    ]
