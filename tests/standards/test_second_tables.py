"""The families against figures that others published, each with where it stands.

A figure has its standard and year beside it, with the open library it was read in (title, author,
year); "memory" where no print was at hand. None of these figures was taken from our own tables.
"""

from __future__ import annotations

import pytest

from fixtures.rows import INCH, MM, mm_of, row
from xref.domain.part import BOUNDARY
from xref.standards.families import standard_parts
from xref.tables import read_table

# Retaining rings, pins: DIN 471:2011, DIN 472:2017, ISO 8752:2009, ISO 1234:1997 and ISO 2339:1986
# in "Fasteners Workbench" by shaise, 2022 (also one of the tables behind some rows).

RINGS = """
471 3 0.4 2.7 2.8 | 471 10 1 9.3 9.6 | 471 18 1.2 16.5 17 | 471 25 1.2 23.2 23.9
471 40 1.75 36.5 37.5 | 471 50 2 45.8 47 | 471 70 2.5 65.5 67 | 471 100 3 94.5 96.5
471 150 4 142 145 | 471 200 4 190.5 195 | 471 300 5 285 292
472 8 0.8 8.7 8.4 | 472 16 1 17.3 16.8 | 472 25 1.2 26.9 26.2 | 472 40 1.75 43.5 42.5
472 52 2 56.2 55 | 472 80 2.5 85.5 83.5 | 472 150 4 158 155 | 472 200 4 209.5 205
472 300 5 315 308
"""


@pytest.mark.parametrize("line", RINGS.replace("\n", "|").strip("|").split("|"))
def test_a_retaining_ring_is_as_din_471_and_472_have_it(line: str) -> None:
    standard, nominal, *figures = line.split()
    thickness, free, groove = map(float, figures)
    part = row(f"DIN {standard}-{nominal}x{figures[0]}")
    ends = ("thickness", "bore" if standard == "471" else "outside", "groove")
    assert mm_of(part, *ends) == (thickness, free, groove)


# ISO 1234:1997, ISO 8752:2009 and ISO 2339:1986 in "Fasteners Workbench" by shaise, 2022.

SPLIT_PINS = (
    "0.6:0.45 0.8:0.65 1:0.85 1.2:0.95 1.6:1.35 2:1.75 2.5:2.2 3.2:2.8 4:3.6 5:4.5 6.3:5.8 8:7.4 "
    "10:9.4 13:12.25 16:15.25 20:19.15"
)
SPRING_PINS = "1:1.25 1.5:1.75 2:2.35 3:3.4 4:4.5 5:5.5 6:6.55 8:8.65 10:10.65"
TAPER_PINS = "0.6 0.8 1 1.2 1.5 2 2.5 3 4 5 6 8 10 12 16 20 25 30 40 50"


@pytest.mark.parametrize(
    ("standard", "figures"), [("ISO 1234", SPLIT_PINS), ("ISO 8752", SPRING_PINS)]
)
def test_every_pin_measures_what_its_standard_says(standard: str, figures: str) -> None:
    for pair in figures.split():
        name, _, measures = pair.partition(":")
        assert mm_of(row(f"{standard} {name}"), "diameter") == (float(measures),), name


def test_taper_pins_are_made_in_the_sizes_of_iso_2339() -> None:
    ours = {p.number for p in standard_parts() if p.type == "taper pin"}
    assert ours == {f"ISO 2339 {size}" for size in TAPER_PINS.split()}


# Splines: GOST 1139-80, light, medium and heavy series, memory: count × minor × major × width

SPLINES = """
6x23x26x6 6x26x30x6 6x28x32x7 8x32x36x6 8x36x40x7 8x42x46x8 8x46x50x9 8x52x58x10 8x56x62x10
8x62x68x12 10x72x78x12 10x82x88x12 10x92x98x14 10x102x108x16 10x112x120x18 6x11x14x3 6x13x16x3.5
6x16x20x4 6x18x22x5 6x21x25x5 6x23x28x6 6x26x32x6 6x28x34x7 8x32x38x6 8x36x42x7 8x42x48x8 8x46x54x9
8x52x60x10 8x56x65x10 8x62x72x12 10x72x82x12 10x82x92x12 10x92x102x14 10x102x112x16 10x112x125x18
10x16x20x2.5 10x18x23x3 10x21x26x3 10x23x29x4 10x26x32x4 10x28x35x4 10x32x40x5 10x36x45x5 10x42x52x6
10x46x56x7
"""


def test_the_splines_are_the_45_of_gost_1139() -> None:
    ours = {
        f"{p.number}x{p.sizes['width'].value / MM:g}"
        for p in standard_parts()
        if p.type == "spline"
    }
    assert ours == set(SPLINES.split())


# Tapers: ends and lengths of ANSI B5.10-1981 (Morse 0 to 7 with shank lengths) and Jacobs, memory.

MORSE = """
0 0.3561 0.2520 2.3438 | 1 0.4750 0.3690 2.5625 | 2 0.7000 0.5720 3.1250 | 3 0.9380 0.7780 3.8750
4 1.2310 1.0200 4.8750 | 5 1.7480 1.4750 6.1250 | 6 2.4940 2.1160 8.5625 | 7 3.2700 2.7500 11.6250
"""
JACOBS = """
0 0.2500 0.2284 0.4375 | 1 0.3840 0.3334 0.6563 | 2 0.5590 0.4876 0.8750
2A_(short) 0.5488 0.4876 0.7500 | 3 0.8110 0.7461 1.2100
4 1.1240 1.0372 1.6563 | 5 1.4130 1.3161 1.8750
6 0.6760 0.6241 1.0000 | 33 0.6240 0.5605 1.0000
"""


@pytest.mark.parametrize(("letters", "table"), [("MT", MORSE), ("JT", JACOBS)])
def test_every_taper_has_the_ends_and_length_of_ansi_b5_10(letters: str, table: str) -> None:
    for line in table.replace("\n", "|").strip("|").split("|"):
        name, *figures = line.split()
        part = row(f"{letters} {name.replace('_', ' ')}")
        held = [part.sizes[n].value / INCH for n in ("large-end", "small-end", "length")]
        assert held == pytest.approx([float(f) for f in figures], abs=6e-5), name


# Chains: ASME B29.1-2011, double strand, memory, inches: pitch, roller, width, pin, strands apart

DOUBLE_CHAINS = """
35 0.375 0.200 0.188 0.141 0.399 | 40 0.500 0.313 0.313 0.156 0.566
50 0.625 0.400 0.375 0.200 0.713 | 60 0.750 0.469 0.500 0.234 0.897
80 1.000 0.625 0.625 0.312 1.153 | 100 1.250 0.750 0.750 0.375 1.408
120 1.500 0.875 1.000 0.437 1.789 | 140 1.750 1.000 1.000 0.500 1.924
160 2.000 1.125 1.250 0.562 2.305 | 180 2.250 1.406 1.406 0.687 2.592
200 2.500 1.562 1.500 0.781 2.817 | 240 3.000 1.875 1.875 0.937 3.458
"""


@pytest.mark.parametrize("line", DOUBLE_CHAINS.replace("\n", "|").strip("|").split("|"))
def test_a_double_chain_is_as_the_american_standard_has_it(line: str) -> None:
    # The width there is nominal, ours the least of ISO 606: up to 0.011 in less.
    number, *figures = line.split()
    pitch, roller, width, pin, strand = (float(f) for f in figures)
    (chain,) = (
        p
        for p in standard_parts()
        if p.kind == "chain" and any(s.text == f"ASME {number}-2" for s in p.spellings)
    )
    held = {name: size.value / INCH for name, size in chain.sizes.items()}
    assert held["pitch"] == pytest.approx(pitch, abs=1e-9)
    assert (held["roller"], held["pin"], held["strand-pitch"]) == pytest.approx(
        (roller, pin, strand), abs=5e-4
    )
    assert -0.011 < held["inner-width"] - width <= 0


# V-belts


@pytest.mark.parametrize(
    ("section", "top", "height"),
    [
        # RMA IP-20:1988, memory: A 1/2 × 5/16, B 21/32 × 13/32, C 7/8 × 17/32, D 1 1/4 × 3/4 in.
        ("A", 12.7, 7.9),
        ("B", 16.7, 10.3),
        ("C", 22.2, 13.5),
        ("D", 31.75, 19.05),
        # ISO 4184:1992, memory, rounded: 10 × 8, 13 × 10, 16 × 13, 22 × 18 mm.
        ("SPZ", 10, 8),
        ("SPA", 13, 10),
        ("SPB", 16, 13),
        ("SPC", 22, 18),
    ],
)
def test_a_belt_section_is_as_wide_and_high_as_its_standard_says(
    section: str, top: float, height: float
) -> None:
    held = row(f"V-BELT {section}").sizes
    for name, figure in (("top-width", top), ("height", height)):
        size = held[name]
        low, high = size.value + (size.lower or 0), size.value + (size.upper or 0)
        assert low - 0.35 * MM <= figure * MM <= high + 0.35 * MM, name


@pytest.mark.parametrize(
    ("number", "outside_in"),
    [
        # RMA IP-20:1988, memory: outside = number + 2 (A), 3 (B), 4 (C), 5 (D) inches; over 210
        # only 1.5 (B), 2 (C), 2.5 (D) more.
        ("A50", 52),
        ("B210", 213),
        ("C210", 214),
        ("D210", 215),
        ("B240", 241.5),
        ("C270", 272),
        ("D300", 302.5),
    ],
)
def test_an_inch_belts_outside_follows_its_number_and_less_above_210(
    number: str, outside_in: float
) -> None:
    assert row(number).sizes["outside-length"].value == round(outside_in * INCH)


# ISO 4184:1992, memory.

ADDED = {"A": 1.3, "B": 1.8, "C": 2.9, "D": 3.3}
"""Inches from the inside to the pitch length of a classical belt (ISO 4184:1992, memory)."""


def test_the_pitch_length_printed_beside_each_number_agrees_with_its_inside_length() -> None:
    # Two columns: the inside length by rule, and the pitch length a table prints, rounded to 5 mm.
    seen = 0
    for belt in (p for p in standard_parts() if p.maker == "RMA IP-20" and "length" in p.sizes):
        pitch = belt.sizes["inside-length"].value + round(ADDED[belt.number[0]] * INCH)
        assert abs(belt.sizes["length"].value - pitch) <= 5 * MM, belt.number
        seen += 1
    assert seen > 100


# Bushes


@pytest.mark.parametrize(
    "three",
    [
        # ISO 2795:1991, memory.
        "12x18x12",
        "12x18x16",
        "16x22x16",
        "10x16x12",
        "12x18x18",
    ],
)
def test_a_sintered_bush_that_others_fit_is_in_the_table(three: str) -> None:
    assert mm_of(row(f"ISO 2795 {three}"), *BOUNDARY) == tuple(map(float, three.split("x")))


def test_an_inch_wrapped_bush_fits_the_housing_of_its_size() -> None:
    # Memory: a bush of 1 1/2 in bore has a wall of 5/64 in, so its housing is 1 21/32 in.
    outsides = {
        p.sizes["outside"].value / INCH
        for p in standard_parts()
        if p.type == "wrapped bush, inch" and p.sizes["bore"].value == 3 * INCH // 2
    }
    assert outsides == {1.65625}


# Sealing washers: DIN 7603:1985, memory. Disc springs: DIN 2093:2006, memory.

COPPER = "6x10x1 8x12x1 10x14x1 12x16x1.5 14x18x1.5 16x20x1.5 18x22x1.5 20x24x1.5 24x30x2 30x36x2"


@pytest.mark.parametrize("three", COPPER.split())
def test_a_copper_washer_is_as_din_7603_has_it(three: str) -> None:
    # The inside is the nominal, or 0.2 more.
    nominal, outside, thickness = map(float, three.split("x"))
    part = row(f"DIN 7603 A {three}")
    assert mm_of(part, "outside", "thickness") == (outside, thickness)
    assert mm_of(part, "bore")[0] in (nominal, nominal + 0.2)


@pytest.mark.parametrize(
    ("number", "bore", "thickness", "cone"),
    [
        # DIN 2093:2006, memory: series and De, then Di, t, h0.
        ("A 8", 4.2, 0.4, 0.2),
        ("A 20", 10.2, 1.1, 0.45),
        ("A 31.5", 16.3, 1.75, 0.7),
        ("A 50", 25.4, 3, 1.1),
        ("B 31.5", 16.3, 1.25, 0.9),
        ("B 50", 25.4, 2, 1.4),
        ("B 80", 41, 3, 2.3),
    ],
)
def test_a_disc_spring_is_as_din_2093_has_it(
    number: str, bore: float, thickness: float, cone: float
) -> None:
    part = row(f"DIN 2093 {number}")
    assert mm_of(part, "bore", "thickness") == (bore, thickness)
    if "height" in part.sizes:
        assert mm_of(part, "height")[0] - thickness == pytest.approx(cone, abs=1e-9)


def test_every_disc_spring_keeps_the_ratio_of_its_series() -> None:
    # DIN 2093:2006, memory: series A has De/t of about 18 and
    # h0/t of about 0.4, series B about 28 and 0.75.
    for part in (p for p in standard_parts() if p.type == "disc spring"):
        outside, thickness = mm_of(part, "outside", "thickness")
        ratio, cone = (18, 0.4) if " A " in part.number else (28, 0.75)
        assert outside / thickness == pytest.approx(ratio, rel=0.15), part.number
        if "height" in part.sizes:
            free = (mm_of(part, "height")[0] - thickness) / thickness
            assert free == pytest.approx(cone, rel=0.3), part.number


# Hexagons: BS 190:1924 (large) and BS 1083:1951 (small), memory: large, jaw in inches, small

WHITWORTH = """
1/8 0.3438 - | 3/16 0.445 1/4 | 1/4 0.525 5/16 | 5/16 0.600 3/8 | 3/8 0.710 7/16 | 7/16 0.820 1/2
1/2 0.920 9/16 | 9/16 1.010 5/8 | 5/8 1.100 11/16 | 11/16 1.200 3/4 | 3/4 1.300 7/8
"""


@pytest.mark.parametrize("line", WHITWORTH.replace("\n", "|").strip("|").split("|"))
def test_a_spanner_fits_the_large_hexagon_and_the_next_size_of_the_small(line: str) -> None:
    large, inches, small = line.split()
    opening = round(float(inches) * INCH)
    part = row(f"bolt head and nut {large} BSW large hexagon", "other")
    assert part.sizes["across-flats"].value == opening
    if small != "-":
        name = f"bolt head and nut {small} BSF"
        fine = [p for p in standard_parts() if p.number in (name, f"{name}/BSW small hexagon")]
        assert [p.sizes["across-flats"].value for p in fine] == [opening]


# ISO 4014:2011 and DIN 931:1987 in the Python library "bd_warehouse" by gumyr, 2023, hexagon heads.

ISO_4014 = "6:10 8:13 10:16 12:18 14:21 16:24 18:27 22:34 24:36 27:41 30:46 36:55 42:65 48:75 64:95"
DIN_931 = "6:10 8:13 10:17 12:19 14:22 16:24 18:27 20:30 22:32 24:36 27:41 30:46 36:55"


@pytest.mark.parametrize(("pairs", "suffix"), [(ISO_4014, ""), (DIN_931, " older")])
def test_metric_hexagons_are_those_of_iso_4014_and_of_din_931_before_it(
    pairs: str, suffix: str
) -> None:
    for pair in pairs.split():
        size, _, flats = pair.partition(":")
        part = row(f"bolt head and nut M{size}{suffix}", "other")
        assert mm_of(part, "across-flats") == (float(flats),), size


# What bearings sit on and in: DIN 736:1984, memory


@pytest.mark.parametrize(
    ("number", "three"),
    [
        # ISO 9628:2006, memory.
        ("UC204", (20, 47, 31)),
        ("UC205", (25, 52, 34.1)),
        ("UC206", (30, 62, 38.1)),
        ("UC207", (35, 72, 42.9)),
        ("UC208", (40, 80, 49.2)),
    ],
)
def test_an_insert_bearing_is_as_iso_9628_has_it(
    number: str, three: tuple[float, float, float]
) -> None:
    assert mm_of(row(number), *BOUNDARY) == three


# DIN 736:1984, memory: block and shaft.

BLOCKS = (
    "505:20 506:25 507:30 508:35 509:40 510:45 511:50 512:55 513:60 515:65 516:70 517:75 518:80 "
    "520:90 522:100"
)


@pytest.mark.parametrize("pair", BLOCKS.split())
def test_a_block_takes_the_bearing_and_sleeve_of_its_number(pair: str) -> None:
    # DIN 736:1984, memory: block 5xx takes 12xx K on sleeve H 2xx.
    number, _, shaft = pair.partition(":")
    block = row(f"SN {number}")
    assert mm_of(block, "shaft") == (float(shaft),)
    assert f"12{number[1:]}K (H2{number[1:]}," in block.note
    assert mm_of(row(f"H2{number[1:]}"), "bore") == (float(shaft),)


def test_a_felt_ring_and_its_groove_are_as_din_5419_has_them() -> None:
    # DIN 5419:1959, memory: for shaft 45 a groove of 58, 46 beside the shaft, 4 wide, 14°.
    felt = row("felt ring 45")
    assert mm_of(felt, "shaft", "groove") == (45, 58)
    (line,) = (r for r in read_table("felt_ring") if r["shaft_mm"] == "45")
    assert (line["groove_inner_mm"], line["groove_width_outer_mm"]) == ("46", "4")


# Rubber: ISO 3302-1:1996, table 1, class M3 (F and C)

MOULDINGS = """
4 0.25 0.40 | 6.3 0.25 0.40 | 10 0.30 0.50 | 16 0.40 0.60 | 25 0.50 0.80 | 40 0.60 1.00
63 0.80 1.30 | 100 1.00 1.60 | 160 1.30 2.00
"""


def test_the_moulding_tolerances_are_those_of_the_standards_own_table() -> None:
    lines = [line.split() for line in MOULDINGS.replace("\n", "|").strip("|").split("|")]
    rows = {r["up_to_mm"]: r for r in read_table("rubber_mould_tolerance") if r["unit"] == "mm"}
    for up_to, fixed, closing in lines:
        held = rows[up_to]
        assert (float(held["M3_F"]), float(held["M3_C"])) == (float(fixed), float(closing)), up_to
