"""The verdict: when one answer is given, and what keeps it from being given."""

from __future__ import annotations

import math

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from xref.domain.evidence import Evidence, Scored, Topic
from xref.domain.part import Part
from xref.domain.verdict import Verdict, give_verdict
from xref.domain.weights import ORIGIN_STANDARD

BY_BOTH = (1, 3)
"""A mark and three sizes were given."""


def _thing(number: str, marks: float = 0.0, sizes: float = 0.0) -> Scored:
    part = Part(number, "ISO 15", "bearing", number, ORIGIN_STANDARD, 1.0)
    evidence = (
        Evidence(Topic.MARK_READ, "", "", 12.0, ""),
        Evidence(Topic.MARK_DIFFERS, "", "", marks, ""),
        Evidence(Topic.SIZE, "", "", sizes, "", "bore"),
    )
    return Scored(part, (), -10.0, evidence)


def _verdict(
    probabilities: list[float],
    none: float = 0.0,
    given_items: tuple[int, int] = BY_BOTH,
    open_systems: bool = False,
) -> Verdict:
    scored = [_thing(f"62{i:02}", marks=-float(i)) for i in range(len(probabilities))]
    return give_verdict(scored, probabilities, none, given_items, open_systems)


@pytest.mark.parametrize(
    ("probabilities", "none", "word"),
    [
        ([0.99], 0.01, "one"),
        ([0.96, 0.03], 0.01, "one"),
        ([0.96], 0.04, "one"),
        ([0.9599, 0.01], 0.03, "several"),  # not sure enough
        ([0.96, 0.0961], 0.0, "several"),  # less than ten times the next
        ([0.5, 0.5], 0.0, "several"),
        ([0.143] * 7, 0.0, "several"),
        ([0.2, 0.2], 0.6, "none"),
        ([0.49], 0.51, "none"),
        ([0.25], 0.5, "none"),  # half is enough
        ([0.5], 0.5, "several"),  # but it must be above the best
        ([0.30, 0.21], 0.49, "several"),  # above the best, yet below a half
    ],
)
def test_the_thresholds_of_the_verdict(probabilities: list[float], none: float, word: str) -> None:
    assert _verdict(probabilities, none).word == word


@pytest.mark.parametrize(
    ("marks", "sizes", "capped"),
    [
        (0, 0, True),
        (0, 1, True),
        (0, 2, True),
        (0, 3, False),
        (0, 5, False),
        (1, 0, False),
        (1, 1, False),
        (2, 0, False),
    ],
)
def test_a_mark_or_three_sizes_are_needed_to_settle(marks: int, sizes: int, capped: bool) -> None:
    verdict = _verdict([0.99], 0.01, (marks, sizes))
    assert verdict.word == ("several" if capped else "one")
    assert bool(verdict.caps) == capped
    assert all("three sizes" in cap for cap in verdict.caps)


def test_an_open_collision_of_numbering_systems_is_never_one() -> None:
    verdict = _verdict([0.98, 0.015], 0.005, open_systems=True)
    assert verdict.word == "several"
    assert [cap for cap in verdict.caps if "two numbering systems" in cap]


def test_every_cap_that_applies_is_told() -> None:
    verdict = _verdict([0.98, 0.015], 0.005, (0, 2), open_systems=True)
    assert len(verdict.caps) == 2


@pytest.mark.parametrize(
    ("lag_in_sizes", "lag_in_marks", "conflict"),
    [
        (8.0, 8.0, True),
        (9.0, 12.0, True),
        (7.9, 8.0, False),
        (8.0, 7.9, False),
        (20.0, 0.5, False),  # a near tie by marks is no conflict with the sizes
        (0.5, 20.0, False),
    ],
)
def test_marks_and_sizes_that_pull_apart_are_a_conflict(
    lag_in_sizes: float, lag_in_marks: float, conflict: bool
) -> None:
    by_sizes = _thing("6305", marks=-lag_in_marks)
    by_marks = _thing("6204", sizes=-lag_in_sizes)
    verdict = give_verdict([by_sizes, by_marks], [0.97, 0.02], 0.01, BY_BOTH)
    assert verdict.word == ("several" if conflict else "one")
    assert (verdict.best_by_marks, verdict.best_by_sizes) == ((1, 0) if conflict else (None, None))
    assert bool(verdict.caps) == conflict


def test_the_best_by_marks_and_by_sizes_are_found_wherever_they_stand() -> None:
    scored = [
        _thing("6303", marks=-9.0, sizes=-9.0),
        _thing("6305", marks=-20.0),
        _thing("6204", sizes=-20.0),
    ]
    verdict = give_verdict(scored, [0.95, 0.03, 0.01], 0.01, BY_BOTH)
    assert (verdict.best_by_marks, verdict.best_by_sizes) == (2, 1)
    assert verdict.word == "several"


@pytest.mark.parametrize("given_items", [(1, 0), (0, 3)])
def test_there_is_no_conflict_between_marks_alone_or_sizes_alone(
    given_items: tuple[int, int],
) -> None:
    scored = [_thing("6305", marks=-20.0), _thing("6204", sizes=-20.0)]
    verdict = give_verdict(scored, [0.97, 0.02], 0.01, given_items)
    assert verdict == Verdict("one", ())


def test_a_conflict_is_said_before_none_of_these() -> None:
    scored = [_thing("6305", marks=-20.0), _thing("6204", sizes=-20.0)]
    verdict = give_verdict(scored, [0.2, 0.1], 0.7, BY_BOTH)
    assert (verdict.word, verdict.best_by_marks, verdict.best_by_sizes) == ("several", 1, 0)


@pytest.mark.parametrize("none", [1.0, 0.6, 0.3])
def test_nothing_scored_is_none(none: float) -> None:
    assert give_verdict([], [], none, BY_BOTH).word == "none"


WEIGHT = st.floats(-14.0, 0.0).map(lambda bits: 2.0**bits)
"""Far enough apart that one of them is often nearly all of it."""


@given(
    st.lists(WEIGHT, min_size=1, max_size=6),
    st.just(0.0) | WEIGHT,
    st.integers(0, 2),
    st.integers(0, 4),
    st.booleans(),
)
@example([1.0, 0.01], 0.01, 1, 0, False)
@example([1.0, 0.01], 0.01, 0, 3, False)
@example([0.1, 0.01], 1.0, 1, 0, False)
def test_one_is_only_ever_said_of_a_clear_and_uncapped_best(
    weights: list[float], none: float, marks: int, sizes: int, open_systems: bool
) -> None:
    whole = math.fsum([*weights, none])
    probabilities = sorted((w / whole for w in weights), reverse=True)
    verdict = _verdict(probabilities, none / whole, (marks, sizes), open_systems)
    assert verdict.word in ("one", "several", "none")
    if verdict.word == "one":
        assert probabilities[0] >= 0.90
        assert all(probabilities[0] >= 10 * p for p in probabilities[1:])
        assert not verdict.caps
        assert not open_systems
        assert marks or sizes >= 3
    if verdict.word == "none":
        assert none / whole >= 0.5
        assert none / whole > probabilities[0]
