"""Chains and belts; the published figures of the chains stand in test_second_chains."""

from __future__ import annotations

import pytest

from fixtures.rows import INCH, MM, row
from xref.standards.families import standard_parts
from xref.standards.lookup import find
from xref.standards.wear import wear


def test_an_asme_number_gives_the_pitch_in_eighths_of_an_inch() -> None:
    # All but the last digit are eighths, as in the American tables of test_second_chains.
    for chain in (p for p in standard_parts() if p.kind == "chain"):
        asme = next((s.text for s in chain.spellings if s.text.startswith("ASME")), "")
        digits = asme.removeprefix("ASME ").partition("-")[0]
        if digits and digits != "15":
            assert chain.sizes["pitch"].value == int(digits[:-1]) * INCH // 8, chain.number


def test_a_worn_chain_reads_long_and_never_short() -> None:
    worn = wear("chain", "pitch", "worn")
    assert worn.direction == 1
    assert worn.q > wear("chain", "pitch", "used").q > wear("chain", "pitch", "new").q == 0


@pytest.mark.parametrize(
    ("number", "inside", "outside"),
    [
        # RMA IP-20, the rule beside the table: the number is inches inside; outside is 2 in (A),
        # 3 in (B), 4 in (C) more.
        ("A46", 46 * INCH, 48 * INCH),
        ("B60", 60 * INCH, 63 * INCH),
        ("C100", 100 * INCH, 104 * INCH),
    ],
)
def test_an_inch_belts_number_is_its_inside_length(number: str, inside: int, outside: int) -> None:
    sizes = row(number).sizes
    assert (sizes["inside-length"].value, sizes["outside-length"].value) == (inside, outside)


def test_a_narrow_inch_belts_number_is_its_outside_length_in_tenths() -> None:
    # RMA IP-22; the table prints millimetres, rounded to 5.
    for belt in (p for p in standard_parts() if p.maker == "RMA IP-22"):
        tenths = int(belt.number.partition("V")[2])
        off = belt.sizes["outside-length"].value - tenths * INCH // 10
        assert abs(off) <= 5 * MM, belt.number


def test_a_section_that_is_an_inch_and_a_metric_one_covers_both() -> None:
    # 13 mm (DIN 2215) and 1/2 in (RMA IP-20) are one section A.
    top = row("V-BELT A").sizes["top-width"]
    assert top.value == 13 * MM
    assert top.lower is not None
    assert top.value + top.lower == INCH // 2


def test_a_belts_length_has_the_limits_of_its_kind() -> None:
    # DIN 2215, 1250 to 1600 mm: +23/-11.
    long = row("A50").sizes["inside-length"]
    assert (long.lower, long.upper) == (-11 * MM, 23 * MM)


@pytest.mark.parametrize(
    "near", ["09B-1", "08B-4", "08D-1", "A46.5", "A25", "3V251", "V-BELT F", "SPD"]
)
def test_a_drive_that_is_not_made_finds_nothing(near: str) -> None:
    assert find(near) == ()
