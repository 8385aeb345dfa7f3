"""The account of a reading, character by character."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from xref.domain.alignment import Step, align, faults, lines
from xref.domain.channel import Reading, Tails, distance, prepare
from xref.domain.confusion import FaultCosts, nats, pair_costs
from xref.domain.mark import Mark, Sign, read_mark, upside_down

COSTS = FaultCosts(
    pairs=pair_costs(
        {"char_a": a, "char_b": b, "cost_nats": "4.2"} for a, b in ("0O", "8B", "38", "5S")
    )
)
TAILS = Tails({"2RS": 0.25, "C3": 0.125}, 0.76)

CHARS = "0O38B"
SIGNS = st.lists(
    st.one_of(
        st.builds(Sign, st.sampled_from(CHARS)),
        st.sampled_from([Sign(""), Sign("", lost=True), Sign("38"), Sign("0OB")]),
    ),
    max_size=6,
).map(tuple)
NUMBER = st.text(CHARS, max_size=6)


def _prepared(mark: Mark) -> Reading:
    return prepare(mark, COSTS, TAILS, [3.0 if sign.legible else 0.0 for sign in mark.signs])


def _account(text: str, number: str, takes_suffix: bool = False) -> tuple[Step, ...]:
    return align(_prepared(read_mark(text)), number, takes_suffix)


@given(SIGNS, NUMBER, st.booleans())
def test_the_steps_add_up_to_the_distance(
    signs: tuple[Sign, ...], number: str, takes_suffix: bool
) -> None:
    reading = _prepared(Mark("", signs))
    steps = align(reading, number, takes_suffix)
    whole = math.fsum(step.cost for step in steps)
    assert whole == pytest.approx(distance(reading, number, takes_suffix), abs=1e-6)
    assert all(step.cost >= 0.0 for step in steps)


@given(SIGNS, NUMBER, st.booleans())
def test_the_steps_spell_the_number_and_what_was_read(
    signs: tuple[Sign, ...], number: str, takes_suffix: bool
) -> None:
    steps = align(_prepared(Mark("", signs)), number, takes_suffix)
    assert "".join(step.true for step in steps if not step.true.startswith("(")) == number
    read = "".join(step.read for step in steps).replace("*", "")
    assert read == "".join(str(sign) for sign in signs if not sign.lost)


def test_turning_over_is_paid_for_by_the_distance_and_not_by_a_step() -> None:
    over = upside_down(read_mark("6008"))
    assert over is not None
    reading = _prepared(over)
    assert math.fsum(step.cost for step in align(reading, "8009")) == 0.0
    assert distance(reading, "8009") > 0.0


@pytest.mark.parametrize(
    ("text", "number", "steps"),
    [
        ("62", "62", [("6", "6", 0.0), ("2", "2", 0.0)]),
        ("6O", "60", [("6", "6", 0.0), ("0", "O", 4.2)]),
        ("6?", "62", [("6", "6", 0.0), ("2", "?", 0.0)]),
        ("6[38]", "63", [("6", "6", 0.0), ("3", "[38]", 0.0)]),
        ("6*", "623", [("6", "6", 0.0), ("2", "*", 0.0), ("3", "*", 0.0)]),
        ("624", "6204", [("6", "6", 0), ("2", "2", 0), ("0", "", 4.2), ("4", "4", 0)]),
        ("6?24", "624", [("6", "6", 0), ("", "?", 4.2), ("2", "2", 0), ("4", "4", 0)]),
        ("2604", "6204", [("62", "26", 3.8), ("0", "0", 0.0), ("4", "4", 0.0)]),
        ("04", "6204", [("62", "", 4.8), ("0", "0", 0.0), ("4", "4", 0.0)]),
        ("62", "6204", [("6", "6", 0.0), ("2", "2", 0.0), ("04", "", 4.8)]),
    ],
)
def test_the_cheapest_account_is_told(
    text: str, number: str, steps: list[tuple[str, str, float]]
) -> None:
    told = _account(text, number)
    assert [(s.true, s.read) for s in told] == [(true, read) for true, read, _ in steps]
    assert [s.cost for s in told] == pytest.approx([cost for _, _, cost in steps])


@pytest.mark.parametrize(
    ("text", "number", "words"),
    [
        ("6204", "6204", ""),
        ("6?*4", "6204", ""),
        ("62O4", "6204", "0 read as O"),
        ("2604", "6204", "62 read as 26"),
        ("624", "6204", "0 not seen"),
        ("62104", "6204", "1 read where nothing is"),
        ("620", "6204", "4 not seen"),
        ("6204 2RS", "6204", "2RS after it read as the suffix 2RS"),
        ("62O4 2R5", "6204", "0 read as O, 2R5 after it read as the suffix 2RS"),
        ("6204 7", "6204", "7 after it is not understood"),
    ],
)
def test_faults_are_told_in_plain_words(text: str, number: str, words: str) -> None:
    assert faults(_account(text, number, takes_suffix=True)) == words


def test_a_suffix_is_one_step_with_its_price() -> None:
    last = _account("6204 2RS", "6204", takes_suffix=True)[-1]
    assert (last.true, last.read) == ("(2RS)", "2RS")
    assert last.cost == pytest.approx(nats(2.0) / TAILS.scale)


def test_three_lines_stand_under_each_other() -> None:
    assert lines(_account("62O4", "6204")) == ("6 2 0 4", "6 2 O 4", "    ^")
    assert lines(_account("624", "6204")) == ("6 2 0 4", "6 2 · 4", "    ^")
    assert lines(_account("62104", "6204")) == ("6 2 · 0 4", "6 2 1 0 4", "    ^")


@given(SIGNS, NUMBER)
def test_the_lines_are_aligned_whatever_is_read(signs: tuple[Sign, ...], number: str) -> None:
    steps = align(_prepared(Mark("", signs)), number)
    top, below, under = lines(steps)
    assert len(top) == len(below) >= len(under)
    assert under.count("^") == sum(step.cost > 0.0 for step in steps)


@given(SIGNS, NUMBER)
def test_a_step_of_two_characters_is_a_real_swap(signs: tuple[Sign, ...], number: str) -> None:
    for step in align(_prepared(Mark("", signs)), number):
        if step.cost == COSTS.transposition and len(step.true) == 2 and step.read:
            at = next(j for j in range(len(signs) - 1) if f"{signs[j]}{signs[j + 1]}" == step.read)
            assert step.true[1] in (signs[at].chars or CHARS)
            assert step.true[0] in (signs[at + 1].chars or CHARS)


def test_an_extra_sign_is_told_as_extra_and_not_as_a_swap() -> None:
    told = [(step.true, step.read) for step in _account("0OB", "O0")]
    assert told == [("O0", "0O"), ("", "B")]
