"""The number of a fact, a bench item or something wanted is given out once and never again."""

from __future__ import annotations

import shutil
import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing
from functools import partial
from pathlib import Path

import pytest

from xref.services.bench import bench, wanted
from xref.services.changing import items, marks, pairs, ranges, steps, wants
from xref.services.links import applies as applying
from xref.services.links.interchange import interchange
from xref.services.links.machine import add as add_machine
from xref.services.links.supersede import supersede
from xref.services.open import OpenStore, open_store
from xref.services.parts import mark as marking
from xref.services.parts import part as parts
from xref.services.question import Asked
from xref.store.open import migrate
from xref.store.open.engine import sqlite_engine
from xref.store.upkeep.undo import actions, undo
from xref.store.write.unit import UnitOfWork

OLD, NEW = "0011", "0012"
Write = Callable[[UnitOfWork], object]


@pytest.fixture
def path(small: Path, tmp_path: Path) -> Path:
    found = Path(shutil.copy(small, tmp_path / "s.xref"))
    with open_store(str(found)) as store:
        for number in ("QF-1", "QF-2", "QF-3"):
            write(store, "part add", partial(parts.add, number=number))
    return found


@pytest.fixture
def opened(path: Path) -> Iterator[OpenStore]:
    with open_store(str(path)) as store:
        yield store


def write(store: OpenStore, command: str, step: Write) -> None:
    with store.store.writing(command) as unit:
        step(unit)
        unit.commit()


def numbers(path: Path, table: str) -> list[int]:
    with closing(sqlite3.connect(path)) as conn:
        return [i for (i,) in conn.execute(f"SELECT id FROM {table} ORDER BY id")]


ADDS: dict[str, tuple[str, Write, Callable[[UnitOfWork, int], object]]] = {
    "bench": ("bench_item", lambda u: bench.add(u, "box 1", Asked(marks=("QF",))), items.remove),
    "wanted": ("wanted", lambda u: wanted.add(u, "a bush"), wants.remove),
    "mark": ("mark", lambda u: marking.add(u, "QF-1", "Q 77", "casting"), marks.remove),
    "applies": (
        "applicability",
        lambda u: applying.applies(u, "QF-1", model="Garganey", serials="1-9"),
        ranges.remove,
    ),
    "supersede": ("supersession", lambda u: supersede(u, "QF-1", ["QF-2"]), steps.remove),
    "interchange": (
        "interchange",
        lambda u: interchange(u, "QF-1", "QF-3", grade="same"),
        pairs.remove,
    ),
}


@pytest.mark.parametrize("what", ADDS)
def test_a_number_is_not_given_out_again_after_the_highest_was_removed(
    opened: OpenStore, path: Path, what: str
) -> None:
    table, add, remove = ADDS[what]
    write(opened, "add", add)
    (first,) = numbers(path, table)
    write(opened, "remove", lambda unit: remove(unit, first))
    write(opened, "add", add)
    (second,) = numbers(path, table)
    assert second > first
    with opened.store.reading() as conn:
        removal = actions(conn)[1].id
    write_undo(opened, removal + 1)
    write_undo(opened, removal)
    assert numbers(path, table) == [first]


def write_undo(store: OpenStore, number: int) -> None:
    with store.store.writing("undo", watched=False) as unit:
        undo(unit, number)
        unit.commit()


def test_a_removal_is_taken_back_though_more_was_written_down_after_it(
    opened: OpenStore, path: Path
) -> None:
    for text in ("a bush", "a seal"):
        write(opened, "add", partial(wanted.add, need=text))
    write(opened, "remove", lambda unit: wants.remove(unit, 2))
    with opened.store.reading() as conn:
        removal = actions(conn)[0].id
    write(opened, "add", lambda unit: wanted.add(unit, "a ring"))
    write_undo(opened, removal)
    assert numbers(path, "wanted") == [1, 2, 3]


def test_an_import_gives_no_supersession_the_number_of_one_that_was_removed(
    opened: OpenStore, path: Path, tmp_path: Path
) -> None:
    write(opened, "add", lambda unit: supersede(unit, "QF-1", ["QF-2"]))
    write(opened, "remove", lambda unit: steps.remove(unit, 1))
    sheet = tmp_path / "list.csv"
    sheet.write_text("number,replaced by\nQF-7,QF-8\nQF-9,QF-10\n", encoding="utf-8")
    opened.import_file(str(sheet))
    assert numbers(path, "supersession") == [2, 3]


def to(path: Path, revision: str) -> None:
    engine = sqlite_engine(path)
    step = migrate.downgrade if revision == OLD else migrate.upgrade
    step(engine, revision)
    engine.dispose()


def rows(path: Path, table: str, without: str = "") -> list[dict[str, object]]:
    with closing(sqlite3.connect(path)) as conn:
        conn.row_factory = sqlite3.Row
        found = [dict(row) for row in conn.execute(f"SELECT * FROM {table} ORDER BY id")]
    return [{k: v for k, v in row.items() if k != without} for row in found]


def test_the_move_up_passes_by_the_numbers_that_the_history_tells_of(path: Path) -> None:
    with open_store(str(path)) as store:
        for what in ADDS.values():
            write(store, "add", what[1])
        write(store, "remove", lambda unit: items.remove(unit, 1))
    kept = {table: rows(path, table, "machine_id") for table, _, _ in ADDS.values()}
    to(path, OLD)
    assert {table: rows(path, table, "machine_id") for table in kept} == kept
    to(path, NEW)
    assert {table: rows(path, table, "machine_id") for table in kept} == kept
    with open_store(str(path)) as store:
        write(store, "add", ADDS["bench"][1])
    assert numbers(path, "bench_item") == [2]


def test_the_move_down_says_in_the_note_what_machine_a_thing_is_wanted_for(path: Path) -> None:
    with open_store(str(path)) as store:
        write(store, "m", lambda u: add_machine(u, "QD 7", model="Garganey", serial="QD7"))
        write(store, "w", lambda u: wanted.add(u, "QF-1", machine="QD 7", note="soon"))
        write(store, "w", lambda u: wanted.add(u, "QF-2"))
    to(path, OLD)
    assert [row["note"] for row in rows(path, "wanted")] == ["soon; for QD 7", ""]
    to(path, NEW)
    assert [row["machine_id"] for row in rows(path, "wanted")] == [None, None]
