"""Metric and inch sizes that are taken for one another."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from xref.domain.nearmiss import near_misses
from xref.domain.size import NM_PER_MM, parse_length


def _names(text: str) -> list[str]:
    return [miss.name for miss in near_misses(parse_length(text).nm)]


@pytest.mark.parametrize(
    ("nominal", "other"),
    [
        ("25 mm", "1 in"),
        ("1 in", "25 mm"),
        ("15.875 mm", "16 mm"),
        ("5/8 in", "16 mm"),
        ("16 mm", "5/8 in"),
        ("50 mm", "1-31/32 in"),
        ("1-31/32 in", "50 mm"),
        ("25 mm", "63/64 in"),
        ("35 mm", "1-3/8 in"),
    ],
)
def test_a_near_size_of_the_other_system_is_named(nominal: str, other: str) -> None:
    assert other in _names(nominal)


@pytest.mark.parametrize("nominal", ["127 mm", "5 in", "254 mm", "15 mm", "17 mm", "13 mm"])
def test_equal_and_distant_sizes_are_no_near_miss(nominal: str) -> None:
    assert _names(nominal) == []


def test_one_inch_is_not_25_mm() -> None:
    (miss,) = near_misses(25_400_000)
    assert miss.text == "25.4 mm is 1 in, not 25 mm"
    assert miss.tellable


@pytest.mark.parametrize(("inch", "mm"), [("1-31/32 in", "50.006 mm"), ("63/64 in", "25.003 mm")])
def test_a_caliper_cannot_tell_the_closest_from_metric(inch: str, mm: str) -> None:
    # 1-31/32 in = 63/32 × 25.4 and 63/64 in = 63/64 × 25.4 exactly; a 0.05 mm vernier errs by more.
    (miss,) = near_misses(parse_length(inch).nm)
    assert not miss.tellable
    assert mm in miss.text
    assert "a caliper cannot tell them apart" in miss.text


def test_the_nearest_comes_first() -> None:
    assert _names("25 mm")[:2] == ["63/64 in", "1 in"]


@pytest.mark.parametrize("nm", [0, -25_000_000])
def test_no_size_has_no_near_miss(nm: int) -> None:
    assert near_misses(nm) == ()


@given(st.integers(1, 2000 * NM_PER_MM))
def test_a_near_miss_is_near_and_never_equal(nm: int) -> None:
    for miss in near_misses(nm):
        gap = abs(miss.nm - nm)
        assert 0 < gap <= 2 * NM_PER_MM
        assert gap * 50 <= nm
        assert miss.tellable == (gap > 50_000)
