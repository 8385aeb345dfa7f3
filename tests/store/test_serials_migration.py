"""The move that keeps serial ranges as data mends the old rows, and its way back keeps them."""

from __future__ import annotations

import shutil
import sqlite3
from collections.abc import Sequence
from contextlib import closing
from pathlib import Path

import pytest

from xref.services.links import applies as applying
from xref.services.open import open_store
from xref.store.open import migrate
from xref.store.open.engine import sqlite_engine

OLD, NEW = "0009", "0010"


@pytest.fixture
def old(small: Path, tmp_path: Path) -> Path:
    """A store of the old layout with five ranges of one part."""
    path = Path(shutil.copy(small, tmp_path / "old.xref"))
    with open_store(str(path)) as opened, opened.store.writing("applies") as unit:
        for serials in ("1", "2", "3", "4", "5"):
            applying.applies(unit, "KR-100", model="Dotterel", serials=serials)
        unit.commit()
    to(path, OLD)
    return path


def to(path: Path, revision: str) -> None:
    engine = sqlite_engine(path)
    step = migrate.downgrade if revision == OLD else migrate.upgrade
    step(engine, revision)
    engine.dispose()


def write(path: Path, rows: Sequence[tuple[str, str]]) -> None:
    with closing(sqlite3.connect(path)) as conn, conn:
        ids = [ident for (ident,) in conn.execute("SELECT id FROM applicability ORDER BY id")]
        for ident, (serials, found) in zip(ids, rows, strict=True):
            conn.execute(
                "UPDATE applicability SET serials = ?, as_found = ? WHERE id = ?",
                (serials, found, ident),
            )


def ranges(path: Path) -> list[tuple[str, str]]:
    with closing(sqlite3.connect(path)) as conn:
        return conn.execute("SELECT serials, as_found FROM applicability ORDER BY id").fetchall()


def test_old_rows_are_read_anew_where_a_word_was_taken_for_letters(old: Path) -> None:
    write(
        old,
        [
            ("12A-340", "12A–340"),
            ("BIS4511", "bis 4511"),
            ("", "all"),
            ("QD101-QD349 exc. QD230-QD240", "QD101-QD349 exc. 230-240"),
            ("C4500", "c. 4500"),
        ],
    )
    to(old, NEW)
    assert [serials for serials, _ in ranges(old)] == [
        ":12A..:340",
        "..:4511",
        "..",
        "QD:101..QD:349 !QD:230..QD:240",
        "?",
    ]
    assert ranges(old)[4] == ("?", "c. 4500")


def test_the_way_back_keeps_what_was_read_and_puts_the_unread_beside_the_part(old: Path) -> None:
    write(old, [("1-9", "1-9"), ("to 20", "to 20"), ("30-up", ""), ("", ""), ("C45", "c. 45")])
    to(old, NEW)
    to(old, OLD)
    assert [serials for serials, _ in ranges(old)] == ["1-9", "to 20", "30-up", ""]
    with closing(sqlite3.connect(old)) as conn:
        kept = conn.execute("SELECT label, value FROM part_extra ORDER BY position").fetchall()
    assert kept[-2:] == [("model", "Dotterel"), ("serials", "c. 45")]
