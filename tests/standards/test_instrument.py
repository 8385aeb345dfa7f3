"""How far tools and hands err."""

from __future__ import annotations

import pytest

from xref.domain.size import NM_PER_MM
from xref.errors import InputError
from xref.standards.instrument import TOOLS, hand_allowance, permissible_error


# Caliper and micrometer: DIN 862 and DIN 863 limits, memory; the rows check only themselves.
# Tape: Directive 2014/32/EU, MI-008, class II, ±(0.3 + 0.2 L) mm. Rule and the eye on a tape:
# common practice, no published source.
@pytest.mark.parametrize(
    ("tool", "mm", "inside", "error_um"),
    [
        ("caliper", 20, False, 50),
        ("caliper", 20, True, 70),
        ("caliper", 300, False, 50),
        ("caliper", 301, False, 60),
        ("caliper", 1000, False, 120),
        ("micrometer", 20, False, 4),
        ("micrometer", 50, False, 4),
        ("micrometer", 51, False, 5),
        ("micrometer", 500, False, 13),
        ("rule", 20, False, 500),
        ("tape", 500, False, 1000),
        ("tape", 5000, False, 1300),
        ("tape", 9500, False, 2300),
        (" Caliper ", 20, False, 50),
    ],
)
def test_a_tool_errs_by_its_published_limit(
    tool: str, mm: int, inside: bool, error_um: int
) -> None:
    assert permissible_error(tool, mm * NM_PER_MM, inside).nm == error_um * 1000


@pytest.mark.parametrize(
    ("tool", "mm", "error_um"),
    [("caliper", 1500, 120), ("micrometer", 600, 13), ("rule", 400, 500)],
)
def test_beyond_the_table_its_last_row_is_taken_and_said(tool: str, mm: int, error_um: int) -> None:
    found = permissible_error(tool, mm * NM_PER_MM, inside=False)
    assert found.nm == error_um * 1000
    assert "beyond the table" in found.note


def test_the_caliper_says_that_it_is_the_coarser_class() -> None:
    found = permissible_error("caliper", 20 * NM_PER_MM, inside=True)
    assert "coarser" in found.note
    assert "0.02 mm added inside a bore" in found.note
    assert found.source.startswith("DIN 862")


def test_what_rests_on_no_standard_says_so() -> None:
    assert "not a standard figure" in permissible_error("rule", NM_PER_MM, inside=False).source


@pytest.mark.parametrize("tool", ["", "calliper", "laser", "tape\x00", "x" * 1000])
def test_an_unknown_tool_is_refused_with_the_choices(tool: str) -> None:
    with pytest.raises(InputError) as caught:
        permissible_error(tool, NM_PER_MM, inside=False)
    assert all(name in caught.value.hint for name in TOOLS)
    assert len(caught.value.message) < 100
    assert caught.value.message.isprintable()


def test_the_hand_adds_more_in_a_bore() -> None:
    # 0.05 mm outside, 0.1 mm in bores: common practice, no published source.
    assert (hand_allowance(inside=False), hand_allowance(inside=True)) == (50_000, 100_000)
