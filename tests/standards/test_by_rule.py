"""Parts made to a rule: never called listed, left out where a table has them."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from xref.domain.part import BOUNDARY
from xref.standards.by_rule import BY_RULE, made_to_rule

MM = 1_000_000
INCH = 25_400_000
SIXTEENTH = INCH // 16


def three(*sizes: float, unit: int = MM) -> dict[str, int]:
    return {name: round(size * unit) for name, size in zip(BOUNDARY, sizes, strict=True)}


def near(sizes: dict[str, int], reach: float = 0.2) -> dict[str, int]:
    return dict.fromkeys(sizes, round(reach * MM))


def test_a_measured_inch_seal_is_a_seal_made_to_rule() -> None:
    measured = {"bore": 34_900_000, "outside": 50_850_000, "width": 9_500_000}
    first = made_to_rule("shaft seal", measured, near(measured))[0]
    assert first.designation == "1-3/8x2x3/8 in"
    assert first.text == "inch shaft seal 1-3/8x2x3/8 in, by rule, no table known"
    assert first.sizes["width"].upper == round(0.015 * INCH)  # RMA OS-4
    assert "RMA OS-4" in first.note
    assert 0 < first.weight < 1


@pytest.mark.parametrize("name", ["35x47x7", "20x40x10", "35x62x10"])
def test_a_trade_metric_seal_is_made_of_the_steps_of_the_standard(name: str) -> None:
    sizes = three(*map(float, name.split("x")))
    found = made_to_rule("shaft seal", sizes, {})
    assert [entry.designation for entry in found] == [name]
    assert "listed" not in found[0].note


def test_what_a_table_has_is_left_to_the_table() -> None:
    assert made_to_rule("shaft seal", three(35, 52, 7), {}) == ()
    assert made_to_rule("bush", three(3 / 4, 7 / 8, 3 / 4, unit=INCH), {}) == ()


@pytest.mark.parametrize("name", ["30x3", "20x2", "12.5x2.5"])
def test_an_o_ring_of_round_metric_sizes_is_made_to_rule(name: str) -> None:
    inside, section = (round(float(text) * MM) for text in name.split("x"))
    found = made_to_rule("o-ring", {"inside": inside, "section": section}, {})
    assert [entry.designation for entry in found] == [name]


def test_an_inch_bush_goes_by_sixteenths_of_bore_and_wall() -> None:
    (bush,) = made_to_rule("bush", three(1, 1.25, 1.5, unit=INCH), {})
    assert bush.designation == "1x1-1/4x1-1/2 in"
    assert bush.type == "solid bush"


@pytest.mark.parametrize(
    "sizes",
    [
        three(20, 47, 14.3),  # a bearing's ring, and no width that seals have
        three(1, 1.1, 0.5, unit=INCH),  # no sixteenth outside
        three(35, 36, 7),  # no room for a lip
        {"bore": 35 * MM, "outside": 52 * MM},
    ],
)
def test_nothing_is_made_beside_the_rule(sizes: dict[str, int]) -> None:
    assert made_to_rule("shaft seal", sizes, {}) == ()


def test_thirty_seconds_are_less_usual_than_sixteenths() -> None:
    sizes = three(1 + 1 / 32, 2, 3 / 8, unit=INCH)
    (fine,) = made_to_rule("shaft seal", sizes, {})
    (coarse,) = made_to_rule("shaft seal", three(1.0625, 2, 3 / 8, unit=INCH), {})
    assert fine.weight < coarse.weight


@given(
    st.integers(4, 64),
    st.integers(3, 20),
    st.integers(2, 12),
    st.integers(0, 400_000),
    st.sampled_from(["", "shaft seal", "bush"]),
)
def test_every_entry_lies_within_what_was_asked(
    bore: int, ring: int, width: int, reach: int, kind: str
) -> None:
    sizes = dict(
        zip(BOUNDARY, (bore * SIXTEENTH, (bore + ring) * SIXTEENTH, width * SIXTEENTH), strict=True)
    )
    found = made_to_rule(kind, sizes, dict.fromkeys(sizes, reach))
    for entry in found:
        assert kind in ("", entry.kind)
        assert BY_RULE in entry.note
        assert all(abs(entry.sizes[name].value - nm) <= reach for name, nm in sizes.items())
    assert [e.weight for e in found] == sorted((e.weight for e in found), reverse=True)
