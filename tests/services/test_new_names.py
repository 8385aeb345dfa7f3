"""Names of models, components and sources that were not on record: made, said, and what is near."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from xref.services.links import applies as applying
from xref.services.links import machine as machines
from xref.services.open import OpenStore
from xref.store.read.near_names import MOST_NEAR, near_names
from xref.store.write.unit import UnitOfWork


def news(opened: OpenStore, step: Callable[[UnitOfWork], Any]) -> list[tuple[str, str, Any]]:
    with opened.store.writing("step") as unit:
        step(unit)
        unit.commit()
        return [(n.what, n.name, n.near) for n in unit.news]


def test_a_mistyped_model_is_said_to_be_new_beside_what_is_near(whimbrel: OpenStore) -> None:
    found = news(whimbrel, lambda u: applying.applies(u, "QF-2214", model="Wimbrel"))
    assert found == [("model", "Wimbrel", ("Whimbrel",))]
    assert news(whimbrel, lambda u: applying.applies(u, "QF-2214", model="whimbrel")) == []


def test_a_component_that_nothing_counts_by_is_new_and_a_common_one_is_not(bare: OpenStore) -> None:
    def step(component: str) -> Callable[[UnitOfWork], Any]:
        return lambda u: applying.applies(
            u, "QF-1", model="Dotterel", serials="5-9", component=component
        )

    assert news(bare, step("gearbox")) == [("model", "Dotterel", ())]
    assert news(bare, step("gearbocks")) == [("component", "gearbocks", ("gearbox",))]
    assert news(bare, step("gearbocks")) == []


def test_a_machine_of_a_new_model_says_so(whimbrel: OpenStore) -> None:
    found = news(whimbrel, lambda u: machines.add(u, "QW 9", model="Whimbrell", serial="QW9"))
    assert found == [("model", "Whimbrell", ("Whimbrel",))]


def test_a_source_that_is_not_there_is_made_and_its_like_is_named(whimbrel: OpenStore) -> None:
    title = "Whimbrel Parts Bok 1951"
    found = news(whimbrel, lambda u: applying.applies(u, "QF-2214", model="Whimbrel", source=title))
    assert found == [("source", title, ("Whimbrel Parts Book 1951",))]


@pytest.mark.parametrize(
    ("name", "near"),
    [
        ("Parts Book Whimbrel 1951", ("Whimbrel Parts Book 1951",)),
        ("WHIMBERL", ("Whimbrel",)),
        ("Garganey", ()),
        ("W", ()),
    ],
)
def test_near_is_what_a_slip_of_the_hand_or_another_order_of_words_makes(
    name: str, near: tuple[str, ...]
) -> None:
    assert near_names(name, ["Whimbrel", "Dotterel", "Whimbrel Parts Book 1951"]) == near


@given(st.text(max_size=12), st.lists(st.text(max_size=12), max_size=6))
def test_any_text_has_at_most_three_near_names_all_on_record(name: str, known: list[str]) -> None:
    near = near_names(name, known)
    assert len(near) <= MOST_NEAR
    assert set(near) <= set(known)
