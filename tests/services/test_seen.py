"""What a check showed is given back: it counts as evidence, and it makes the answer surer."""

from __future__ import annotations

import math
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from xref.domain.nextcheck import Check, entropy
from xref.domain.part import Part
from xref.domain.size_names import SIZES
from xref.errors import InputError
from xref.services.identify.answer import Identified
from xref.services.open import OpenStore, open_store
from xref.services.parts import part as parts
from xref.services.parts.traits import shown
from xref.standards.check import sights

SAME_SIZES = {"bore": "20mm", "outside": "47mm", "width": "14mm"}
BENCH: dict[str, dict[str, Any]] = {
    "one size of many bearings": {"size": SAME_SIZES},
    "a thread": {"kind": "thread", "size": {"diameter": "9.5mm"}},
    "a thread with its pitch": {"kind": "thread", "size": {"diameter": "12.7mm", "pitch": "2mm"}},
    "a pin": {"kind": "pin", "size": {"diameter": "1/4in"}},
    "a bush": {"kind": "bush", "size": {"bore": "20mm", "outside": "23mm", "width": "20mm"}},
    "an o-ring": {"kind": "o-ring", "size": {"inside": "18.7mm", "section": "2.6mm"}},
    "a ring": {"kind": "retaining ring", "size": {"thickness": "1.2mm"}},
    "a lost character": {"mark": "62?5", "size": {"bore": "25mm"}},
    "a chain": {"kind": "chain", "size": {"pitch": "12.7mm"}},
    "of some kind": {"size": {"bore": "25mm", "outside": "28mm"}},
}

SLACK = 0.1
"""Bits by which a check may miss: what it says of things that no table holds is not foreseen."""


@pytest.fixture(scope="module")
def opened(seeded_path: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[OpenStore]:
    path = shutil.copy(seeded_path, tmp_path_factory.mktemp("seen") / "s.xref")
    with open_store(str(path)) as store:
        yield store


def uncertain(answer: Identified) -> float:
    """The entropy in bits over what is printed, the others as one, and none of these."""
    odds = [c.probability for c in answer.candidates]
    return entropy([*odds, answer.others_probability, answer.none_of_these])


def would_answer(part: Part | None, check: Check, kind: str) -> dict[str, float]:
    """How likely each answer is of a part, None for one that is in no table.

    It is what its record says; else what is usual on its kind; else a size of its own.
    """
    said = [o.answer for o in check.outcomes if part and part.number in o.then]
    if said:
        return dict.fromkeys(said, 1 / len(said))
    usual = {word: sight.share for word, sight in sights(check.key, kind).items()}
    if usual:
        return usual
    if check.key in SIZES:
        return {"3.3333mm": 1.0}
    words = [o.answer for o in check.outcomes]
    return dict.fromkeys(words, 1 / len(words))


@pytest.mark.parametrize("given", BENCH.values(), ids=BENCH)
def test_an_answer_makes_it_surer_in_the_mean_over_what_it_may_be(
    opened: OpenStore, given: dict[str, Any]
) -> None:
    """The truth is drawn by the odds, none of these too, and answers by what it shows."""
    before = opened.identify(**given, limit=60)
    assert before.next_check
    for check in before.next_check:
        things: list[tuple[Part | None, float]] = [(None, before.none_of_these)]
        things += [(c.part, c.probability) for c in before.candidates if c.probability >= 0.002]
        kind = before.candidates[0].part.kind
        chance: dict[str, float] = {}
        for part, odds in things:
            for word, share in would_answer(part, check, part.kind if part else kind).items():
                chance[word] = chance.get(word, 0.0) + odds * share
        after = math.fsum(
            weight * uncertain(opened.identify(**given, seen={check.key: word}, limit=60))
            for word, weight in chance.items()
        )
        assert after / math.fsum(chance.values()) < uncertain(before) + SLACK, check


@pytest.mark.parametrize("given", BENCH.values(), ids=BENCH)
def test_a_session_ends_and_never_asks_the_same_again(
    opened: OpenStore, given: dict[str, Any]
) -> None:
    first = opened.identify(**given, limit=60)
    truth = first.candidates[0]
    seen: dict[str, str] = {}
    answer = first
    for _ in range(24):
        if not answer.next_check:
            break
        check = answer.next_check[0]
        assert check.key not in seen
        ways = would_answer(truth.part, check, truth.part.kind)
        seen[check.key] = max(ways, key=lambda word: ways[word])
        answer = opened.identify(**given, seen=seen, limit=60)
    assert not answer.next_check
    assert truth.part.number in {c.part.number for c in answer.candidates[:5]}


def test_what_was_seen_is_evidence_that_adds_up(opened: OpenStore) -> None:
    seen = {"rolls": "rollers", "rings": "inner-both"}
    answer = opened.identify(size=SAME_SIZES, seen=seen)
    best = answer.candidates[0]
    assert best.part.number == "NU204"
    items = {e.about: e for e in best.scored.evidence if e.about.startswith("seen")}
    assert items.keys() == {"seen: rolls", "seen: rings"}
    assert all(0.1 <= e.bits <= 4 for e in items.values())
    against = next(c for c in answer.candidates if c.part.number == "6204")
    assert [e.bits for e in against.scored.evidence if e.about == "seen: rolls"] == [-6.0]
    assert answer.to_json()["query"]["seen"] == seen
    document = best.to_json()
    bits = document["start_bits"] + math.fsum(e["bits"] for e in document["evidence"])
    assert bits == pytest.approx(document["total_bits"])


def test_a_part_that_does_not_say_is_left_as_it_was(seeded_path: Path, tmp_path: Path) -> None:
    with open_store(str(shutil.copy(seeded_path, tmp_path / "n.xref"))) as store:
        with store.store.writing("part add") as unit:
            sizes: dict[str, str] = dict(SAME_SIZES)
            parts.add(unit, "QF 771", kind="bearing", sizes=sizes)
            unit.commit()
        plain = store.identify(size=SAME_SIZES)
        asked = store.identify(size=SAME_SIZES, seen={"rolls": "needles"})
    (before,) = (c for c in plain.candidates if c.part.number == "QF 771")
    (after,) = (c for c in asked.candidates if c.part.number == "QF 771")
    assert before.scored.total_bits == after.scored.total_bits
    assert "rolls" in after.scored.not_compared
    assert after.probability > before.probability


def test_a_thing_of_a_kind_that_shows_nothing_of_the_sort_is_spoken_against(
    opened: OpenStore,
) -> None:
    answer = opened.identify(size={"bore": "25mm"}, seen={"flank": "55"}, limit=200)
    told = [e for c in answer.candidates for e in c.scored.evidence if e.about == "seen: flank"]
    assert told
    assert all(e.bits == -6.0 and "nothing of the sort" in e.reason for e in told)


@pytest.mark.parametrize("key", ["rolls", "rings", "mark1-3", "width", "kind"])
def test_what_cannot_be_told_is_never_asked(opened: OpenStore, key: str) -> None:
    given: dict[str, Any] = {"mark": "62?5", "size": {"bore": "25mm"}}
    answer = opened.identify(**given, cannot=[key])
    assert key not in [check.key for check in answer.next_check]
    assert answer.to_json()["query"]["cannot"] == [key]


def test_a_character_read_once_more_stands_in_the_mark(opened: OpenStore) -> None:
    answer = opened.identify(mark=["62?5"], seen={"mark1-3": "0"})
    assert answer.to_json()["query"]["marks"] == ["6205"]
    assert answer.candidates[0].part.number == "6205"


def test_a_stamp_read_once_more_stands_for_the_first_reading(opened: OpenStore) -> None:
    given: dict[str, Any] = {"mark": ["6305"], "size": SAME_SIZES}
    (again,) = (c for c in opened.identify(**given).next_check if c.key == "mark1")
    assert "6204" in {o.answer for o in again.outcomes}
    answer = opened.identify(**given, seen={"mark1": "6204"})
    assert answer.candidates[0].part.number == "6204"
    assert answer.verdict == "one"


def test_a_size_and_a_kind_may_be_given_back_as_answers(opened: OpenStore) -> None:
    one = opened.identify(size={"bore": "20mm"}, seen={"outside": "47mm", "kind": "bearing"})
    other = opened.identify(size={"bore": "20mm", "outside": "47mm"}, kind="bearing")
    assert [c.probability for c in one.candidates] == [c.probability for c in other.candidates]


@pytest.mark.parametrize(
    ("seen", "said", "hint"),
    [
        ({"colour": "red"}, 'no check is called "colour"', "rolls, "),
        ({"rolls": "blue"}, 'rolls is not answered by "blue"', "balls, rollers, needles, nothing"),
        ({"rows": "9"}, 'rows is not answered by "9"', "one, two"),
        ({"mark1-9": "3"}, "mark 1 has 4 characters, and no 9", "62?5"),
        ({"mark1-3": "35"}, '"35" is not one character', "mark1-3=3"),
        ({"mark2": "6205"}, "there is no mark 2", "--mark"),
        ({"bore": "25mm"}, "the size bore is given twice", "Leave one"),
        ({"rolls": "balls", "Rolls": "needles"}, "the check rolls is answered twice", "Leave one"),
    ],
)
def test_an_answer_that_means_nothing_is_refused_with_those_that_do(
    opened: OpenStore, seen: dict[str, str], said: str, hint: str
) -> None:
    with pytest.raises(InputError) as refused:
        opened.identify(mark=["62?5"], size={"bore": "25mm"}, seen=seen)
    assert said in str(refused.value)
    assert hint in refused.value.hint


@pytest.mark.parametrize(
    ("key", "typed", "taken"),
    [
        ("flank", "47½", "47.5"),
        ("flank", "55°", "55"),
        ("taper", "1:12", "1-12"),
        ("rows", "2", "two"),
        ("rings", "Inner both", "inner-both"),
        ("rolls", "ball", "balls"),
    ],
)
def test_an_answer_is_taken_as_one_writes_it(
    opened: OpenStore, key: str, typed: str, taken: str
) -> None:
    answer = opened.identify(size=SAME_SIZES, seen={key: typed})
    assert answer.query.seen == {key: taken}


@pytest.mark.parametrize(
    ("number", "check", "shows"),
    [
        ("6204-2Z", "closure", ("shields",)),
        ("6204-2RS", "closure", ("seals",)),
        ("6204-RS", "closure", ("seal-one",)),
        ("6204-NR", "outer-ring", ("groove",)),
        ("1204-K", "taper", ("1-12",)),
    ],
)
def test_a_suffix_says_what_shows(
    seeded_path: Path, tmp_path: Path, number: str, check: str, shows: tuple[str, ...]
) -> None:
    with open_store(str(shutil.copy(seeded_path, tmp_path / "x.xref"))) as store:
        with store.store.writing("part add") as unit:
            parts.add(unit, number, kind="bearing")
            unit.commit()
        answer = store.identify(mark=[number])
    (held,) = (c.part for c in answer.candidates if c.part.number == number)
    assert shown(held)[check] == shows
