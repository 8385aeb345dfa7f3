"""How likely a measured size is from a nominal one: the curve and its edges."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from xref.domain.likelihood import Spread, _exponential_tail, background, size_bits

CALIPER = 0.05
"""±0.05 mm: what a 0.05 mm vernier caliper may err by (DIN 862)."""
UNWORN = Spread(CALIPER, 0.02, 0.012)
BUSH = Spread(CALIPER, 0.05, 0.021, wear_share=0.5, wear=0.15, direction=1)
SECTION = Spread(CALIPER, 0.05, 0.2, wear_share=0.9, wear=0.3, direction=-1)


def _integral(spread: Spread, start: float, stop: float, steps: int = 20_000) -> float:
    """By the midpoint rule."""
    width = (stop - start) / steps
    return width * math.fsum(spread.density(start + (i + 0.5) * width) for i in range(steps))


@pytest.mark.parametrize(
    "spread",
    [
        UNWORN,
        BUSH,
        SECTION,
        Spread(CALIPER, 0.0),
        Spread(0.0, 0.1),
        Spread(0.5, 0.2, wear_share=1.0, wear=0.01, direction=1),
        Spread(0.004, 0.001, wear_share=1.0, wear=0.5, direction=-1),
    ],
)
def test_the_density_integrates_to_one(spread: Spread) -> None:
    far = 10 * spread.sigma + 25 * spread.wear
    assert _integral(spread, -far, far) == pytest.approx(1.0, abs=2e-3)


@pytest.mark.parametrize(
    ("spread", "sigma"),
    [
        (Spread(0.3, 0.0), 0.3 / math.sqrt(3)),
        (Spread(0.0, 0.07), 0.07),
        (Spread(0.0, 0.0, 0.12), 0.12 / math.sqrt(12)),
        (Spread(0.03, 0.01, 0.06), math.sqrt(0.0003 + 0.0001 + 0.0003)),
    ],
)
def test_rectangular_and_normal_errors_add_in_squares(spread: Spread, sigma: float) -> None:
    # A rectangular distribution of half-width a has a standard deviation of a/√3, of full width b
    # b/√12 (JCGM 100:2008, 4.3.7).
    assert spread.sigma == pytest.approx(sigma)


@given(st.floats(0.0, 1.0))
def test_an_unworn_size_errs_to_both_sides_alike(deviation: float) -> None:
    assert UNWORN.density(deviation) == UNWORN.density(-deviation)


@pytest.mark.parametrize("deviation", [0.1, 0.2, 0.5, 1.0])
def test_wear_shifts_to_its_own_side_only(deviation: float) -> None:
    assert BUSH.density(deviation) > BUSH.density(-deviation)
    assert SECTION.density(-deviation) > SECTION.density(deviation)


@given(st.floats(0.1, 2.0))
def test_wear_the_other_way_is_the_mirror_image(deviation: float) -> None:
    grows = Spread(CALIPER, 0.02, wear_share=0.5, wear=0.2, direction=1)
    shrinks = Spread(CALIPER, 0.02, wear_share=0.5, wear=0.2, direction=-1)
    assert grows.density(deviation) == shrinks.density(-deviation)


def test_a_worn_bush_reads_large_and_never_small() -> None:
    unworn = Spread(CALIPER, 0.05, 0.021)
    assert BUSH.density(0.3) > 10 * unworn.density(0.3)
    assert all(BUSH.density(-d) < unworn.density(-d) for d in (0.05, 0.1, 0.3))


@pytest.mark.parametrize(
    "unworn",
    [
        Spread(CALIPER, 0.02, wear_share=0.5, wear=0.2, direction=0),
        Spread(CALIPER, 0.02, wear_share=0.0, wear=0.2, direction=1),
        Spread(CALIPER, 0.02, wear_share=0.5, wear=0.0, direction=1),
    ],
)
def test_without_share_mean_or_side_there_is_no_wear(unworn: Spread) -> None:
    plain = Spread(CALIPER, 0.02)
    assert [unworn.density(d) for d in (-0.1, 0.0, 0.1)] == [
        plain.density(d) for d in (-0.1, 0.0, 0.1)
    ]


@pytest.mark.parametrize("s", [0.005, 0.05, 0.5])
@pytest.mark.parametrize("w", [0.01, 0.15, 2.0])
def test_the_tail_does_not_jump_where_its_form_changes(s: float, w: float) -> None:
    switch = s * s / w - 8.0 * s
    below, above = (_exponential_tail(switch + step * s, s, w) for step in (-1e-7, 1e-7))
    # The asymptotic form of Φ(z) is 1/z² off at first order: 1.6 % at z = −8.
    assert below == pytest.approx(above, rel=1 / 64)


@given(st.floats(-2000.0, 2000.0), st.floats(0.001, 5.0), st.floats(0.001, 5.0))
def test_the_tail_is_finite_and_never_negative(y: float, s: float, w: float) -> None:
    tail = _exponential_tail(y, s, w)
    assert math.isfinite(tail)
    assert tail >= 0.0


@pytest.mark.parametrize("y", [-0.35, -0.2, -0.1, 0.0, 0.05, 0.3, 1.0])
def test_the_tail_is_the_convolution_it_stands_for(y: float) -> None:
    s, w, steps, far = 0.05, 0.15, 40_000, 4.0
    width = far / steps
    worn = ((i + 0.5) * width for i in range(steps))
    whole = width * math.fsum(
        math.exp(-t / w) / w * math.exp(-0.5 * ((y - t) / s) ** 2) / (s * math.sqrt(2 * math.pi))
        for t in worn
    )
    assert _exponential_tail(y, s, w) == pytest.approx(whole, rel=1e-4)


@pytest.mark.parametrize(
    ("stored", "whole"), [([], 0.0), ([], 100.0), ([(20.0, 4.0)], 100.0), ([(1999.0, 1.0)], 1.0)]
)
@pytest.mark.parametrize("x", [0.1, 20.0, 2000.0])
def test_the_background_is_never_zero(
    x: float, stored: list[tuple[float, float]], whole: float
) -> None:
    near = [(UNWORN.density(x - nominal), weight) for nominal, weight in stored]
    assert background(x, near, whole) >= 0.05 / (x * math.log(2000.0)) * (1 - 1e-12)


def test_a_common_size_has_more_behind_it_than_a_rare_one() -> None:
    f = UNWORN.density(0.0)
    common = background(20.0, [(f, 90.0)], 100.0)
    rare = background(20.0, [(f, 1.0)], 100.0)
    assert common > rare
    assert common == pytest.approx(0.95 * 0.9 * f + 0.05 / (20.0 * math.log(2000.0)))
    assert size_bits(f, common, -6.0) < size_bits(f, rare, -6.0)


@pytest.mark.parametrize(
    ("density", "behind", "bits"),
    [(8.0, 1.0, 3.0), (1.0, 1.0, 0.0), (1.0, 8.0, -3.0), (1e-9, 1.0, -6.0), (0.0, 1.0, -6.0)],
)
def test_a_size_never_speaks_more_strongly_against_than_the_floor(
    density: float, behind: float, bits: float
) -> None:
    assert size_bits(density, behind, -6.0) == pytest.approx(bits)
