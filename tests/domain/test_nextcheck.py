"""What to check next: how much a check tells, and which one goes first."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from xref.domain.nextcheck import (
    LEAST_BITS,
    NO_TOOL_BONUS,
    Answer,
    Check,
    Words,
    best_checks,
    check_of,
    classes,
    entropy,
    expected_fall,
)

PROBABILITY = st.one_of(st.just(0.0), st.floats(1e-12, 1.0))
ANSWERS = st.lists(
    st.builds(
        Answer,
        st.sampled_from(["6204", "N204", "NU204", "1204"]),
        PROBABILITY,
        st.sampled_from(["", "balls", "rollers", "needles"]),
    ),
    max_size=10,
)


def _answers(*told: tuple[str, float, str]) -> list[Answer]:
    return [Answer(number, probability, shows) for number, probability, shows in told]


def _check(name: str, bits: float, needs_tool: bool) -> Check:
    return Check(name, bits, (), needs_tool)


@pytest.mark.parametrize(
    ("weights", "bits"),
    [
        ([], 0.0),
        ([0.0, 0.0], 0.0),
        ([1.0], 0.0),
        ([0.5, 0.5], 1.0),
        ([0.25] * 4, 2.0),
        ([3.0, 3.0], 1.0),
        ([0.5, 0.25, 0.25, 0.0], 1.5),
        ([1.0, 1e-300], 0.0),
    ],
)
def test_entropy_in_bits(weights: list[float], bits: float) -> None:
    assert entropy(weights) == pytest.approx(bits)


@given(st.lists(PROBABILITY, max_size=12))
def test_entropy_lies_between_none_and_that_of_equal_shares(weights: list[float]) -> None:
    assert -1e-12 <= entropy(weights) <= math.log2(max(1, len(weights))) + 1e-9


@given(ANSWERS)
@example([])
@example([Answer("6204", 0.0, "balls")])
def test_a_check_never_tells_less_than_nothing_or_more_than_is_open(answers: list[Answer]) -> None:
    fall = expected_fall(answers)
    assert 0.0 <= fall <= entropy([a.probability for a in answers]) + 1e-9


@pytest.mark.parametrize(
    ("told", "bits"),
    [
        ([("6204", 0.5, "balls"), ("N204", 0.5, "rollers")], 1.0),
        ([("6204", 0.5, "balls"), ("1204", 0.5, "balls")], 0.0),
        ([("6204", 0.5, "balls"), ("N204", 0.5, "")], 0.0),
        ([("6204", 0.5, ""), ("N204", 0.5, "")], 0.0),
        ([("6204", 0.25, "balls"), ("1204", 0.25, "balls"), ("N204", 0.5, "rollers")], 1.0),
        ([("6204", 0.25, "balls"), ("N204", 0.25, "rollers"), ("1204", 0.5, "")], 0.5),
        ([("6204", 0.1, "balls"), ("N204", 0.1, "rollers")], 1.0),
    ],
)
def test_what_a_check_is_expected_to_tell(told: list[tuple[str, float, str]], bits: float) -> None:
    assert expected_fall(_answers(*told)) == pytest.approx(bits, abs=1e-12)


@given(ANSWERS, st.floats(0.01, 1.0))
def test_a_candidate_that_says_nothing_is_never_ruled_out(
    answers: list[Answer], probability: float
) -> None:
    silent = Answer("QW 312", probability, "")
    everything = [a.probability for a in answers]
    fall = expected_fall([*answers, silent])
    # What is left open is at least whether it is the silent one.
    left = entropy([*everything, probability]) - fall
    assert left >= entropy([math.fsum(everything), probability]) - 1e-9


def test_a_check_lists_what_each_sight_would_leave_likeliest_first() -> None:
    check = check_of(
        Words("rolls", "Look what rolls.", False, said={"balls": "balls roll"}),
        _answers(
            ("NU204", 0.1, "rollers"),
            ("6204", 0.5, "balls"),
            ("1204", 0.1, ""),
            ("N204", 0.3, "rollers"),
        ),
    )
    assert check is not None
    assert (check.key, check.check) == ("rolls", "Look what rolls.")
    assert [(o.answer, o.seen, o.then) for o in check.outcomes] == [
        ("balls", "balls roll", ("6204",)),
        ("rollers", "rollers", ("N204", "NU204")),
    ]
    assert not check.needs_tool
    assert check.bits > 0.8


@pytest.mark.parametrize(
    "told",
    [
        [],
        [("6204", 1.0, "balls")],
        [("6204", 0.6, "balls"), ("1204", 0.4, "balls")],
        [("6204", 0.6, "balls"), ("1204", 0.4, "")],
        [("6204", 0.998, "balls"), ("N204", 0.002, "rollers")],
    ],
)
def test_a_useless_check_is_not_made(told: list[tuple[str, float, str]]) -> None:
    answers = _answers(*told)
    assert expected_fall(answers) < LEAST_BITS
    assert check_of(Words("rolls", "Look what rolls.", False), answers) is None


def test_a_part_that_may_show_either_is_ruled_out_by_neither() -> None:
    either = [Answer("S52", 0.5, ("inch", "metric")), Answer("S53", 0.5, "inch")]
    told = expected_fall(either, {"inch": 0.5, "metric": 0.5})
    assert 0.0 < told < expected_fall([replace(either[0], shows="metric"), either[1]])
    check = check_of(Words("sat", "Measure the groove.", True), either)
    assert check is not None
    assert [(o.answer, o.then) for o in check.outcomes] == [
        ("inch", ("S52", "S53")),
        ("metric", ("S52",)),
    ]


def test_what_is_usual_lets_a_check_tell_a_part_from_one_that_says_nothing() -> None:
    answers = _answers(("6204-2Z", 0.5, "shields"), ("6204", 0.5, ""))
    assert expected_fall(answers) == 0.0
    assert expected_fall(answers, {"open": 0.5, "shields": 0.5}) == pytest.approx(0.311, abs=1e-3)


def test_a_slip_that_is_allowed_for_leaves_something_open() -> None:
    answers = _answers(("6204", 0.5, "balls"), ("N204", 0.5, "rollers"))
    assert 0.5 < expected_fall(answers, slip=0.05) < 1.0


@pytest.mark.parametrize(
    ("by_tool", "by_eye", "kept"),
    [
        (1.0, 1.0, "eye"),
        (1.4, 1.0, "eye"),
        (1.0 + NO_TOOL_BONUS + 0.01, 1.0, "tool"),
        (0.5, 1.0, "eye"),
    ],
)
def test_what_needs_no_tool_is_kept_unless_a_tool_tells_much_more(
    by_tool: float, by_eye: float, kept: str
) -> None:
    checks = [_check("tool", by_tool, True), _check("eye", by_eye, False)]
    assert [c.check for c in best_checks(checks, most=1)] == [kept]
    assert best_checks(checks) == best_checks(checks[::-1])


def test_of_the_checks_kept_the_one_without_a_tool_begins() -> None:
    checks = [_check("tool", 3.0, True), _check("eye", 1.0, False)]
    assert [c.check for c in best_checks(checks)] == ["eye", "tool"]


def test_only_the_best_checks_are_kept() -> None:
    checks = [_check(str(bits), bits, True) for bits in (0.2, 0.9, 0.4, 0.7)]
    assert [c.check for c in best_checks(checks)] == ["0.9", "0.7"]
    assert [c.check for c in best_checks(checks, most=1)] == ["0.9"]
    assert best_checks([]) == ()


@pytest.mark.parametrize(
    ("values", "apart", "groups"),
    [
        ({}, 0.1, []),
        ({"a": 20.0}, 0.1, ["a"]),
        ({"a": 20.0, "b": 20.05, "c": 21.0}, 0.1, ["ab", "c"]),
        ({"a": 20.0, "b": 20.08, "c": 20.16, "d": 20.24}, 0.1, ["abcd"]),  # chained
        ({"c": 21.0, "a": 20.0, "b": 20.05}, 0.1, ["ab", "c"]),
        ({"a": 20.0, "b": 20.0}, 0.0, ["ab"]),
        ({"a": -5.0, "b": 0.0, "c": 5.0}, 1.0, ["a", "b", "c"]),
    ],
)
def test_values_a_tool_cannot_tell_apart_share_a_class(
    values: dict[str, float], apart: float, groups: list[str]
) -> None:
    found = classes(values, apart)
    held = [
        "".join(sorted(name for name, number in found.items() if number == wanted))
        for wanted in range(len(groups))
    ]
    assert held == groups
    assert found.keys() == values.keys()
