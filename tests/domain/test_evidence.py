"""Evidence adds up, and odds are odds whatever the totals."""

from __future__ import annotations

import math

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from xref.domain.evidence import MARKS, SIZES, Evidence, Figures, Scored, Topic, odds
from xref.domain.part import Part
from xref.domain.weights import ORIGIN_STANDARD

BITS = st.floats(-1000.0, 1000.0)
TOTALS = st.lists(BITS, max_size=12)
REST = st.one_of(BITS, st.just(-math.inf))
BEARING = Part("6204", "ISO 15", "bearing", "6204", ORIGIN_STANDARD, 1.0)


def _scored(start: float, *items: tuple[Topic, float]) -> Scored:
    evidence = tuple(Evidence(topic, "", "", bits, "") for topic, bits in items)
    return Scored(BEARING, (), start, evidence)


@given(BITS, TOTALS)
def test_start_and_items_add_up_to_the_total(start: float, bits: list[float]) -> None:
    scored = _scored(start, *((Topic.SIZE, b) for b in bits))
    assert scored.total_bits == pytest.approx(math.fsum([start, *bits]), abs=1e-9)


def test_without_evidence_the_total_is_the_start() -> None:
    assert _scored(-7.25).total_bits == -7.25


def test_bits_about_a_topic_leave_the_others_out() -> None:
    scored = _scored(
        -3.0,
        (Topic.MARK_READ, 12.0),
        (Topic.MARK_DIFFERS, -2.0),
        (Topic.SIZE, 4.0),
        (Topic.KIND, 1.0),
    )
    assert scored.bits_about(*MARKS) == 10.0
    assert scored.bits_about(*SIZES) == 4.0
    assert scored.bits_about(*MARKS, *SIZES) == 14.0
    assert scored.bits_about(Topic.WORDS) == 0.0
    assert scored.total_bits == 12.0


@given(TOTALS, REST)
@example([], -math.inf)
@example([1000.0] * 12, 1000.0)
@example([-1000.0] * 12, -math.inf)
@example([1000.0, -1000.0], -1000.0)
def test_odds_sum_to_one_with_none_of_these(totals: list[float], rest: float) -> None:
    given_odds = odds(totals, rest)
    each = [*given_odds.probabilities, given_odds.rest, given_odds.none]
    assert len(given_odds.probabilities) == len(totals)
    assert all(0.0 <= p <= 1.0 for p in each)
    assert math.fsum(each) == pytest.approx(1.0, abs=1e-12)


@given(st.lists(st.floats(allow_nan=False, allow_infinity=False), max_size=6))
def test_odds_sum_to_one_for_any_finite_totals(totals: list[float]) -> None:
    given_odds = odds(totals, -math.inf)
    whole = math.fsum([*given_odds.probabilities, given_odds.none])
    assert whole == pytest.approx(1.0, abs=1e-12)


@given(TOTALS, REST)
def test_a_higher_total_is_never_less_likely(totals: list[float], rest: float) -> None:
    probabilities = odds(totals, rest).probabilities
    by_total = [p for _, p in sorted(zip(totals, probabilities, strict=True))]
    assert by_total == sorted(by_total)


@given(st.lists(st.floats(-30.0, 30.0), min_size=1, max_size=6), st.floats(-30.0, 30.0))
def test_the_odds_of_two_things_are_two_to_the_difference(totals: list[float], rest: float) -> None:
    told = odds(totals, rest)
    for total, probability in zip(totals, told.probabilities, strict=True):
        assert math.log2(probability / told.none) == pytest.approx(total, abs=1e-6)
    assert math.log2(told.rest / told.none) == pytest.approx(rest, abs=1e-6)


@pytest.mark.parametrize(
    ("totals", "rest", "each", "left", "none"),
    [
        ([], -math.inf, [], 0.0, 1.0),
        ([0.0], -math.inf, [0.5], 0.0, 0.5),
        ([1.0], 0.0, [0.5], 0.25, 0.25),
        ([3.0, 2.0, 1.0], 0.0, [0.5, 0.25, 0.125], 0.0625, 0.0625),
    ],
)
def test_odds_worked_by_hand(
    totals: list[float], rest: float, each: list[float], left: float, none: float
) -> None:
    told = odds(totals, rest)
    assert list(told.probabilities) == pytest.approx(each)
    assert told.rest == pytest.approx(left)
    assert told.none == pytest.approx(none)


def test_an_item_is_found_by_its_topic_whatever_its_words_say() -> None:
    """A size named in the words of another item is not that size's evidence."""
    misleading = Evidence(Topic.WORDS, "size: bore", "size: bore", 3.0, "agrees with size: bore")
    bore = Evidence(Topic.SIZE, "20", "25 mm", -6.0, "under", "bore", Figures(20, 25), agrees=False)
    scored = Scored(BEARING, (), 0.0, (misleading, bore))
    assert scored.size_bits() == {"bore": -6.0}
    assert scored.bits_about(*SIZES) == -6.0
    assert (bore.about, misleading.about) == ("size: bore", "words")
