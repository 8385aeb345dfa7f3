"""One named action is taken back among others, or refused with those that stand in the way."""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from sqlalchemy import select

from tests.store.test_store_history import STEPS, dump, run
from xref.errors import InputError, NotFoundError
from xref.services.links import applies as applying
from xref.services.links.supersede import supersede
from xref.services.open import OpenStore, open_store
from xref.services.parts import part as parts
from xref.services.parts import source as sources
from xref.services.upkeep import check as checking
from xref.store.read.links import applicabilities
from xref.store.read.queries import resolve
from xref.store.tables.links import model
from xref.store.upkeep.undo import Action, actions, undo

ALONG = ("maker", "model", "source")


@pytest.fixture
def opened(small: Path, tmp_path: Path) -> Iterator[OpenStore]:
    with open_store(str(shutil.copy(small, tmp_path / "s.xref"))) as store:
        yield store


def take_back(store: OpenStore, number: int | None = None) -> Action:
    with store.store.writing("undo", watched=False) as unit:
        done = undo(unit, number)
        unit.commit()
    return done


def numbers(store: OpenStore) -> dict[str, int]:
    """The number of the last action of each command."""
    with store.store.reading() as conn:
        return {a.command: a.id for a in reversed(actions(conn))}


def test_an_action_among_others_is_taken_back_and_the_others_stay(opened: OpenStore) -> None:
    for name in ("add", "source", "applies", "machine"):
        assert run(opened, name)
    done = take_back(opened, numbers(opened)["applies"])
    assert (done.command, done.undone) == ("applies", True)
    with opened.store.reading() as conn:
        part = resolve(conn, "QF-1")
        assert applicabilities(conn, [part.id]) == []
        assert [row[1] for row in sources.every(conn)] == ["Whimbrel Parts Book"]


def test_what_later_actions_touch_is_not_taken_back_and_they_are_named(opened: OpenStore) -> None:
    for name in ("add", "change", "source", "applies"):
        assert run(opened, name)
    ids = numbers(opened)
    with pytest.raises(InputError) as refused:
        take_back(opened, ids["add"])
    assert f"{ids['change']} (change)" in refused.value.message
    assert f"{ids['applies']} (applies)" in refused.value.message
    assert "(source)" not in refused.value.message
    assert f"xref undo {ids['applies']}" in refused.value.hint
    for name in ("applies", "change", "add"):
        assert take_back(opened, ids[name]).command == name
    with opened.store.reading() as conn, pytest.raises(NotFoundError):
        resolve(conn, "QF-1")


def test_a_model_that_later_ranges_name_stays_when_the_range_that_made_it_goes(
    opened: OpenStore,
) -> None:
    for number in ("QF-1", "QF-2"):
        with opened.store.writing(number) as unit:
            applying.applies(unit, number, model="Garganey", serials="1-9")
            unit.commit()
    take_back(opened, numbers(opened)["QF-1"])
    with opened.store.reading() as conn:
        assert list(conn.scalars(select(model.c.name))) == ["Garganey"]
        part = resolve(conn, "QF-2")
        assert [a.model for a in applicabilities(conn, [part.id])] == ["Garganey"]
        with pytest.raises(NotFoundError):
            resolve(conn, "QF-1")


def test_a_source_that_was_only_added_is_not_taken_back_under_its_facts(opened: OpenStore) -> None:
    assert run(opened, "source")
    with opened.store.writing("applies") as unit:
        applying.applies(unit, "QF-1", model="Whimbrel", source="Whimbrel Parts Book 1951")
        unit.commit()
    with pytest.raises(InputError, match=r"\(applies\)"):
        take_back(opened, numbers(opened)["source"])


def test_a_removal_is_not_taken_back_where_the_number_is_had_again(opened: OpenStore) -> None:
    for name in ("add", "remove"):
        assert run(opened, name)
    with opened.store.writing("added again") as unit:
        sources.add(unit, "Dunmarrow Price List", "", "", "")
        parts.add(unit, "QF-9", maker="Quillfeather")
        parts.add(unit, "QF-1", maker="Quillfeather")
        unit.commit()
    with pytest.raises(InputError, match=r"\(added again\)"):
        take_back(opened, numbers(opened)["remove"])


def test_what_was_taken_back_or_never_was_is_not_taken_back(opened: OpenStore) -> None:
    with opened.store.writing("chain") as unit:
        supersede(unit, "QF-1", ["QF-2"])
        unit.commit()
    take_back(opened)
    with pytest.raises(InputError, match="was taken back already"):
        take_back(opened, 1)
    with pytest.raises(NotFoundError, match="no action is 77"):
        take_back(opened, 77)


@example(names=["add", "applies", "remove", "applies"], which=1)
@example(names=["supersede", "same", "add twin", "cast"], which=0)
@given(
    names=st.lists(st.sampled_from(sorted(STEPS)), min_size=1, max_size=6), which=st.integers(0, 6)
)
@settings(max_examples=6)
def test_after_any_one_is_taken_back_the_store_is_in_order_and_all_the_rest_goes_too(
    small: Path, tmp_path_factory: pytest.TempPathFactory, names: list[str], which: int
) -> None:
    path = Path(shutil.copy(small, tmp_path_factory.mktemp("one") / "s.xref"))
    with open_store(str(path)) as store:
        first = dump(path)
        for name in ("add", *names):
            run(store, name)
        with store.store.reading() as conn:
            every = actions(conn)
        number = every[which % len(every)].id
        try:
            take_back(store, number)
        except InputError as refused:
            later = [int(n) for n in re.findall(r"(\d+) \(", refused.message.partition(":")[2])]
            assert later
            assert min(later) > number
        with store.store.reading() as conn:
            assert checking.check(conn, str(path)) == []
        while any(not a.undone for a in _all(store)):
            take_back(store)
        last = dump(path)
        assert {n: r for n, r in last.items() if n not in ALONG} == {
            n: r for n, r in first.items() if n not in ALONG
        }


def _all(store: OpenStore) -> list[Action]:
    with store.store.reading() as conn:
        return actions(conn)
