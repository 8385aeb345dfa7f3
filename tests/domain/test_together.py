"""How common sizes are together: figures worked by hand."""

from __future__ import annotations

import math

import pytest

from xref.domain.together import EVEN, Alike, Around, together_bits, unseen_share


def test_one_set_of_sizes_that_everything_has_takes_all_its_bits_back() -> None:
    shared = Alike(weight=10.0, sharing=1000, bits=12.0)
    bits = together_bits([shared], Around(0.0, 0, 1), [1.0, 1.0], whole=10.0)
    assert bits == pytest.approx(-12.0, abs=0.01)


def test_sizes_that_nothing_has_together_are_worth_more_than_each() -> None:
    lonely = Around(mass=1.0, single=1, double=0)
    assert together_bits([], lonely, [0.5, 0.5], whole=10_000.0) > 8


def test_the_sum_is_that_of_the_model() -> None:
    around = Around(mass=3.0, single=80, double=8)
    unseen = 1 - 2 * 10 / 100
    assert unseen_share(around) == pytest.approx(unseen)
    alike = [Alike(2.0, 1, 5.0), Alike(1.0, 4, 3.0)]
    same = 2 * (1 - unseen) * 32 + 1 * (1 - unseen / 4) * 8
    near = 0.2 * 0.5
    ratio = (same + unseen * 3.0 / near) / 50 + EVEN / near
    assert together_bits(alike, around, [0.2, 0.5], 50.0) == pytest.approx(-math.log2(ratio))


def test_a_store_without_such_sizes_says_nothing() -> None:
    assert together_bits([], Around(0.0, 0, 0), [0.0, 0.0], whole=0.0) == 0.0
