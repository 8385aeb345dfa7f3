"""Balls, rollers, inch rings, spring washers, inch pins and keys, lead screws, chain.

"Memory": the figure is known from memory of the standard and no copy was opened for it.
"""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

import pytest

from fixtures.rows import INCH, MM, mm_of, row
from xref.domain.part import Part
from xref.services.decode.decode import decode
from xref.standards.families import standard_parts
from xref.standards.lookup import by_dimension_series, find
from xref.tables import read_table


def of_type(type_: str) -> list[Part]:
    found = [part for part in standard_parts() if part.type == type_]
    assert found
    return found


# Checks by rule: what one printed table says must hold among its own columns


def test_every_inch_ball_is_its_fraction_exactly_and_rounds_to_its_millimetres() -> None:
    inch_balls = [r for r in read_table("steel_ball") if r["diameter_inch"]]
    assert len(inch_balls) > 80
    for line in inch_balls:
        value = sum((Fraction(piece) for piece in line["diameter_inch"].split()), Fraction(0))
        assert abs(value * Fraction("25.4") - Fraction(line["diameter_mm"])) <= Fraction("0.0005")


def test_every_added_cylindrical_bearing_has_the_sizes_of_its_dimension_series() -> None:
    for line in read_table("cylindrical_more"):
        part = row(line["designation"], "bearing")
        bore, *own = (part.sizes[name].value for name in ("bore", "outside", "width"))
        others = [
            [p.sizes["outside"].value, p.sizes["width"].value]
            for p in by_dimension_series(line["dimension_series"], bore)
            if not p.number.startswith(("NU", "NJ", "N", "NUP")) or p.number != part.number
        ]
        assert own in others, part.number


def test_every_inch_ring_lies_in_its_groove() -> None:
    for line in read_table("retaining_ring_inch"):
        name = f"{line['standard']} {line['nominal_in']}"
        nominal, free, groove = (Fraction(line[f"{c}_in"]) for c in ("nominal", "free", "groove"))
        assert Fraction(line["groove_width_in"]) > Fraction(line["thickness_in"]), name
        if line["form"] == "internal":
            assert free > groove > nominal, name
        else:
            assert free < groove < nominal, name


def test_every_e_clip_of_a_larger_groove_is_larger() -> None:
    clips = [p for p in of_type("e-clip") if p.maker == "DIN 6799"]
    for smaller, larger in pairwise(clips):
        for size in ("groove", "outside", "thickness"):
            assert smaller.sizes[size].value <= larger.sizes[size].value, larger.number


def test_a_spring_washer_is_its_bore_and_two_sections() -> None:
    for line in read_table("spring_washer"):
        inside, outside, width = (float(line[c]) for c in ("inside_min", "outside_max", "width"))
        # What is left over is what the limits of both may add.
        assert 0 <= outside - inside - 2 * width <= 0.12 * outside, line["nominal"]


def test_every_tool_taper_narrows_by_its_taper_to_the_foot() -> None:
    for line in read_table("tool_taper"):
        large, small, long, foot = (
            Fraction(line[c])
            for c in ("large_end_inch", "small_end_inch", "length_inch", "taper_per_foot")
        )
        assert abs(large - small - long * foot / 12) <= Fraction("0.003"), line["taper"]


def test_every_jarno_taper_follows_its_number() -> None:
    # Machinery's Handbook, memory: large end in eighths, small end in tenths, length in halves.
    for taper in of_type("jarno taper"):
        number = int(taper.number.removeprefix("Jarno "))
        sizes = {name: size.value for name, size in taper.sizes.items()}
        assert sizes["large-end"] * 8 == number * INCH
        assert sizes["small-end"] * 10 == number * INCH
        assert sizes["length"] * 2 == number * INCH


def test_the_first_digit_of_a_motorcycle_chain_is_eighths_of_an_inch_of_pitch() -> None:
    for line in read_table("motorcycle_chain"):
        pitch = Fraction(int(line["designation"][0]), 8) * Fraction("25.4")
        assert pitch == Fraction(line["pitch_mm"])


# Published figures


@pytest.mark.parametrize(
    ("number", "sizes"),
    [
        # ISO 3290-1, memory.
        ("ball 6.35", {"diameter": 6.35}),
        ("ball 7.938", {"diameter": 7.9375}),
        # DIN 6799, memory: for a groove of 9, shafts of 10 to 14, 1.1 thick.
        ("DIN 6799-9", {"groove": 9, "shaft": 10, "thickness": 1.1}),
        # DIN 127, memory: M8 is 8.1 inside, 14.8 outside, 2 thick.
        ("DIN 127 M8", {"bore": 8.1, "outside": 14.8, "thickness": 2}),
        # ASME B18.8.2, memory: No. 4 is 1/4 in at the large end, No. 0 0.156.
        ("taper pin No. 4", {"large-end": 6.35}),
        ("taper pin No. 0", {"large-end": 3.9624}),
        # ISO 12240-1 series E, memory.
        ("GE20ES", {"bore": 20, "outside": 35, "width": 16, "ring-width": 12}),
        # ISO 15 / DIN 630, memory: the little self-aligning bearings.
        ("126", {"bore": 6, "outside": 19, "width": 6}),
        ("129", {"bore": 9, "outside": 26, "width": 8}),
        # BS 46 part 1, memory: over 3/4 to 1 in the key is 1/4 square.
        ("BS 46 1/4x1/4", {"width": 6.35, "height": 6.35}),
        # ISO 2904, memory.
        ("Tr 20x4", {"diameter": 20, "pitch": 4}),
        # ASME B1.5, memory: 1/2-10 Acme.
        ("1/2-10 Acme", {"diameter": 12.7, "pitch": 2.54}),
        # Trade sizes, memory: 520 is 5/8 by 1/4 in with a roller of 0.400 in.
        ("chain 520", {"pitch": 15.875, "roller": 10.16, "inner-width": 6.35}),
        # E15 as bicycle and magneto trade lists have it, memory.
        ("E15", {"bore": 15, "outside": 35, "width": 8}),
    ],
)
def test_a_part_has_the_published_sizes(number: str, sizes: dict[str, float]) -> None:
    assert mm_of(row(number), *sizes) == pytest.approx(tuple(sizes.values()), abs=1e-6)


@pytest.mark.parametrize(
    "near",
    [
        *("ball 6.36", "17/63 ball", "E14", "EN15.5", "BO16", "DIN 6799-11", "DIN 127 M9"),
        *("GE21ES", "taper pin No. 15", "BS 46 3/8x1/4", "Tr 20x5", "1/2-12 Acme", "chain 521"),
        *("S46", "needle roller 3x15.9", "MS16632 0.26", "Jarno 21", "Brown & Sharpe 19"),
    ],
)
def test_what_is_not_made_finds_nothing(near: str) -> None:
    assert [p.number for p in find(near) if p.kind != "o-ring"] == []


def test_what_one_table_alone_says_is_told_so() -> None:
    for number in ("E15", "GE20ES", "MS16632 0.5x0.035", "S62F5"):
        assert row(number).tables_agreeing == 1
        assert any("only one printed table" in r.note for r in decode(number).readings)


def test_rings_for_one_shaft_in_two_thicknesses_name_each_other() -> None:
    rings = [p for p in of_type("e-clip") if p.number.startswith("MS16633 0.062x")]
    assert len(rings) == 2
    assert all("for the same shaft or bore there is one" in ring.note for ring in rings)


def test_a_magneto_bearing_says_that_it_comes_apart_and_that_e_is_larger_outside() -> None:
    assert "lifts off" in row("EN15").note
    assert "plus tolerance" in row("E15").note
    assert "plus tolerance" not in row("L17").note


def test_a_lead_screw_is_made_under_its_nominal_diameter() -> None:
    size = row("Tr 20x4").sizes["diameter"]
    # ISO 2903 4h, memory: 0.300 mm for a pitch of 4, which the formula gives within a step.
    assert size.lower == pytest.approx(-300_000, abs=20_000)
    assert size.upper == 0
    assert size.value == 20 * MM
