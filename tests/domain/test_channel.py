"""How likely a reading is from a number, held against a small reference written another way."""

from __future__ import annotations

import math
from functools import cache

import pytest
from hypothesis import given
from hypothesis import strategies as st

from xref.domain.channel import Reading, Tails, distance, prepare
from xref.domain.confusion import FaultCosts, nats, pair_costs
from xref.domain.mark import Mark, Sign, read_mark, upside_down
from xref.tables import read_table

LOOK_ALIKE = 4.2
PAIRS = pair_costs(
    {"char_a": a, "char_b": b, "cost_nats": str(LOOK_ALIKE)} for a, b in ("0O", "8B", "38", "5S")
)
COSTS = FaultCosts(pairs=PAIRS)
SCALE = 0.76
TAILS = Tails({"2RS": 0.25, "C3": 0.125}, SCALE)

CHARS = "0O38B"
SIGN = st.one_of(
    st.builds(Sign, st.sampled_from(CHARS)),
    st.just(Sign("")),
    st.just(Sign("", lost=True)),
    st.lists(st.sampled_from(CHARS), min_size=2, max_size=3, unique=True).map(
        lambda chars: Sign("".join(chars))
    ),
)
SIGNS = st.lists(SIGN, max_size=5).map(tuple)
NUMBER = st.text(CHARS, max_size=5)


def _read(text: str, tails: Tails | None = None) -> Reading:
    mark = read_mark(text)
    return prepare(mark, COSTS, tails, [3.0 if s.legible else 0.0 for s in mark.signs])


def _cost(text: str, number: str) -> float:
    return distance(_read(text), number)


def reference(signs: tuple[Sign, ...], number: str) -> float:
    """Every account of ``signs`` from ``number``, tried from left to right, the cheapest kept."""

    def worn(count: int) -> float:
        return min(4.2 * count, 3.6 + 0.6 * count) if count else 0.0

    def misread(sign: Sign, true: str) -> float:
        if not sign.chars or true in sign.chars:
            return 0.0
        alike = ({"0", "O"}, {"8", "B"}, {"3", "8"}, {"5", "S"})
        return min(LOOK_ALIKE if {c, true} in alike else 6.5 for c in sign.chars)

    @cache
    def rest(i: int, j: int) -> float:
        ways = [worn(len(number) - i)] if j == len(signs) else []
        if i < len(number):
            ways.append(4.2 + rest(i + 1, j))
        if j < len(signs):
            sign = signs[j]
            if sign.lost:
                ways.extend(rest(k, j + 1) for k in range(i, len(number) + 1))
            else:
                ways.append((7.0 if sign.chars else 4.2) + rest(i, j + 1))
                if i < len(number):
                    ways.append(misread(sign, number[i]) + rest(i + 1, j + 1))
        pair, two = number[i : i + 2], signs[j : j + 2]
        if (
            len(pair) == len(two) == 2
            and pair[0] != pair[1]
            and not any(sign.lost for sign in two)
            and misread(two[0], pair[1]) == misread(two[1], pair[0]) == 0.0
        ):
            ways.append(3.8 + rest(i + 2, j + 2))
        return min(ways)

    return min(worn(gone) + rest(gone, 0) for gone in range(len(number) + 1))


@given(SIGNS, NUMBER)
def test_the_distance_is_that_of_the_reference(signs: tuple[Sign, ...], number: str) -> None:
    reading = prepare(Mark("", signs), COSTS, None, [])
    assert distance(reading, number) == pytest.approx(reference(signs, number), abs=1e-9)


@given(SIGNS, NUMBER)
def test_a_distance_is_never_negative_and_a_suffix_never_makes_it_dearer(
    signs: tuple[Sign, ...], number: str
) -> None:
    bits = [3.0 if sign.legible else 0.0 for sign in signs]
    reading = prepare(Mark("", signs), COSTS, TAILS, bits)
    bare, followed = distance(reading, number), distance(reading, number, takes_suffix=True)
    assert 0.0 <= followed <= bare < math.inf


@given(st.text("0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ", min_size=1, max_size=30))
def test_a_number_read_as_it_stands_costs_nothing(number: str) -> None:
    assert _cost(number, number) == 0.0


@pytest.mark.parametrize(
    ("text", "number"),
    [
        ("6?04", "6204"),
        ("????4", "62204"),
        ("62*", "6204"),
        ("62*", "62"),
        ("*04", "6204"),
        ("6*4", "6204"),
        ("6*2*4", "6204"),
        ("6[23]04", "6204"),
        ("6[23]04", "6304"),
        ("62-04", "6204"),
    ],
)
def test_what_was_not_read_costs_nothing(text: str, number: str) -> None:
    assert _cost(text, number) == 0.0


@pytest.mark.parametrize(
    ("text", "number", "cost"),
    [
        ("62O4", "6204", 4.2),  # look-alike, as these tests price it
        ("6274", "6204", 6.5),  # any other character
        ("6[7O]4", "604", 4.2),  # of two possible, the cheaper
        ("2604", "6204", 3.8),  # two changed places
        ("6024", "6204", 3.8),
        ("624", "6204", 4.2),  # one in the middle not seen
        ("62104", "6204", 7.0),  # one too many
        ("62?04", "6204", 4.2),  # an illegible sign where nothing is
        ("204", "6204", 4.2),  # one at an end: as one lost
        ("04", "6204", 4.8),  # an end worn away: 3.6 + 0.6 each
        ("620", "6204", 4.2),
        ("62", "6204", 4.8),
        ("6", "6204", 5.4),
        ("20", "6204", 8.4),  # both ends
        ("Q", "", 7.0),
    ],
)
def test_each_fault_has_its_cost(text: str, number: str, cost: float) -> None:
    assert _cost(text, number) == pytest.approx(cost)


def test_costs_keep_the_order_that_the_measuring_asked_for() -> None:
    shipped = pair_costs(read_table("look_alike")).values()
    assert max(shipped) < COSTS.substitution < 2 * min(shipped)
    assert COSTS.transposition < 2 * min(shipped)
    assert COSTS.lost < COSTS.ends(3) < 2 * COSTS.lost


def test_a_look_alike_costs_less_the_more_lists_name_it() -> None:
    rows = sorted(read_table("look_alike"), key=lambda row: -int(row["lists_naming_it"]))
    costs = [float(row["cost_nats"]) for row in rows]
    assert costs == sorted(costs)
    named = {int(row["lists_naming_it"]): cost for row, cost in zip(rows, costs, strict=True)}
    assert named[6] == named[4] == 3.6
    assert named[2] == 4.4
    assert named[1] == 5.0


def test_worn_ends_made_ready_cost_what_they_cost_one_by_one() -> None:
    for costs in (COSTS, FaultCosts(lost=2.0, end_lost=9.0), FaultCosts(end_lost_each=4.0)):
        assert costs.worn(9) == tuple(costs.ends(count) for count in range(10))
    assert COSTS.worn(0) == (0.0,)


def test_a_reading_scores_the_same_however_many_numbers_it_scored_before() -> None:
    used = _read("6[23]?4*")
    for number in ("6204", "62O4", "Q", "88888", ""):
        assert distance(used, number) == distance(_read("6[23]?4*"), number)
    assert distance(used, "6304") == 0.0


def test_a_look_alike_is_likelier_than_any_other_character() -> None:
    assert 0.0 < _cost("62O4", "6204") < _cost("6274", "6204")


def test_signs_before_a_lost_stretch_still_count() -> None:
    assert _cost("73*", "6204") > _cost("63*", "6204") > _cost("62*", "6204") == 0.0


@pytest.mark.parametrize(
    ("text", "cost"),
    [
        ("6204", 0.0),
        ("6204 2RS", nats(2.0) / SCALE),  # a quarter of bearings: 2 bits
        ("6204 C3", nats(3.0) / SCALE),
        ("6204 2R5", nats(2.0) / SCALE + 4.2),  # its own misreading on top
        ("6204 7", nats(3.0 + 3.0) / SCALE),  # unknown: 3 bits and the 3 of its one sign
    ],
)
def test_after_a_designation_a_suffix_may_follow(text: str, cost: float) -> None:
    reading = _read(text, TAILS)
    assert distance(reading, "6204", takes_suffix=True) == pytest.approx(cost)


def test_a_suffix_is_not_looked_for_where_none_can_follow() -> None:
    reading = _read("6204 2RS", TAILS)
    assert distance(reading, "6204") == pytest.approx(21.0)
    assert distance(_read("6204 2RS"), "6204", takes_suffix=True) == pytest.approx(21.0)


def test_a_mark_read_upside_down_pays_five_bits_whatever_the_scale() -> None:
    over = upside_down(read_mark("6008"))
    assert over is not None
    for tails, scale in ((None, 1.0), (TAILS, SCALE)):
        paid = distance(prepare(over, COSTS, tails, [3.0] * 4), "8009")
        assert paid * scale == pytest.approx(nats(5.0))
