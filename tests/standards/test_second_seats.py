"""Thrust and needle bearings, sleeves and strip against figures of others."""

from __future__ import annotations

import re

import pytest

from xref.domain.part import BOUNDARY, Part
from xref.standards.families import standard_parts
from xref.tables import read_table

MM = 1_000_000


def parts(type_: str) -> dict[str, Part]:
    return {p.number: p for p in standard_parts() if p.type.startswith(type_)}


# Double-direction thrust balls take the cages and housing washers of the single ones of the same
# digits (ISO 104), so their outsides are alike: "BOLTS", the open library of
# standard parts by J. Reinhardt and others, 2014, thrust bearings: bore code, bore, outside,
# height.

SINGLE = {
    "2": """
05 25 47 15 | 06 30 52 16 | 07 35 62 18 | 08 40 68 19 | 09 45 73 20 | 10 50 78 22 | 11 55 90 25
12 60 95 26 | 13 65 100 27 | 14 70 105 27 | 15 75 110 27 | 16 80 115 28 | 17 85 125 31
18 90 135 35 | 20 100 150 38 | 22 110 160 38 | 24 120 170 39 | 26 130 190 45 | 28 140 200 46
30 150 215 50 | 32 160 225 51 | 34 170 240 55 | 36 180 250 56 | 38 190 270 62 | 40 200 280 62
44 220 300 63
""",
    "3": """
05 25 52 18 | 06 30 60 21 | 07 35 68 24 | 08 40 78 26 | 09 45 85 28 | 10 50 95 31 | 11 55 105 35
12 60 110 35 | 13 65 115 36 | 14 70 125 40 | 15 75 135 44 | 16 80 140 44 | 17 85 150 49
18 90 155 50 | 20 100 170 55 | 22 110 190 63 | 24 120 210 70 | 26 130 225 75 | 28 140 240 80
30 150 250 80 | 32 160 270 87 | 34 170 280 87 | 36 180 300 95 | 38 190 320 105 | 40 200 340 110
""",
    "4": """
05 25 60 24 | 06 30 70 28 | 07 35 80 32 | 08 40 90 36 | 09 45 100 39 | 10 50 110 43
11 55 120 48 | 12 60 130 51 | 13 65 140 56 | 14 70 150 60 | 15 75 160 65 | 16 80 170 68
17 85 180 72 | 18 90 190 77 | 20 100 210 85 | 22 110 230 95 | 24 120 250 102
""",
}


def cells(table: str) -> list[list[str]]:
    return [cell.split() for cell in table.replace("\n", "|").strip("|").split("|")]


@pytest.mark.parametrize("diameters", SINGLE)
def test_a_double_thrust_bearing_has_the_outside_of_the_single_one(diameters: str) -> None:
    doubles = parts("double direction thrust ball")
    lines = {line["designation"]: line for line in read_table("thrust_double")}
    for code, *figures in cells(SINGLE[diameters]):
        bore, outside, height = map(float, figures)
        name = f"52{diameters}{code}"
        sizes = doubles[name].sizes
        assert sizes["outside"].value == outside * MM, name
        # It is higher than one bearing and lower than two, and its housing washers go over the
        # single one's shaft, which is thicker than its own.
        assert sizes["bore"].value < bore * MM, name
        assert 1.5 * height < sizes["width"].value / MM < 2 * height, name
        if least := lines[name]["housing_washer_bore_min_mm"]:
            assert 0 < float(least) - bore <= 3, name


# Needle bearings with machined rings: ISO 1206:2001, series 49, memory.

NA49 = """
00 10 22 13 | 01 12 24 13 | 02 15 28 13 | 03 17 30 13 | 04 20 37 17 | 05 25 42 17 | 06 30 47 17
07 35 55 20 | 08 40 62 22 | 09 45 68 22 | 10 50 72 22 | 11 55 80 25 | 12 60 85 25 | 14 70 100 30
16 80 110 30 | 20 100 140 40
"""


def test_a_needle_bearing_with_its_ring_is_as_iso_1206_has_it() -> None:
    bearings = parts("needle roller")
    for code, *figures in cells(NA49):
        sizes = bearings[f"NA49{code}"].sizes
        assert [sizes[name].value for name in BOUNDARY] == [int(f) * MM for f in figures], code
        bare = bearings[f"RNA49{code}"].sizes
        assert [bare[name].value for name in BOUNDARY[1:]] == [int(f) * MM for f in figures[1:]]


# Sleeves and nuts: the lock nuts of ISO 2982-2:2013 and DIN 981:2009 with their threads, memory.

NUTS = "KM4:M20x1 KM6:M30x1.5 KM7:M35x1.5 KM8:M40x1.5 KM9:M45x1.5 KM10:M50x1.5"


def test_a_sleeve_carries_the_thread_of_its_nut() -> None:
    threads = dict(pair.split(":") for pair in NUTS.split())
    seen = set()
    for line in read_table("sleeve"):
        number = re.fullmatch(r"(?:KML?|HM(?:30)?)(\d\d?)T?", line["nut"])
        if number and line["thread"]:
            thread = line["thread"]
            assert threads.get(line["nut"], thread) == thread, line["designation"]
            assert re.sub(r"^(?:M|Tr)|x.*", "", thread) == str(5 * int(number[1])), line
            seen.add(line["nut"])
    assert seen >= set(threads)


# Rubber cord: GOST 6467-79, clauses 1.2 and 1.3 and tables 2 and 3.

CORD = "2 2.5 3.2 4 5 6.3 7.1 8 9 10 11 12 14 16 18 20 22 25 28 32 36 40 45 50 56 63"
SOFT = ".2 .2 .3 .4 .5 .6 .7 .8 .9 1 1.1 1.1 1.2 1.3 1.4 1.5 1.5 1.5 1.7 1.8 1.9 2 2.2 2.5 2.5 3"
HARD = ".2 .2 .3 .4 .4 .5 .6 .7 .8 .9 1 1 1.1 1.3 1.4 1.5 1.5 1.5 1.5 1.5 1.6 1.7 1.8 2 2.2 2.5"
STRIP = """
3.2 6.3 20 | 4 6.3 25 | 5 6.3 32 | 6.3 8 40 | 7.1 9 50 | 8 10 63 | 9 11 63 | 10 12 63 | 11 14 63
12 16 63 | 14 18 63 | 16 20 63 | 18 22 63 | 20 25 63 | 22 28 63 | 25 32 63 | 28 36 63 | 32 40 63
36 45 63 | 40 50 63 | 45 56 63 | 50 63 63
"""
"""Height, least and greatest width; between them every size of ``CORD``."""


def test_rubber_cord_is_made_in_the_sizes_of_the_standards_own_table() -> None:
    lines = read_table("rubber_cord")
    made = CORD.split()
    limits = dict(zip(made, zip(SOFT.split(), HARD.split(), strict=True), strict=True))
    for shape in ("round", "square"):
        assert [line["size_a_mm"] for line in lines if line["shape"] == shape] == made
    strips = {
        (height, width)
        for height, least, most in cells(STRIP)
        for width in made[made.index(least) : made.index(most) + 1]
    }
    ours = {(r["size_a_mm"], r["size_b_mm"]) for r in lines if r["shape"] == "rectangular"}
    assert ours == strips
    for line in lines:
        soft, hard = limits[line["size_b_mm"] or line["size_a_mm"]]
        assert float(line["tol_soft_mm"]) == float(soft), line
        assert float(line["tol_medium_hard_mm"]) == float(hard), line
