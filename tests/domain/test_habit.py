"""Learning how a person reads marks, on top of the shipped costs."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from xref.domain.alignment import Step
from xref.domain.confusion import ALPHABET, FaultCosts
from xref.domain.habit import CHEAPEST, habits, learned, pairs_of

COSTS = FaultCosts(pairs={("1", "7"): 4.4, ("7", "1"): 4.4, ("0", "O"): 3.6})
PAIR = st.tuples(st.sampled_from(ALPHABET), st.sampled_from(ALPHABET))
COUNTS = st.dictionaries(PAIR, st.floats(0, 500), max_size=12)


def test_nothing_met_leaves_the_shipped_costs() -> None:
    assert learned(COSTS, {}) == COSTS.pairs


def test_a_habit_becomes_cheap_and_the_other_way_round_stays() -> None:
    now = learned(COSTS, {("1", "7"): 15, ("1", "1"): 30})
    assert now["1", "7"] < 2.0
    assert now["7", "1"] == 4.4


def test_reading_right_makes_a_misreading_dearer() -> None:
    assert learned(COSTS, {("1", "1"): 60})["1", "7"] > 4.4


def test_a_pair_that_no_list_names_is_learned_too() -> None:
    now = learned(COSTS, {("4", "K"): 10, ("4", "4"): 10})
    assert now["4", "K"] < COSTS.substitution
    assert ("4", "Z") not in now


@given(COUNTS)
def test_costs_stay_finite_and_never_below_the_cheapest(
    counts: dict[tuple[str, str], float],
) -> None:
    for (true, read), cost in learned(COSTS, counts).items():
        assert true != read
        assert min(CHEAPEST, 3.6) <= cost < 40.0


def test_habits_are_told_plainest_first_and_slips_are_not() -> None:
    counts = {("1", "7"): 6.0, ("1", "1"): 12.0, ("8", "B"): 2.0, ("8", "8"): 60.0, ("5", "S"): 1.0}
    told = [(h.true, h.read, h.times, h.of) for h in habits(COSTS, counts)]
    assert told == [("1", "7", 6.0, 18.0), ("8", "B", 2.0, 62.0)]


def test_only_certain_single_characters_teach() -> None:
    steps = (
        Step("1", "7", 4.4),
        Step("2", "2", 0.0),
        Step("3", "?", 0.0),
        Step("4", "", 4.2),
        Step("", "X", 7.0),
        Step("56", "65", 3.8),
        Step("(2RS)", "2R5", 3.0),
        Step("8", "[38]", 0.0),
    )
    assert pairs_of(steps) == [("1", "7"), ("2", "2")]


@pytest.mark.parametrize("count", [0.0, -1.0])
def test_counts_of_nothing_teach_nothing(count: float) -> None:
    assert learned(COSTS, {("1", "7"): count}) == COSTS.pairs
