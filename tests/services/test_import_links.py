"""What rows say of other numbers and of machines is recorded as the commands record it."""

from __future__ import annotations

import csv
import random
import shutil
import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

import pytest

from xref.services.links.applies import applies
from xref.services.links.interchange import interchange
from xref.services.links.supersede import supersede
from xref.services.lists import Imported, run
from xref.services.open import OpenStore
from xref.sheets.fields import NO_SOURCE
from xref.store.open.engine import open_engine
from xref.store.read.links import steps_forward
from xref.store.read.queries import resolve
from xref.store.upkeep.undo import actions, undo
from xref.store.write.history import INSERT, UPDATE

HEADING = (
    "Part No.",
    "Maker",
    "Replaced by",
    "Replaces",
    "Interchange",
    "Model",
    "Serial from",
    "Replaced as",
    "Change with",
    "Source",
    "Status",
)
CHOICES = (
    ("QF-1", "QF-2", "qf 3", "QF-4", "QF-5", "QF-6"),
    ("Quillfeather", "Quillfeather", "Dunmarrow", ""),
    ("", "QF-1", "QF2", "QF-3; QF-4", "QF-5 and QF-6", "Dunmarrow:QF-1", ":QF-9", "6204", "---"),
    ("", "", "QF-4", "QF-6", "QF-7"),
    ("", "QF-2 [same]", "QF-3 [with-work, one way]", "6304 [same]", "QF-8", "QF-5 [tried-fits]"),
    ("", "Whimbrel", "whimbrel", "Whimbrel; Garganey", "---"),
    ("", "QW101", "7", "1,234"),
    ("", "", "one", "set, in a cycle", "serves back", "in a cycle", "rot"),
    ("", "", "QF-2", "QF-12"),
    ("", "", "Whimbrel book", NO_SOURCE),
    ("", "", "current", "discontinued"),
)
"""What the cells of ``HEADING`` may hold: chains and cycles, several makers, and faults."""


@contextmanager
def opened(small: Path, path: Path) -> Iterator[OpenStore]:
    store = open_engine(shutil.copy(small, path))
    yield OpenStore(store)
    store.close()


def listed(path: Path, heading: Sequence[str], rows: Sequence[Sequence[str]]) -> Path:
    with path.open("w", encoding="utf-8", newline="") as stream:
        csv.writer(stream).writerows([heading, *rows])
    return path


def faulty(seed: int) -> list[list[str]]:
    chance = random.Random(seed)
    return [[chance.choice(cells) for cells in CHOICES] for _ in range(60)]


def dump(path: Path, *left_out: str) -> list[str]:
    """Every row of every table that is not computed from the rest, as text."""
    computed = ("store_info", "scan_block", "scan_plane", "action", "change", *left_out)
    conn = sqlite3.connect(path)
    names = [n for (n,) in conn.execute("SELECT name FROM sqlite_master WHERE type = 'table'")]
    rows = [
        f"{name}: {row}"
        for name in sorted(names)
        if name not in computed and not name.startswith("sqlite_")
        for row in sorted(conn.execute(f"SELECT * FROM {name}"), key=str)
    ]
    conn.close()
    return rows


def brought(
    small: Path, path: Path, listing: Path, at_once: int, patch: pytest.MonkeyPatch
) -> tuple[Imported, list[str]]:
    """What an import says, and the store after it, where so many rows go at once."""
    patch.setattr(run, "LINKS_AT_ONCE", at_once)
    with opened(small, path) as store:
        done = store.import_file(listing, keep_good=True)
    return done, dump(path)


@pytest.mark.parametrize("seed", range(4))
def test_links_are_the_same_however_many_rows_go_at_once(
    small: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, seed: int
) -> None:
    listing = listed(tmp_path / "parts.csv", HEADING, faulty(seed))
    whole = brought(small, tmp_path / "whole.xref", listing, 1000, monkeypatch)
    assert whole[0].findings
    for at_once in (1, 7):
        path = tmp_path / f"{at_once}.xref"
        assert brought(small, path, listing, at_once, monkeypatch) == whole


MUDDLED = (
    "QF-2210",
    "QF2210",
    "QF 22-10",
    "qf-2211",
    "QF-2211",
    "QF2-211",
    "W2-310",
    "W2 310",
    "W231-0",
)
"""Numbers that are alike but for what parts them."""


def muddled(seed: int) -> list[list[str]]:
    """Rows of several makers whose links name numbers nearly as they are written elsewhere."""
    chance = random.Random(seed)
    makers = ("Quillfeather", "Dunmarrow", "", "")
    return [
        [
            chance.choice(MUDDLED),
            chance.choice(makers),
            chance.choice(("", *MUDDLED)),
            "; ".join(chance.sample(MUDDLED, chance.randint(0, 2))),
            chance.choice(("", *MUDDLED)),
        ]
        for _ in range(30)
    ]


@pytest.mark.parametrize("seed", range(8))
def test_a_muddled_list_brought_in_again_changes_nothing(
    small: Path, tmp_path: Path, seed: int
) -> None:
    heading = ("Part No.", "Maker", "Replaces", "Replaced by", "Interchange")
    listing = listed(tmp_path / "parts.csv", heading, muddled(seed))
    path = tmp_path / "store.xref"
    with opened(small, path) as store:
        assert store.import_file(listing, keep_good=True).added
        before = dump(path)
        again = store.import_file(listing, keep_good=True)
        assert (again.added, again.changed) == (0, 0)
        assert dump(path) == before


def test_undo_takes_back_every_link_of_a_list(small: Path, tmp_path: Path) -> None:
    listing = listed(tmp_path / "parts.csv", HEADING, faulty(9))
    path = tmp_path / "store.xref"
    with opened(small, path) as store:
        store.import_file(listed(tmp_path / "bare.csv", HEADING[:2], [("QF-1", "Dunmarrow")]))
        before = dump(path, "maker", "boundary")
        assert store.import_file(listing, keep_good=True).added
        with store.store.writing("undo", watched=False) as unit:
            undo(unit)
            unit.commit()
    assert dump(path, "maker", "boundary") == before


def test_a_list_records_what_the_commands_record(small: Path, tmp_path: Path) -> None:
    heading = ("Part No.", "Maker", *HEADING[2:7], "Source", "Status")
    rows = [
        ("QF-1", "Quillfeather", "QF-2", "", "", "Whimbrel", "QW101", NO_SOURCE, ""),
        ("QF-2", "Quillfeather", "QF-3; QF-4", "", "Dunmarrow:D-7 [same]", "", "", NO_SOURCE, ""),
        ("QF-5", "Quillfeather", "", "QF-6", "QF-1 [tried-fits, one way]", "", "", NO_SOURCE, ""),
    ]
    one, two = tmp_path / "one.xref", tmp_path / "two.xref"
    with opened(small, one) as store:
        store.import_file(listed(tmp_path / "parts.csv", heading, rows))
    with opened(small, two) as store:
        bare = [(*row[:2], NO_SOURCE) for row in rows]
        store.import_file(listed(tmp_path / "bare.csv", (*heading[:2], "Source"), bare))
        with store.store.writing("links") as unit:
            supersede(unit, "QF-1", ["QF-2"])
            applies(unit, "QF-1", model="Whimbrel", serials="from QW101")
            supersede(unit, "QF-2", ["QF-3", "QF-4"], kind="choice", maker="Quillfeather")
            interchange(unit, "QF-2", "Dunmarrow:D-7", grade="same")
            supersede(unit, "Quillfeather:QF-6", ["QF-5"])
            interchange(unit, "QF-5", "QF-1", grade="tried-fits", one_way=True)
            unit.commit()
    # A command writes a changed part's spellings anew, and so under other ids.
    assert dump(one, "spelling") == dump(two, "spelling")


def test_a_cycle_over_rows_that_go_apart_is_found(
    small: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(run, "LINKS_AT_ONCE", 1)
    rows = [("QF-3", "QF-1"), ("QF-2", "QF-3"), ("QF-1", "QF-2")]
    with opened(small, tmp_path / "store.xref") as store:
        done = store.import_file(listed(tmp_path / "parts.csv", ("Part No.", "Replaced by"), rows))
        [found] = done.findings
        assert "QF-1 → QF-2 → QF-3 → QF-1" in found.message
        assert found.row == 4
        with store.store.reading() as conn:
            statuses = [resolve(conn, number).status for number in ("QF-3", "QF-2", "QF-1")]
    assert statuses == ["superseded", "superseded", "current"]


@pytest.mark.parametrize(
    ("statuses", "kept"),
    [
        (("", "mentioned"), "mentioned"),
        (("mentioned", ""), "mentioned"),
        (("mentioned", "discontinued"), "discontinued"),
        (("discontinued", "mentioned"), "discontinued"),
    ],
)
def test_statuses_of_several_rows_are_the_same_the_next_time(
    small: Path, tmp_path: Path, statuses: tuple[str, str], kept: str
) -> None:
    rows = [("QF-1", "QF-2" if said else "", said) for said in statuses]
    listing = listed(tmp_path / "parts.csv", ("Part No.", "Replaced by", "Status"), rows)
    with opened(small, tmp_path / "store.xref") as store:
        store.import_file(listing)
        again = store.import_file(listing)
        assert (again.unchanged, again.findings) == (2, ())
        with store.store.reading() as conn:
            assert resolve(conn, "QF-1").status == kept


def test_the_history_keeps_of_a_new_part_only_that_it_came(small: Path, tmp_path: Path) -> None:
    heading = ("Part No.", "Replaced by")
    with opened(small, tmp_path / "store.xref") as store:
        store.import_file(listed(tmp_path / "one.csv", heading[:1], [("QF-1",)]))
        rows = [("QF-1", "QF-2"), ("QF-2", "QF-3"), ("QF-4", "QF-3")]
        store.import_file(listed(tmp_path / "two.csv", heading, rows))
        with store.store.reading() as conn:
            changes = actions(conn)[0].changes
            ids = {resolve(conn, number).id for number in ("QF-2", "QF-4", "QF-3")}
    [changed] = [c for c in changes if c.kind == UPDATE]
    assert (changed.before or {})["number"] == "QF-1"
    came = [c for c in changes if c.table == "part" and c.kind == INSERT]
    assert {ident for c in came for ident in range(c.low, c.high + 1)} == ids


def test_undo_leaves_no_dimensions_that_a_new_part_had_meanwhile(
    small: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(run, "CHUNK", 1)
    path = tmp_path / "store.xref"
    heading = ("Part No.", "Bore (mm)", "O.D. (mm)")
    with opened(small, path) as store:
        before = dump(path, "maker", "source")
        rows = [("QF-1", "21", ""), ("QF-1", "", "43")]
        assert store.import_file(listed(tmp_path / "parts.csv", heading, rows)).changed == 1
        with store.store.writing("undo", watched=False) as unit:
            undo(unit)
            unit.commit()
    assert dump(path, "maker", "source") == before


def test_a_companion_that_is_named_twice_is_one(small: Path, tmp_path: Path) -> None:
    heading = ("Part No.", "Replaced by", "Change with")
    listing = listed(tmp_path / "parts.csv", heading, [("QF-1", "QF-2", "QF-3; qf 3")])
    with opened(small, tmp_path / "store.xref") as store:
        store.import_file(listing)
        with store.store.reading() as conn:
            old, companion = resolve(conn, "QF-1").id, resolve(conn, "QF-3").id
            [step] = steps_forward(conn, [old])[old]
        assert step.companions == (companion,)
        assert store.import_file(listing).unchanged == 1
