"""The scan stays right while parts come and go, whether laid out or not."""

from __future__ import annotations

from pathlib import Path

import pytest
from sqlalchemy import func, select

from xref.domain.mark import read_mark
from xref.services.changing.parts import remove as remove_part
from xref.services.parts import mark as marking
from xref.services.parts import part as parts
from xref.store.index import scan
from xref.store.index.shortlist import nearest_spellings
from xref.store.open.engine import Store, open_engine
from xref.store.tables.tables import scan_block, scan_plane, spelling


def let_through(store: Store, mark: str) -> set[str]:
    """The texts of the spellings that are worth scoring for ``mark``."""
    with store.reading() as conn:
        ids = nearest_spellings(conn, [read_mark(mark)])
        return set(conn.scalars(select(spelling.c.text).where(spelling.c.id.in_(ids))))


def add(store: Store, *numbers: str) -> None:
    """Add these parts in one command."""
    with store.writing("add") as unit:
        for number in numbers:
            parts.add(unit, number)
        unit.commit()


@pytest.fixture
def small_tail(monkeypatch: pytest.MonkeyPatch) -> None:
    """Lay out whenever more than two spellings have come."""
    monkeypatch.setattr(scan.fold_in, "__defaults__", (2,))


def test_new_store_is_laid_out_whole(store: Store) -> None:
    with store.reading() as conn:
        done, _ = scan.laid_out(conn)
        assert done == conn.scalar(select(func.max(spelling.c.id)))


def test_part_is_found_before_and_after_it_is_laid_out(store: Store) -> None:
    add(store, "QF-77123")
    assert "QF-77123" in let_through(store, "QF 7?123")
    with store.writing("lay out") as unit:
        scan.fold_in(unit.conn, 0)
        unit.commit()
    assert "QF-77123" in let_through(store, "QF 7?123")


@pytest.mark.usefixtures("small_tail")
def test_commit_lays_out_what_has_come(store: Store) -> None:
    add(store, "QF-77123", "QF-77124", "QF-77125")
    with store.reading() as conn:
        done, _ = scan.laid_out(conn)
        assert done == conn.scalar(select(func.max(spelling.c.id)))
    assert {"QF-77123", "QF-77125"} <= let_through(store, "QF 7712?")


@pytest.mark.usefixtures("small_tail")
def test_removed_part_is_gone_and_its_id_is_not_given_out_again(store: Store) -> None:
    add(store, "QF-77123", "QF-77124", "QF-77125")
    with store.writing("remove") as unit:
        remove_part(unit, "QF-77125")
        unit.commit()
    assert "QF-77125" not in let_through(store, "QF 77125")
    add(store, "WW-4040")
    assert "WW-4040" in let_through(store, "WW 4?40")
    assert "WW-4040" not in let_through(store, "QF 77125")


@pytest.mark.usefixtures("small_tail")
def test_changed_number_is_found_by_its_new_text_alone(store: Store) -> None:
    add(store, "QF-77123", "QF-77124", "QF-77125")
    with store.writing("mark") as unit:
        marking.add(unit, "QF-77124", "ZX 90 881", "number")
        unit.commit()
    assert "ZX 90 881" in let_through(store, "ZX9?881")


def test_what_is_not_committed_leaves_the_scan_as_it_was(store: Store) -> None:
    before = let_through(store, "QF 77123")
    with store.reading() as conn:
        stamps = list(conn.scalars(select(scan_block.c.stamp)))
    with store.writing("add and lay out") as unit:
        parts.add(unit, "QF-77123")
        scan.lay_out_all(unit.conn)
    with store.reading() as conn:
        assert list(conn.scalars(select(scan_block.c.stamp))) == stamps
    assert let_through(store, "QF 77123") == before


def test_store_without_a_layout_is_searched_all_the_same(store: Store) -> None:
    whole = let_through(store, "62?4 2RS")
    with store.writing("forget the layout") as unit:
        for table in (scan_plane, scan_block):
            unit.conn.execute(table.delete())
        unit.conn.commit()
    assert "6204" in whole
    assert "6204" in let_through(store, "62?4 2RS")


def test_two_stores_do_not_share_what_is_held_in_memory(store: Store, tmp_path: Path) -> None:
    other = open_engine(tmp_path / "other.xref")
    add(other, "QF-77123")
    with other.writing("lay out") as unit:
        scan.fold_in(unit.conn, 0)
        unit.commit()
    assert "QF-77123" in let_through(other, "QF 77123")
    assert "QF-77123" not in let_through(store, "QF 77123")
    other.close()
