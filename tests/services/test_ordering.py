"""What to ask for today: the number sold now, a standard size, and what the counter asks."""

from __future__ import annotations

from typing import Any

import pytest

from xref.domain.order import Order
from xref.services.bench import wanted as wanting
from xref.services.links.supersede import supersede
from xref.services.open import OpenStore
from xref.services.parts import part as parts


def add(opened: OpenStore, number: str, **words: Any) -> None:
    with opened.store.writing("part add") as unit:
        parts.add(unit, number, **words)
        unit.commit()


def follow(opened: OpenStore, old: str, *news: str, **words: Any) -> None:
    with opened.store.writing("supersede") as unit:
        supersede(unit, old, news, **words)
        unit.commit()


def asked(opened: OpenStore, number: str, **words: Any) -> Order:
    first = opened.identify(mark=[number], **words).candidates[0]
    assert number in {first.part.number, *first.scored.also}
    assert first.order is not None
    return first.order


def test_identify_carries_the_number_sold_now(whimbrel: OpenStore) -> None:
    order = asked(whimbrel, "QF-4471")
    assert (order.number, order.maker) == ("D 70-0142", "Dunmarrow")
    assert "D 70-0142, sold in place of QF-4471" in order.steps
    assert "change QF-4490 together with it" in order.steps


def test_a_part_in_no_chain_is_asked_for_by_its_own_number(whimbrel: OpenStore) -> None:
    assert asked(whimbrel, "QF-2890").number == "QF-2890"


def test_a_seal_of_mine_has_its_standard_size(whimbrel: OpenStore) -> None:
    order = asked(whimbrel, "QF-1420")
    assert "the standard size 35x52x7 has the same boundary dimensions" in order.steps


def test_a_part_that_is_a_standard_size_says_which(whimbrel: OpenStore) -> None:
    assert "it is the standard 6206" in asked(whimbrel, "QF-1421").steps


def test_several_standard_sizes_are_left_to_the_eye(bare: OpenStore) -> None:
    sizes = {"bore": "20mm", "outside": "47mm", "width": "14mm"}
    add(bare, "QF-6002", kind="bearing", sizes=sizes)
    (step,) = (s for s in asked(bare, "QF-6002").steps if "standard sizes" in s)
    assert "look which" in step
    assert "…" in step


def test_a_shear_pin_has_no_standard_size(whimbrel: OpenStore) -> None:
    assert not any("standard" in step for step in asked(whimbrel, "QF-0902").steps)


@pytest.mark.parametrize(
    ("number", "kind", "words", "sizes", "said"),
    [
        ("QF-1", "shaft seal", "", {}, "not known yet: lips, spring, case, rubber"),
        ("QF-1", "shaft seal", "oil seal FKM", {}, "rubber: FKM"),
        ("QF-1", "o-ring", "ring NBR 70", {}, "rubber: NBR; hardness: 70"),
        ("QF-1", "strip", "", {"hardness": "60"}, "say at the counter: hardness: 60"),
        ("QF-1", "strip", "", {"hardness": "60"}, "not known yet: rubber, length"),
        ("6204 2RS", "bearing", "", {}, "seals or shields: rubber contact seals, both sides"),
        ("6204 2RS", "bearing", "", {}, "not known yet: clearance, snap-ring groove, cage"),
        ("QF-1", "pin", "", {"length": "50mm"}, "length: 50 mm"),
        ("QF-1", "pin", "", {"length": "50mm"}, "not known yet: grade"),
        ("QF-1", "pin", "split pin", {}, "split pins are fitted new every time"),
        ("QF-1", "washer", "tab washer", {}, "tab washers are fitted new every time"),
        ("QF-1", "casting", "chain case, left", {}, "the left hand"),
        ("QF-1", "thread", "", {}, "not known yet: length, grade, hand of the thread"),
    ],
)
def test_the_counter_is_told_what_is_known_and_what_is_not(
    bare: OpenStore, number: str, kind: str, words: str, sizes: dict[str, str], said: str
) -> None:
    add(bare, number, maker="Quillfeather", kind=kind, words=words, sizes=sizes)
    order = next(
        c.order
        for c in bare.identify(mark=[number], kind=kind).candidates
        if c.part.maker == "Quillfeather" and c.order
    )
    assert any(said in step for step in order.steps)


def test_only_a_split_pin_is_fitted_new_every_time(whimbrel: OpenStore) -> None:
    assert not any("every time" in step for step in asked(whimbrel, "QF-0902").steps)


def test_cone_and_cup_are_a_pair(bare: OpenStore) -> None:
    assert "cone and cup are fitted as a pair" in asked(bare, "30206").steps


@pytest.mark.parametrize(
    ("kind", "said"), [("set", "all of these together"), ("choice", "any one of these will do")]
)
def test_sets_and_choices_are_told_apart(bare: OpenStore, kind: str, said: str) -> None:
    add(bare, "QF-1000")
    follow(bare, "QF-1000", "QF-2001", "QF-2002", kind=kind)
    assert said in asked(bare, "QF-1000").steps


def test_a_choice_between_a_set_and_one_number_names_both_ways(bare: OpenStore) -> None:
    add(bare, "QF-1000")
    follow(bare, "QF-1000", "QF-2001", "QF-2002", kind="choice")
    follow(bare, "QF-2001", "QF-3001", "QF-3002", kind="set", quantity=2)
    steps = asked(bare, "QF-1000").steps
    assert "either QF-3001 + QF-3002 or QF-2002" in steps
    assert "2 × QF-3001, sold in place of QF-1000" in steps


def test_what_is_discontinued_is_not_asked_for(bare: OpenStore) -> None:
    add(bare, "QF-1000")
    follow(bare, "QF-1000", "QF-2001")
    with bare.store.writing("part change") as unit:
        parts.change(unit, "QF-2001", status="discontinued")
        unit.commit()
    order = asked(bare, "QF-1000")
    assert order.number == "QF-1000"
    assert any("QF-2001 is discontinued" in step for step in order.steps)


def test_a_part_not_sold_separately_says_what_to_order(bare: OpenStore) -> None:
    add(bare, "QF-1000")
    with bare.store.writing("part change") as unit:
        parts.change(unit, "QF-1000", status="not-sold-separately", order_instead="kit QF-77")
        unit.commit()
    assert "QF-1000 is not sold separately: order kit QF-77" in asked(bare, "QF-1000").steps


def test_a_cycle_is_told_with_the_order(bare: OpenStore) -> None:
    add(bare, "QF-1000")
    follow(bare, "QF-1000", "QF-2001")
    follow(bare, "QF-2001", "QF-1000", record_anyway=True)
    assert any("circle" in step for step in asked(bare, "QF-1000").steps)


@pytest.mark.parametrize(
    ("words", "ask"),
    [({"kind": "set"}, "QF-7001 + QF-7002"), ({"kind": "choice"}, "QF-7001 or QF-7002")],
)
def test_a_set_is_asked_for_whole_and_a_choice_names_both(
    whimbrel: OpenStore, words: dict[str, str], ask: str
) -> None:
    add(whimbrel, "QF-7000", words="oil seal, gearbox input")
    follow(whimbrel, "QF-7000", "QF-7001", "QF-7002", **words)
    assert asked(whimbrel, "QF-7000").ask == ask
    with whimbrel.store.writing("wanted add") as unit:
        wanting.add(unit, "QF-7000")
        unit.commit()
    with whimbrel.store.reading() as conn:
        assert [line.ask for line in wanting.lines(conn)] == [ask]


@pytest.mark.parametrize(
    ("number", "never"),
    [
        ("L44649", "seals or shields"),
        ("30205", "snap-ring groove"),
        ("51105", "clearance"),
        ("22210", "snap-ring groove"),
    ],
)
def test_the_counter_is_not_told_to_ask_what_such_a_bearing_never_has(
    whimbrel: OpenStore, number: str, never: str
) -> None:
    (asked_for,) = (s for s in asked(whimbrel, number).steps if "counter may ask" in s)
    assert never not in asked_for
    assert "cage" in asked_for
