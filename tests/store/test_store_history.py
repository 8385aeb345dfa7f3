"""Every command is kept and can be taken back whole."""

from __future__ import annotations

import shutil
import sqlite3
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from sqlalchemy import select

from xref.errors import NotFoundError, XrefError
from xref.services.changing.parts import remove as remove_part
from xref.services.links import applies as applying
from xref.services.links import machine as machines
from xref.services.links.interchange import interchange
from xref.services.links.supersede import supersede
from xref.services.open import OpenStore, open_store
from xref.services.parts import mark as marking
from xref.services.parts import part as parts
from xref.services.parts import source as sources
from xref.store.index.tally import population, tally_of
from xref.store.open.seed import refresh
from xref.store.read.load import load_parts
from xref.store.read.queries import resolve
from xref.store.tables.tables import part
from xref.store.upkeep.undo import actions, undo
from xref.store.write.unit import UnitOfWork

DERIVED = ("action", "change", "scan_block", "scan_plane", "boundary", "alembic_version")


def dump(path: Path) -> dict[str, list[tuple[object, ...]]]:
    """Every row of every table a person's facts stand in; zero tallies left out."""
    with sqlite3.connect(path) as conn:
        names = [n for (n,) in conn.execute("SELECT name FROM sqlite_master WHERE type = 'table'")]
        rows = {
            name: sorted(conn.execute(f"SELECT * FROM {name}").fetchall(), key=repr)
            for name in names
            if name not in DERIVED and not name.startswith("sqlite_")
        }
    conn.close()
    rows["store_info"] = [row for row in rows["store_info"] if row[0] != "seal"]
    rows["tally"] = [row for row in rows["tally"] if round(float(str(row[2])), 6)]
    return rows


Step = Callable[[UnitOfWork], object]

STEPS: dict[str, Step] = {
    "add": lambda u: parts.add(
        u, "QF-1", maker="Quillfeather", kind="bush", sizes={"bore": "20mm"}
    ),
    "add twin": lambda u: parts.add(u, "6204", kind="bearing"),
    "instead": lambda u: parts.change(u, "QF-1", order_instead="kit QF-77"),
    "change": lambda u: parts.change(u, "QF-1", words="bush, worn", sizes={"length": "30mm"}),
    "mark": lambda u: marking.add(u, "QF-1", "QF 7", "number"),
    "cast": lambda u: marking.add(u, "QF-2", "QF 8", "casting", "Dunmarrow"),
    "source": lambda u: sources.add(u, "Whimbrel Parts Book", "1951", "", ""),
    "machine": lambda u: machines.add(u, "QW 312", model="Whimbrel", serial="QW312"),
    "applies": lambda u: applying.applies(u, "QF-1", model="Whimbrel", serials="QW1-up"),
    "supersede": lambda u: supersede(u, "QF-1", ["QF-3", "QF-4"], kind="set"),
    "same": lambda u: interchange(u, "QF-1", "6304", grade="same"),
    "remove": lambda u: remove_part(u, "QF-1"),
}


def run(store: OpenStore, name: str) -> bool:
    """Run a step; False where it was refused, which leaves no action behind."""
    try:
        with store.store.writing(name) as unit:
            STEPS[name](unit)
            unit.commit()
    except XrefError:
        return False
    return True


def take_back(store: OpenStore) -> str:
    with store.store.writing("undo", watched=False) as unit:
        done = undo(unit)
        unit.commit()
    return done.command


@example(names=["add", "instead", "instead"])
@given(names=st.lists(st.sampled_from(sorted(STEPS)), min_size=1, max_size=7))
@settings(max_examples=25)
def test_taking_back_every_command_leaves_the_store_as_it_was(
    small: Path, tmp_path_factory: pytest.TempPathFactory, names: list[str]
) -> None:
    path = Path(shutil.copy(small, tmp_path_factory.mktemp("undo") / "s.xref"))
    with open_store(str(path)) as store:
        states = [dump(path)]
        done = []
        for name in names:
            if run(store, name):
                done.append(name)
                states.append(dump(path))
        kept = [a.command for a in actions(store.store.engine.connect())]
        changing = [n for n, was, now in zip(done, states, states[1:], strict=False) if was != now]
        assert kept == changing[::-1]
        for name in reversed(changing):
            assert take_back(store) == name
        assert dump(path) == states[0]
        with pytest.raises(NotFoundError, match="nothing to take back"):
            take_back(store)


def test_the_figures_are_right_after_an_undo(small: Path, tmp_path: Path) -> None:
    path = Path(shutil.copy(small, tmp_path / "s.xref"))
    with open_store(str(path)) as store:
        for name in ("add", "change", "same"):
            assert run(store, name)
        take_back(store)
        with store.store.reading() as conn:
            every = list(conn.scalars(select(part.c.id)))
            wanted = {k: v for k, v in tally_of(load_parts(conn, every)).items() if v}
            held = population(conn)
        assert held.weight == pytest.approx(
            sum(v for (what, _), v in wanted.items() if what == "pattern")
        )


def test_a_removed_part_is_found_again_by_its_mark_after_undo(small: Path, tmp_path: Path) -> None:
    path = Path(shutil.copy(small, tmp_path / "s.xref"))
    with open_store(str(path)) as store:
        with store.store.writing("add") as unit:
            parts.add(unit, "QZ-77123", maker="Quillfeather")
            unit.commit()
        with store.store.writing("remove") as unit:
            remove_part(unit, "QZ-77123")
            unit.commit()
        assert store.identify(mark=["QZ77123"]).verdict == "none"
        take_back(store)
        assert store.identify(mark=["QZ77123"]).candidates[0].part.number == "QZ-77123"


def test_the_history_of_a_part_names_what_touched_it(small: Path, tmp_path: Path) -> None:
    path = Path(shutil.copy(small, tmp_path / "s.xref"))
    with open_store(str(path)) as store:
        for name in ("add", "machine", "change", "mark"):
            assert run(store, name)
        with store.store.reading() as conn:
            ident = parts.show(conn, "QF-1").id
            told = actions(conn, ident)
    assert [a.command for a in told] == ["mark", "change", "add"]
    changed = [c for a in told if a.command == "change" for c in a.changes if c.table == "part"]
    assert changed[0].before is not None
    assert changed[0].after is not None
    assert (changed[0].before["words"], changed[0].after["words"]) == ("", "bush, worn")


def test_what_to_order_instead_is_one_row_however_high_the_parts_id(
    small: Path, tmp_path: Path
) -> None:
    path = Path(shutil.copy(small, tmp_path / "s.xref"))
    with open_store(str(path)) as store:
        assert run(store, "add")
        assert run(store, "instead")
        with store.store.reading() as conn:
            told = actions(conn)
            ident = resolve(conn, "QF-1").id
        assert ident > 1
        made = [(c.low, c.high) for c in told[0].changes if c.table == "ordering"]
        assert made == [(ident, ident)]


def test_an_undo_still_goes_after_the_tables_were_refreshed(small: Path, tmp_path: Path) -> None:
    path = Path(shutil.copy(small, tmp_path / "s.xref"))
    with open_store(str(path)) as store:
        steps: tuple[Step, ...] = (
            lambda unit: parts.add(unit, "QF-1", sizes={"bore": "20.123mm"}),
            lambda unit: parts.change(unit, "QF-1", sizes={"bore": "21mm"}),
        )
        for step in steps:
            with store.store.writing("part") as unit:
                step(unit)
                unit.commit()
        with store.store.writing("refresh", watched=False) as unit:
            refresh(unit.conn)
            unit.commit()
        take_back(store)
        with store.store.reading() as conn:
            assert parts.show(conn, "QF-1").sizes["bore"].value == 20_123_000
