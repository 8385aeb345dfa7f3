"""Rings, washers, pins, keys and springs; figures of others stand in test_second_*.

"Memory" is as in test_published: the figure is known from memory of the standard and agrees with
the table; no copy of the standard was opened for it.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from fixtures.rows import MM, row
from xref.services.open import open_store
from xref.standards.families import standard_parts
from xref.standards.lookup import find
from xref.standards.tolerance import disc_spring_limits
from xref.tables import read_table


def test_a_split_pin_always_measures_less_than_its_hole() -> None:
    pins = [p for p in standard_parts() if p.type == "split pin"]
    assert len(pins) == 34
    assert all(p.sizes["diameter"].value < p.sizes["hole"].value for p in pins)


def test_a_free_spring_pin_always_measures_more_than_its_hole() -> None:
    pins = [p for p in standard_parts() if p.type == "spring pin"]
    assert len(pins) == 38
    assert all(p.sizes["diameter"].value > p.sizes["hole"].value for p in pins)


def test_a_dowel_pin_reaches_from_its_least_to_its_most() -> None:
    pin = row("ISO 2338 6").sizes["diameter"]
    # m6 at 6 mm is +4 to +12 µm (ISO 286-2, memory).
    assert (pin.value, pin.lower, pin.upper) == (6 * MM, 4_000, 12_000)


def test_a_shaft_ring_is_free_smaller_than_its_shaft_and_a_bore_ring_larger_than_its_bore() -> None:
    rings = [p for p in standard_parts() if p.maker in ("DIN 471", "DIN 472")]
    assert len(rings) == 253
    for ring in rings:
        sizes = {name: size.value for name, size in ring.sizes.items()}
        if "shaft" in sizes:
            assert sizes["bore"] < sizes["groove"] < sizes["shaft"], ring
        else:
            assert sizes["outside"] > sizes["groove"] > sizes["housing"], ring


def test_a_taper_pins_large_end_in_the_table_is_one_in_fifty() -> None:
    for taper in read_table("taper_pin"):
        small, most = float(taper["size_mm"]), float(taper["max_length_mm"])
        assert float(taper["large_end_at_max_length_mm"]) == pytest.approx(small + most / 50)


def test_a_disc_spring_is_under_its_outside_and_over_its_bore_by_grade_12() -> None:
    # Against the table of them that stands beside DIN 2093: h12 and H12.
    sizes = {name: size.value for name, size in row("DIN 2093 A 50").sizes.items()}
    found = {name: disc_spring_limits(name, value) for name, value in sizes.items()}
    told = {name: (one.lower, one.upper) for name, one in found.items() if one}
    assert told == {"outside": (-250_000, 0), "bore": (0, 210_000)}
    assert disc_spring_limits("bore", 250_000_001) is None


def test_a_new_disc_spring_at_the_end_of_its_tolerance_agrees(seeded_path: Path) -> None:
    with open_store(str(seeded_path)) as store:
        sizes = {"outside": "49.8mm", "bore": "25.4mm", "thickness": "3mm"}
        answer = store.identify(size=sizes, condition="new", tool="micrometer")
    best = answer.candidates[0]
    assert best.part.number == "DIN 2093 A 50"
    said = {item.about: item.reason for item in best.scored.evidence}
    assert said["size: outside"] == "agrees"


@pytest.mark.parametrize(
    "near",
    [
        "DIN 471-25x1.5",  # 1.2 thick for this shaft
        "DIN 472-25x1",  # 1.2 in a bore too
        "DIN 471-251",  # 250 and 255 are the sizes
        "ISO 7089 M9",  # no such thread in the series
        "ISO 7091 M1.6x4",
        "DIN 125 A M1.5",
        "ISO 1234 3",  # 2.5 and 3.2
        "ISO 8752 7",  # 6 and 8
        "ISO 2338 7",
        "ISO 773 8x8",  # 8 × 7
        "ISO 773 9x7",
        "ISO 3912 5x7",  # 5 × 6.5 and 5 × 7.5
        "DIN 7603 A 14x19x1.5",  # 14 × 18 and 14 × 20
        "DIN 2093 C 50",  # the table has series A and B
        "ISO 2339 7",
    ],
)
def test_a_size_that_is_not_made_finds_nothing(near: str) -> None:
    assert find(near) == ()


def test_a_row_known_from_one_table_says_so_by_its_count() -> None:
    alone = [p for p in standard_parts() if p.maker == "DIN 7603 form A"]
    assert {p.tables_agreeing for p in alone} == {1, 2, 3}
    assert row("DIN 471-255x5").tables_agreeing == 1
