"""Keys and washers against figures that others published, each with where it stands.

None of these figures was taken from our own tables.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from xref.domain.part import Part
from xref.standards.families import standard_parts
from xref.tables import Row, read_table

MM = 1_000_000
INCH = 25_400_000


def parts(type_: str) -> dict[str, Part]:
    return {p.number: p for p in standard_parts() if p.type == type_}


def figures(table: str) -> list[list[str]]:
    return [line.split() for line in table.replace("\n", "|").split("|") if line.strip()]


# Parallel keys: DIN 6885-1:2021 in the Python package "din6885" by hanslhansl: shaft up to, width,
# height and depth in the shaft; the depths in the hub to 75 mm are ISO 773:1969, memory.

KEYS = """
8 2 2 1.2 1.0 | 10 3 3 1.8 1.4 | 12 4 4 2.5 1.8 | 17 5 5 3 2.3 | 22 6 6 3.5 2.8 | 30 8 7 4 3.3
38 10 8 5 3.3 | 44 12 8 5 3.3 | 50 14 9 5.5 3.8 | 58 16 10 6 4.3 | 65 18 11 7 4.4 | 75 20 12 7.5 4.9
85 22 14 9 - | 95 25 14 9 - | 110 28 16 10 - | 130 32 18 11 - | 150 36 20 12 - | 170 40 22 13 -
200 45 25 15 - | 230 50 28 17 - | 260 56 32 20 - | 290 63 32 20 - | 330 70 36 22 -
380 80 40 25 - | 440 90 45 28 - | 500 100 50 31 -
"""


def key_lines(kind: str) -> list[Row]:
    return [r for r in read_table("pin") if r["kind"] == kind]


def test_every_metric_key_its_shafts_and_keyways_are_those_of_din_6885() -> None:
    ours = key_lines("parallel key")
    least = 6.0
    for line, (most, width, height, shaft, hub) in zip(ours, figures(KEYS), strict=True):
        names = ("shaft_from", "shaft_to", "width", "height", "keyway_depth_shaft")
        expected = [least, *map(float, (most, width, height, shaft))]
        assert [float(line[name]) for name in names] == expected
        assert hub == "-" or float(line["keyway_depth_hub"]) == float(hub), line["nominal"]
        key = parts("parallel key")[f"ISO 773 {width}x{height}"].sizes
        assert (key["width"].value, key["height"].value) == (int(width) * MM, int(height) * MM)
        least = float(most)


# Their lengths to 75 mm: DIN 6885-1:1968, memory.

LENGTHS = "6 20 6 36 8 45 10 56 14 70 18 90 22 110 28 140 36 160 45 180 50 200 56 220"


def test_the_first_metric_keys_are_made_in_the_lengths_of_din_6885() -> None:
    ours = [line[c] for line in key_lines("parallel key") for c in ("length_min", "length_max")]
    assert [length for length in ours if length] == LENGTHS.split()


# Collins, Busby and Staab, Mechanical Design of Machine Elements and Machines, 2nd ed., 2010,
# table 8.1 (ANSI B17.1).

SQUARE = """
7/16 3/32 | 9/16 1/8 | 7/8 3/16 | 1_1/4 1/4 | 1_3/8 5/16 | 1_3/4 3/8 | 2_1/4 1/2 | 2_3/4 5/8
3_1/4 3/4 | 3_3/4 7/8 | 4_1/2 1 | 5_1/2 1_1/4 | 6_1/2 1_1/2
"""


def inches(text: str) -> Fraction:
    return sum((Fraction(piece) for piece in text.split("_")), Fraction(0))


def test_every_square_inch_key_serves_the_shafts_of_a_textbooks_table() -> None:
    # Collins, Busby and Staab, Mechanical Design of Machine Elements and Machines, 2nd ed., 2010,
    # table 8.1 (ANSI B17.1).
    ours = key_lines("parallel key (square)")
    for line, (most, side) in zip(ours, figures(SQUARE), strict=True):
        assert Fraction(line["shaft_to"]) == inches(most)
        assert Fraction(line["width"]) == Fraction(line["height"]) == inches(side)


# Metric Woodruff keys: ISO 3912:1977, series 1, memory: shaft up to, width,
# height, diameter, depth in the shaft and in the hub.

ISO_3912 = """
4 1 1.4 4 1.0 0.6 | 5 1.5 2.6 7 2.0 0.8 | 6 2 2.6 7 1.8 1.0 | 7 2 3.7 10 2.9 1.0
8 2.5 3.7 10 2.7 1.2 | 10 3 5 13 3.8 1.4 | 12 3 6.5 16 5.3 1.4 | 14 4 6.5 16 5.0 1.8
16 4 7.5 19 6.0 1.8 | 18 5 6.5 16 4.5 2.3 | 20 5 7.5 19 5.5 2.3 | 22 5 9 22 7.0 2.3
25 6 9 22 6.5 2.8 | 28 6 10 25 7.5 2.8
"""


def test_every_metric_woodruff_key_is_as_iso_3912_has_it() -> None:
    ours = [line for line in key_lines("Woodruff key") if line["standard"].startswith("ISO 3912")]
    depths = ("shaft_to", "keyway_depth_shaft", "keyway_depth_hub")
    for line, (most, width, height, across, *hub) in zip(ours, figures(ISO_3912), strict=True):
        assert [float(line[name]) for name in depths] == [float(most), *map(float, hub)]
        sizes = parts("woodruff key")[f"ISO 3912 {width}x{height}"].sizes
        held = [sizes[name].value / MM for name in ("width", "height", "diameter")]
        assert held == [float(width), float(height), float(across)]


# Woodruff keys: Machinery's Handbook, 31st edition, 2020, page 2557, table 8 (ANSI B17.2):
# width by diameter, height most and least.

WOODRUFF = """
1/4 .109 .104 1/16 | 5/16 .140 .135 1/16 3/32 | 3/8 .172 .167 1/16 3/32 1/8
1/2 .203 .198 1/16 3/32 1/8 | 5/8 .250 .245 3/32 1/8 5/32 3/16 | 3/4 .313 .308 1/8 5/32 3/16 1/4
7/8 .375 .370 5/32 3/16 7/32 1/4 | 1 .438 .433 3/16 7/32 1/4 5/16 3/8
1_1/8 .484 .479 3/16 7/32 1/4 5/16 | 1_1/4 .547 .542 3/16 7/32 1/4 5/16 3/8
1_3/8 .594 .589 1/4 5/16 3/8 | 1_1/2 .641 .636 1/4 5/16 3/8
"""


def test_the_woodruff_keys_of_a_handbook_are_in_the_table_with_their_limits() -> None:
    keys = [p for p in parts("woodruff key").values() if p.maker == "ANSI B17.2"]
    seen = 0
    for across, most, least, *widths in figures(WOODRUFF):
        ours = [
            p.sizes
            for p in keys
            if p.sizes["diameter"].value == round(inches(across) * INCH)
            and p.sizes["height"].value == round(Fraction(most) * INCH)
        ]
        assert sorted(s["width"].value for s in ours) == [round(inches(w) * INCH) for w in widths]
        for sizes in ours:
            height = sizes["height"]
            assert height.value + (height.lower or 0) == round(Fraction(least) * INCH)
            assert (sizes["diameter"].lower, sizes["diameter"].upper) == (-254_000, 0)
            assert (sizes["width"].lower, sizes["width"].upper) == (0, 25_400)
            seen += 1
    assert seen == 41


def test_a_woodruff_keys_number_is_its_width_and_diameter() -> None:
    # The same handbook: the last two digits are eighths of an inch of diameter, those before them
    # thirty-seconds of width.
    for number, key in parts("woodruff key").items():
        digits = number.removeprefix("ANSI B17.2 ").partition("-")[0]
        if key.maker == "ANSI B17.2":
            eighths = Fraction(digits[len(digits.partition(".")[0]) - 2 :])
            width = Fraction(digits.partition(".")[0][:-2])
            assert key.sizes["diameter"].value == round(eighths * INCH / 8), number
            assert key.sizes["width"].value == round(width * INCH / 32), number


# Plain washers: ISO 7089:2000 and ISO 7091:2000 in the library "cq_warehouse" by gumyr, 2022,
# table of plain washers: inside, outside and the most of the thickness. "Fasteners Workbench" by
# shaise, 2022, has the same for ISO 7089; its ISO 7091 repeats the thickness of ISO 7089.

ISO_7089 = """
1.6 1.7 4 .35 | 2 2.2 5 .35 | 2.5 2.7 6 .55 | 3 3.2 7 .55 | 4 4.3 9 .9 | 5 5.3 10 1.1
6 6.4 12 1.8 | 8 8.4 16 1.8 | 10 10.5 20 2.2 | 12 13 24 2.7 | 16 17 30 3.3 | 20 21 37 3.3
24 25 44 4.3 | 30 31 56 4.3 | 36 37 66 5.6 | 42 45 78 9 | 48 52 92 9 | 56 62 105 11 | 64 70 115 11
"""
ISO_7091 = """
1.6 1.8 4 .4 | 2 2.4 5 .4 | 2.5 2.9 6 .6 | 3 3.4 7 .6 | 4 4.5 9 1 | 5 5.5 10 1.2 | 6 6.6 12 1.9
8 9 16 1.9 | 10 11 20 2.3 | 12 13.5 24 2.8 | 16 17.5 30 3.6 | 20 22 37 3.6 | 24 26 44 4.6
30 33 56 4.6 | 36 39 66 6 | 42 45 78 9.2 | 48 52 92 9.2 | 56 62 105 11.2 | 64 70 115 11.2
"""


@pytest.mark.parametrize(("standard", "table"), [("ISO 7089", ISO_7089), ("ISO 7091", ISO_7091)])
def test_every_metric_washer_is_as_its_standard_has_it(standard: str, table: str) -> None:
    ours = [p for number, p in parts("flat washer").items() if number.startswith(standard)]
    for washer, (thread, *sizes) in zip(ours, figures(table), strict=True):
        assert washer.number == f"{standard} M{thread}"
        inside, outside, most = (round(float(size) * MM) for size in sizes)
        thickness = washer.sizes["thickness"]
        assert (washer.sizes["bore"].value, washer.sizes["outside"].value) == (inside, outside)
        assert thickness.value + (thickness.upper or 0) == most, thread


# ISO 273:1979, close series, in the source of "FreeCAD", FeatureHole by Juergen Riegel, 2011.

CLOSE_HOLES = """
1:1.1 1.2:1.3 1.4:1.5 1.6:1.7 2:2.2 2.5:2.7 3:3.2 3.5:3.7 4:4.3 5:5.3 6:6.4 7:7.4 8:8.4 10:10.5
12:13 14:15 16:17 18:19 20:21 22:23 24:25 27:28 30:31 36:37 39:40 42:43 45:46 48:50 52:54 56:58
60:62 64:66 68:70
"""


def test_a_din_125_washer_has_the_close_hole_for_its_bolt() -> None:
    # ISO 273:1979, close series, in the source of "FreeCAD", FeatureHole by Juergen Riegel, 2011.
    for cell in CLOSE_HOLES.split():
        thread, _, hole = cell.partition(":")
        washer = parts("flat washer")[f"DIN 125 A M{thread}"]
        assert washer.sizes["bore"].value == round(float(hole) * MM), thread


# American washers, type B: ASME B18.21.1-2009 in "Fasteners Workbench" by shaise, 2022 (inside,
# then narrow, regular and wide outside, thickness), in thousandths of an inch.

TYPE_B = """
No._0 68 125/25 188/25 250/25 | No._1 84 156/25 219/25 281/32 | No._2 94 188/25 250/32 344/32
No._3 109 219/25 312/32 406/40 | No._4 125 250/32 375/40 438/40 | No._5 141 281/32 406/40 500/40
No._6 156 312/32 438/40 562/40 | No._8 188 375/40 500/40 625/63 | No._10 203 406/40 562/40 734/63
No._12 234 438/40 625/63 875/63 | 1/4 281 500/63 734/63 1000/63 | 5/16 344 625/63 875/63 1125/63
3/8 406 734/63 1000/63 1250/100 | 7/16 469 875/63 1125/63 1469/100
1/2 531 1000/63 1250/100 1750/100 | 9/16 594 1125/63 1469/100 2000/100
5/8 656 1250/100 1750/100 2250/160 | 3/4 812 1375/100 2000/100 2500/160
7/8 938 1469/100 2250/160 2750/160 | 1 1062 1750/100 2500/160 3000/160
1_1/8 1188 2000/100 2750/160 3250/160 | 1_1/4 1312 2250/160 3000/160 -
1_3/8 1438 2500/160 - - | 1_1/2 1562 2750/160 - 4000/250 | 1_5/8 1750 3000/160 3750/250 4250/250
1_3/4 1875 3250/160 4000/250 4500/250 | 1_7/8 2000 3500/250 4250/250 4750/250
2 2125 3750/250 4500/250 5000/250 | 2_1/4 2375 4000/250 5000/250 5500/375
2_1/2 2625 4500/250 5500/375 6000/375 | 2_3/4 2875 5000/250 6000/375 6500/375
3 3125 5500/375 6500/375 7000/375
"""


@pytest.mark.parametrize(("series", "column"), [("narrow", 2), ("regular", 3), ("wide", 4)])
def test_every_type_b_washer_is_as_asme_b18_21_1_has_it(series: str, column: int) -> None:
    # "-": the regular 1 1/2 is 35 in outside there, the regular 1 3/8 is 0.250 thick (0.160 in a
    # handbook); the wide 1 1/4 and 1 3/8 break the steps of their neighbours.
    for line in figures(TYPE_B):
        name, inside, cell = line[0].replace("_", " "), line[1], line[column]
        if cell != "-":
            outside, _, thick = cell.partition("/")
            washer = parts("flat washer")[f"ASME B18.21.1 Type B {series} {name}"].sizes
            held = [washer[size].value * 1000 / INCH for size in ("bore", "outside", "thickness")]
            expected = [float(inside), float(outside), float(thick)]
            assert held == pytest.approx(expected, abs=0.51), name
