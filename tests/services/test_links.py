"""Supersession in a real store: recorded, followed, refused, and resolved by a machine's serial."""

from __future__ import annotations

import random
from typing import Any

import pytest
from sqlalchemy import select

from xref.errors import InputError, NotFoundError
from xref.services.fit.order import order
from xref.services.links import machine as machines
from xref.services.links.supersede import Recorded, supersede
from xref.services.links.trace import Traced
from xref.services.open import OpenStore
from xref.services.parts import part as parts
from xref.store.read.links import steps_backward, steps_forward
from xref.store.read.queries import resolve
from xref.store.tables.links import supersession, supersession_part
from xref.store.tables.tables import part


def record(opened: OpenStore, old: str, *news: str, **words: Any) -> Recorded:
    with opened.store.writing("supersede") as unit:
        done = supersede(unit, old, news, **words)
        unit.commit()
    return done


def add(opened: OpenStore, *numbers: str) -> dict[str, int]:
    with opened.store.writing("part add") as unit:
        ids = {number: parts.add(unit, number).id for number in numbers}
        unit.commit()
    return ids


def change(opened: OpenStore, number: str, **words: Any) -> None:
    with opened.store.writing("part change") as unit:
        parts.change(unit, number, **words)
        unit.commit()


def machine(opened: OpenStore, name: str, serial: str, **words: Any) -> None:
    with opened.store.writing("machine add") as unit:
        machines.add(unit, name, model="Whimbrel", serial=serial, **words)
        unit.commit()


def sold(traced: Traced) -> dict[str, float]:
    return {end.part.number: end.quantity for end in traced.current}


def found(traced: Traced) -> list[str]:
    return [f.kind for f in traced.findings]


def test_a_set_with_quantities_is_followed_to_all_that_is_sold(bare: OpenStore) -> None:
    add(bare, "A", "B", "C", "D")
    record(bare, "A", "B", "C", kind="set", quantity=2)
    record(bare, "B", "D", quantity=3)
    traced = bare.trace("A")
    assert sold(traced) == {"D": 6.0, "C": 2.0}
    assert found(traced) == []
    told = traced.to_json()
    assert [end["via"] for end in told["current"] if end["number"] == "D"] == [["A", "B", "D"]]
    promised = {"number", "maker", "current", "later", "earlier", "findings", "cautions"}
    assert set(told) == promised


def test_backward_tells_what_a_number_replaced(bare: OpenStore) -> None:
    add(bare, "A", "B", "C")
    record(bare, "A", "B")
    record(bare, "B", "C", serves_back=True)
    told = bare.trace("C").to_json()
    assert [(s["old"], s["new"][0]["number"]) for s in told["earlier"]] == [("B", "C"), ("A", "B")]
    assert [s["serves_back"] for s in told["earlier"]] == [True, False]
    assert told["later"] == []


def test_a_cycle_is_refused_with_its_path_and_nothing_is_written(bare: OpenStore) -> None:
    add(bare, "A", "B", "C")
    record(bare, "A", "B")
    record(bare, "B", "C")
    with pytest.raises(InputError, match="would close a cycle") as refused:
        record(bare, "C", "A")
    assert "C → A → B → C" in str(refused.value)
    assert "--record-anyway" in refused.value.hint
    assert sold(bare.trace("A")) == {"C": 1.0}


def test_a_cycle_that_the_book_really_has_is_recorded_and_found(bare: OpenStore) -> None:
    add(bare, "A", "B")
    record(bare, "A", "B")
    done = record(bare, "B", "A", record_anyway=True)
    assert done.cycle == ("B", "A", "B")
    traced = bare.trace("A")
    assert traced.current == ()
    assert "cycle" in found(traced)
    assert "A → B → A" in traced.findings[0].message


def test_a_number_cannot_supersede_itself(bare: OpenStore) -> None:
    add(bare, "A")
    with pytest.raises(InputError, match="cannot supersede itself"):
        record(bare, "A", "a")


@pytest.mark.parametrize(
    ("words", "said"),
    [({"kind": ""}, "--as"), ({"kind": "one"}, "--as"), ({"kind": "some"}, "one, set, choice")],
)
def test_several_new_numbers_must_say_whether_all_or_any(
    bare: OpenStore, words: dict[str, str], said: str
) -> None:
    with pytest.raises(InputError) as refused:
        record(bare, "A", "B", "C", **words)
    assert said in refused.value.hint


@pytest.mark.parametrize("quantity", [0.0, -1.0, float("nan"), float("inf"), 1e9])
def test_a_quantity_that_is_none_is_refused(bare: OpenStore, quantity: float) -> None:
    with pytest.raises(InputError, match="no quantity"):
        record(bare, "A", "B", quantity=quantity)


def test_a_number_that_is_not_there_is_mentioned_only_under_the_other_sides_maker(
    whimbrel: OpenStore,
) -> None:
    done = record(whimbrel, "QF-0881", "QF-9001")
    assert done.made == ("QF-9001",)
    assert done.news[0].maker == "Quillfeather"
    traced = whimbrel.trace("QF-0881")
    assert traced.current[0].part.status == "mentioned"
    assert found(traced) == ["unknown number"]


def test_a_reading_command_makes_no_number(whimbrel: OpenStore) -> None:
    with pytest.raises(NotFoundError) as missing:
        whimbrel.trace("QF-4479")
    assert "QF-447" in missing.value.hint


@pytest.mark.parametrize(
    ("status", "note", "kinds"),
    [
        ("discontinued", "is discontinued", ["dead end"]),
        ("not-sold-separately", "order kit QF-77", []),
        ("buy-to-size", "is bought to size", []),
        ("make-to-drawing", "is made to drawing", []),
        ("superseded", "by what is not on record", ["dead end"]),
    ],
)
def test_a_chain_ends_as_the_last_numbers_status_says(
    bare: OpenStore, status: str, note: str, kinds: list[str]
) -> None:
    add(bare, "A", "B")
    record(bare, "A", "B")
    change(bare, "B", status=status, order_instead="kit QF-77")
    traced = bare.trace("A")
    assert note in traced.current[0].note
    assert found(traced) == kinds
    assert traced.to_json()["current"][0]["status"] == status
    with bare.store.reading() as conn:
        steps = order(conn, resolve(conn, "A")).steps
    assert any(note in step for step in steps)


def test_companions_are_to_be_changed_together_with_it(whimbrel: OpenStore) -> None:
    told = whimbrel.trace("QF-4471").to_json()
    assert told["later"][0]["with"] == ["QF-4490"]
    with whimbrel.store.reading() as conn:
        steps = order(conn, resolve(conn, "QF-4471")).steps
    assert "change QF-4490 together with it" in steps


def branches(opened: OpenStore) -> None:
    add(opened, "A", "B", "C")
    machine(opened, "QW 312", "QW312", prefixes=["QW"])
    machine(opened, "QW 400", "QW400")
    record(opened, "A", "B", serials="to 349", model="Whimbrel")
    record(opened, "A", "C", serials="350", model="Whimbrel")


@pytest.mark.parametrize(("name", "number"), [("QW 312", "B"), ("QW 400", "C")])
def test_a_machine_resolves_branches_by_serial(bare: OpenStore, name: str, number: str) -> None:
    branches(bare)
    traced = bare.trace("A", machine=name)
    assert sold(traced) == {number: 1.0}
    assert "fork" not in found(traced)


def test_without_a_machine_branches_by_serial_are_said_to_hang_on_it(bare: OpenStore) -> None:
    branches(bare)
    traced = bare.trace("A")
    assert sold(traced) == {"B": 1.0, "C": 1.0}
    messages = [f.message for f in traced.findings if f.kind == "fork"]
    assert messages == [
        "A became B only for serials to QW349: name a machine to know",
        "A became C only for serials QW350-up: name a machine to know",
    ]


def test_a_number_superseded_only_from_a_serial_stays_current_below_it(bare: OpenStore) -> None:
    add(bare, "A", "B")
    machine(bare, "QW 312", "QW312", prefixes=["QW"])
    record(bare, "A", "B", serials="350", model="Whimbrel")
    traced = bare.trace("A", machine="QW 312")
    assert sold(traced) == {"A": 1.0}
    assert traced.current[0].part.status == "current"


def test_a_step_of_another_model_does_not_hold(bare: OpenStore) -> None:
    add(bare, "A", "B")
    machine(bare, "QW 312", "QW312")
    record(bare, "A", "B", model="Dotterel")
    assert sold(bare.trace("A", machine="QW 312")) == {"A": 1.0}


def test_conflicting_sources_are_both_kept_and_told(whimbrel: OpenStore) -> None:
    record(whimbrel, "QF-3306", "QF-3307", source="Whimbrel Service Letters")
    record(whimbrel, "QF-3306", "QF-3308", source="Dunmarrow Price List")
    traced = whimbrel.trace("QF-3306")
    assert set(sold(traced)) == {"QF-3307", "QF-3308"}
    assert "conflict" in found(traced)
    assert len(traced.later) == 2


def test_two_hundred_new_numbers_at_once_are_followed(bare: OpenStore) -> None:
    news = [f"N{i}" for i in range(200)]
    add(bare, "A", *news)
    record(bare, "A", *news, kind="set")
    assert set(sold(bare.trace("A"))) == set(news)
    with pytest.raises(InputError, match="the most is 200"):
        record(bare, "Z", *(f"M{i}" for i in range(201)), kind="set")


def test_ten_thousand_steps_are_followed_in_a_store(bare: OpenStore) -> None:
    """The steps between run over the standards' rows, which are there in their thousands."""
    ends = add(bare, "A", "Z")
    with bare.store.writing("chain") as unit:
        between = select(part.c.id).where(part.c.origin == "standard").limit(9_999)
        ids = [ends["A"], *unit.conn.scalars(between), ends["Z"]]
        assert len(ids) == 10_001
        steps = [{"id": n, "old_id": old, "kind": "one"} for n, old in enumerate(ids[:-1], 1)]
        news = [
            {"supersession_id": n, "part_id": i, "role": "new"} for n, i in enumerate(ids[1:], 1)
        ]
        unit.conn.execute(supersession.insert(), steps)
        unit.conn.execute(supersession_part.insert(), news)
        unit.commit()
    traced = bare.trace("A")
    assert sold(traced) == {"Z": 1.0}
    assert len(traced.later) == 10_000
    assert len(bare.trace("Z").earlier) == 10_000
    with pytest.raises(InputError, match="would close a cycle"):
        record(bare, "Z", "A")


@pytest.mark.parametrize("seed", range(4))
def test_the_store_reaches_every_step_and_no_other(bare: OpenStore, seed: int) -> None:
    draw = random.Random(seed)
    names = [f"P{n}" for n in range(12)]
    ids = add(bare, *names)
    edges: set[tuple[str, str]] = set()
    for _ in range(14):
        old, new = draw.sample(names, 2)
        record(bare, old, new, record_anyway=True)
        edges.add((old, new))
    start = draw.choice(names)
    ahead, behind = {start}, {start}
    for _ in names:
        ahead |= {new for old, new in edges if old in ahead}
        behind |= {old for old, new in edges if new in behind}
    by_id = {ident: name for name, ident in ids.items()}
    with bare.store.reading() as conn:
        forth = steps_forward(conn, [ids[start]])
        back = steps_backward(conn, [ids[start]])
    told = {(by_id[s.old], by_id[n]) for held in forth.values() for s in held for n, _ in s.news}
    assert told == {(old, new) for old, new in edges if old in ahead}
    told = {(by_id[s.old], by_id[n]) for held in back.values() for s in held for n, _ in s.news}
    assert {(old, new) for old, new in edges if new in behind} <= told
