"""The threads against figures that others published, each with where it stands.

A published minor diameter is as good as a pitch: major less minor is 1.0825 pitches in the ISO and
unified forms, 1.2807 in Whitworth's and the pipe threads', 1.2 in the BA's. None of these figures
was taken from our own table.
"""

from __future__ import annotations

import re
from fractions import Fraction

import pytest

from xref.domain.part import Part
from xref.standards.families import standard_parts
from xref.tables import read_table

MM = 1_000_000
INCH = 25_400_000
WHITWORTH_DEPTHS = 2 * 0.640327
"""Pitches from the major to the minor diameter: BS 84, twice the depth of the form."""


def threads() -> dict[str, Part]:
    return {p.number: p for p in standard_parts() if p.kind == "thread"}


def cells(table: str) -> list[str]:
    return [cell.strip() for cell in re.split(r"[|\n]", table) if cell.strip()]


def held(name: str, per: int) -> tuple[float, float]:
    sizes = threads()[name].sizes
    return sizes["diameter"].value / per, sizes["pitch"].value / per


# ISO metric: ISO 261 in the source of "FreeCAD", FeatureHole by Juergen Riegel, 2011. It has
# a fine M35x2 that ISO 261 has not (memory: 35 only with 1.5, for locking nuts).

COARSE = """
1 0.25 1.2 0.25 1.4 0.3 1.6 0.35 1.8 0.35 2 0.4 2.2 0.45 2.5 0.45 3 0.5 3.5 0.6 4 0.7 5 0.8 6 1 7 1
8 1.25 9 1.25 10 1.5 11 1.5 12 1.75 14 2 16 2 18 2.5 20 2.5 22 2.5 24 3 27 3 30 3.5 36 4 39 4 42 4.5
45 4.5 48 5 52 5 56 5.5 60 5.5 64 6 68 6
"""
FINE = """
1:0.2 1.1:0.2 1.2:0.2 1.4:0.2 1.6:0.2 1.8:0.2 2:0.25 2.2:0.25 2.5:0.35 3:0.35 3.5:0.35 4:0.5 4.5:0.5
5:0.5 5.5:0.5 6:0.75 7:0.75 8:0.75,1 9:0.75,1 10:0.75,1,1.25 11:0.75,1 12:1,1.25,1.5 14:1,1.25,1.5
15:1,1.5 16:1,1.5 17:1,1.5 18:1,1.5,2 20:1,1.5,2 22:1,1.5,2 24:1,1.5,2 25:1,1.5,2 27:1,1.5,2
28:1,1.5,2 30:1,1.5,2,3 32:1.5,2 33:1.5,2,3 35:1.5 36:1.5,2,3 39:1.5,2,3 40:1.5,2,3 42:1.5,2,3,4
45:1.5,2,3,4 48:1.5,2,3,4 50:1.5,2,3 52:1.5,2,3,4 55:1.5,2,3,4 56:1.5,2,3,4 58:1.5,2,3,4
60:1.5,2,3,4 62:1.5,2,3,4 64:1.5,2,3,4 65:1.5,2,3,4 68:1.5,2,3,4 70:1.5,2,3,4,6 72:1.5,2,3,4,6
75:1.5,2,3,4,6 76:1.5,2,3,4,6 80:1.5,2,3,4,6 85:2,3,4,6 90:2,3,4,6 95:2,3,4,6 100:2,3,4,6
"""


def test_every_grease_nipple_screws_into_a_metric_thread_of_iso_261() -> None:
    coarse = COARSE.split()
    known = set(zip(coarse[::2], coarse[1::2], strict=True))
    for entry in FINE.split():
        size, pitches = entry.split(":")
        known |= {(size, pitch) for pitch in pitches.split(",")}
    named = {row["thread"] for row in read_table("grease_nipple") if "x" in row["thread"]}
    assert named == {"M6x1", "M8x1", "M10x1"}
    assert {tuple(thread[1:].split("x")) for thread in named} <= known


def test_every_coarse_metric_thread_has_the_pitch_of_iso_261() -> None:
    sizes = COARSE.split()
    for size, pitch in zip(sizes[::2], sizes[1::2], strict=True):
        assert held(f"M{size}", MM) == (float(size), float(pitch)), size


def test_every_fine_metric_thread_of_iso_261_is_in_the_table() -> None:
    seen = 0
    for cell in FINE.split():
        size, _, pitches = cell.partition(":")
        for pitch in pitches.split(","):
            assert held(f"M{size}x{pitch}", MM) == (float(size), float(pitch)), cell
            seen += 1
    assert seen > 150


# Unified threads: ASME B1.1-2003 in "CosmeticThread3D" by martinproks, 2024.

UNC = """
#1-64 #2-56 #3-48 #4-40 #5-40 #6-32 #8-32 #10-24 #12-24 1/4-20 5/16-18 3/8-16 7/16-14 1/2-13 9/16-12
5/8-11 3/4-10 7/8-9 1-8 1_1/8-7 1_1/4-7 1_3/8-6 1_1/2-6 1_3/4-5 2-4.5 2_1/4-4.5 2_1/2-4 2_3/4-4 3-4
3_1/4-4 3_1/2-4 3_3/4-4 4-4
"""
UNF = """
#0-80 #1-72 #2-64 #3-56 #4-48 #5-44 #6-40 #8-36 #10-32 #12-28 1/4-28 5/16-24 3/8-24 7/16-20 1/2-20
9/16-18 5/8-18 3/4-16 7/8-14 1-12 1_1/8-12 1_1/4-12 1_3/8-12 1_1/2-12
"""
UNEF = "#12-32 1/4-32 5/16-32 3/8-32 7/16-28 1/2-28 9/16-24 5/8-24 3/4-20 7/8-20 1-20"


def inches(size: str) -> Fraction:
    """1 1/8 is an inch and an eighth; #10 is 0.060 + 10 × 0.013 in (ASME B1.1)."""
    if size.startswith("#"):
        return Fraction(60 + 13 * int(size[1:]), 1000)
    return sum((Fraction(part) for part in size.split()), Fraction(0))


@pytest.mark.parametrize(("series", "table"), [("UNC", UNC), ("UNF", UNF), ("UNEF", UNEF)])
def test_every_unified_thread_is_as_asme_b1_1_has_it(series: str, table: str) -> None:
    for cell in table.split():
        name = cell.replace("_", " ")
        size, _, tpi = name.partition("-")
        sizes = threads()[f"{name} {series}"].sizes
        assert sizes["diameter"].value == round(inches(size) * INCH), name
        assert sizes["pitch"].value == round(INCH / Fraction(tpi)), name
    ours = {p for p in threads() if p.endswith(f" {series}")}
    assert series == "UNEF" or len(ours) == len(table.split())


# Whitworth: BS 84:1956, memory: major, threads per inch, minor of the bolt. "CosmeticThread3D" by
# martinproks, 2024, has the same threads per inch.

BSW = """
1/16 60 0.0413 | 3/32 48 0.0670 | 1/8 40 0.0930 | 5/32 32 0.1162 | 3/16 24 0.1341 | 7/32 24 0.1654
1/4 20 0.1860 | 5/16 18 0.2414 | 3/8 16 0.2950 | 7/16 14 0.3460 | 1/2 12 0.3933 | 9/16 12 0.4559
5/8 11 0.5086 | 3/4 10 0.6220 | 7/8 9 0.7327 | 1 8 0.8400 | 1_1/8 7 0.9421 | 1_1/4 7 1.0671
1_3/8 6 1.1616 | 1_1/2 6 1.2866 | 1_5/8 5 1.3689 | 1_3/4 5 1.4939 | 1_7/8 4.5 1.5905 | 2 4.5 1.7155
2_1/4 4 1.9299 | 2_1/2 4 2.1799 | 2_3/4 3.5 2.3842 | 3 3.5 2.6342 | 3_1/4 3.25 2.8561
3_1/2 3.25 3.1061 | 3_3/4 3 3.3232 | 4 3 3.5732 | 4_1/4 2.875 3.8047 | 4_1/2 2.875 4.0547
4_3/4 2.75 4.2766 | 5 2.75 4.5345 | 5_1/2 2.625 5.0123 | 6 2.5 5.4880
"""


@pytest.mark.parametrize("cell", cells(BSW))
def test_a_whitworth_thread_has_the_turns_and_the_core_of_bs_84(cell: str) -> None:
    # 4 3/4 as written here is at odds with itself: 2.75 turns give 4.2843.
    size, tpi, minor = cell.replace("_", " ").rsplit(" ", 2)
    major, pitch = held(f"{size} BSW", INCH)
    assert pitch == pytest.approx(1 / float(tpi), abs=1e-7)
    if size != "4 3/4":
        assert major - WHITWORTH_DEPTHS * pitch == pytest.approx(float(minor), abs=5e-4)


# BS 84:2007, memory; "CosmeticThread3D" by martinproks, 2024, has those to 1 1/2 in.

BSF = """
3/16 32 | 7/32 28 | 1/4 26 | 5/16 22 | 3/8 20 | 7/16 18 | 1/2 16 | 9/16 16 | 5/8 14 | 11/16 14
3/4 12 | 7/8 11 | 1 10 | 1 1/8 9 | 1 1/4 9 | 1 3/8 8 | 1 1/2 8 | 1 3/4 7 | 2 7 | 2 1/4 6 | 2 1/2 6
2 3/4 6 | 3 5 | 3 1/4 5 | 3 1/2 4.5 | 3 3/4 4.5 | 4 4.5
"""


@pytest.mark.parametrize("cell", cells(BSF))
def test_a_fine_whitworth_thread_has_the_turns_of_bs_84(cell: str) -> None:
    size, _, tpi = cell.rpartition(" ")
    assert held(f"{size} BSF", INCH)[1] == pytest.approx(1 / float(tpi), abs=1e-7)


def test_the_fine_whitworth_threads_begin_at_three_sixteenths() -> None:
    # BS 84:2007, memory, and "CosmeticThread3D" by martinproks, 2024; one table had four smaller
    # ones with the turns of BSW.
    fine = [p for p in threads().values() if p.number.endswith(" BSF")]
    assert min(p.sizes["diameter"].value for p in fine) == 3 * INCH // 16


def test_brass_threads_have_26_turns_whatever_their_diameter() -> None:
    # Memory: British Standard Brass, 1/8 to 2 in.
    brass = [p for p in threads().values() if "BSB" in p.number]
    assert len(brass) > 10
    assert {p.sizes["pitch"].value for p in brass} == {round(Fraction(INCH, 26))}


# BA: BS 93:1951, memory, outside and turns per inch (worked from the rounded inch pitch, so up to 1
# in 1000 out).

BA = """
0 0.2362 25.38 | 1 0.2087 28.25 | 2 0.1850 31.35 | 3 0.1614 34.84 | 4 0.1417 38.46 | 5 0.1260 43.10
6 0.1102 47.85 | 7 0.0984 52.91 | 8 0.0866 59.17 | 9 0.0748 64.94 | 10 0.0669 72.46
11 0.0591 81.97 | 12 0.0511 90.91
"""


@pytest.mark.parametrize("cell", cells(BA))
def test_a_ba_thread_is_as_bs_93_has_it_in_inches(cell: str) -> None:
    number, outside, turns = cell.split()
    major, pitch = held(f"{number} BA", INCH)
    assert major == pytest.approx(float(outside), abs=1.01e-4)
    assert 1 / pitch == pytest.approx(float(turns), rel=3e-3)


def test_a_ba_thread_follows_its_law_to_two_figures() -> None:
    # BS 93:1951, memory: each pitch is 0.9 of the one before, from 1 mm; the diameter is 6 p^1.2,
    # both rounded to two figures.
    for number in range(17):
        pitch = 0.9**number
        expected = (float(f"{6 * pitch**1.2:.2g}"), float(f"{pitch:.2g}"))
        assert held(f"{number} BA", MM) == expected


# Pipe threads: ISO 228-1:2000 in the Python library "bd_warehouse" by gumyr, 2023 (major, minor);
# 1 3/8 in "CosmeticThread3D" by martinproks, 2024 (1.745 in).

PIPE = """
1/16 28 7.723 6.561 | 1/8 28 9.728 8.566 | 1/4 19 13.157 11.445 | 3/8 19 16.662 14.950
1/2 14 20.955 18.631 | 5/8 14 22.911 20.587 | 3/4 14 26.441 24.117 | 7/8 14 30.201 27.877
1 11 33.249 30.291 | 1_1/8 11 37.897 34.939 | 1_1/4 11 41.910 38.952 | 1_3/8 11 44.323 41.365
1_1/2 11 47.803 44.845 | 1_3/4 11 53.746 50.788 | 2 11 59.614 56.656 | 2_1/4 11 65.710 62.752
2_1/2 11 75.184 72.226 | 2_3/4 11 81.534 78.576 | 3 11 87.884 84.926 | 3_1/2 11 100.330 97.372
4 11 113.030 110.072 | 4_1/2 11 125.730 122.772 | 5 11 138.430 135.472 | 5_1/2 11 151.130 148.172
6 11 163.830 160.872
"""


@pytest.mark.parametrize("cell", cells(PIPE))
def test_a_pipe_thread_has_the_turns_and_both_diameters_of_iso_228(cell: str) -> None:
    size, tpi, outside, minor = cell.split()
    name = f"G {size.replace('_', ' ')}"
    major, pitch = held(name, MM)
    assert major == float(outside)
    assert pitch == pytest.approx(25.4 / float(tpi), abs=1e-6)
    assert major - WHITWORTH_DEPTHS * pitch == pytest.approx(float(minor), abs=2.1e-3)
    # ISO 7-1 has the same diameters and turns at the gauge plane.
    if taper := threads().get(name.replace("G", "R")):
        assert taper.sizes["diameter"].value == threads()[name].sizes["diameter"].value
        assert taper.sizes["pitch"] == threads()[name].sizes["pitch"]


# ASME B1.20.1-1983, memory: turns, E1 (pitch diameter by hand) and L1, inches.

NPT = """
1/8 27 0.37360 0.162 | 1/4 18 0.49163 0.228 | 3/8 18 0.62701 0.240 | 1/2 14 0.77843 0.320
3/4 14 0.98887 0.339 | 1 11.5 1.23863 0.400 | 1-1/4 11.5 1.58338 0.420 | 1-1/2 11.5 1.82234 0.420
2 11.5 2.29627 0.436 | 2-1/2 8 2.76215 0.682 | 3 8 3.38850 0.766 | 3-1/2 8 3.88881 0.821
4 8 4.38712 0.844 | 5 8 5.44929 0.937 | 6 8 6.50597 0.958
"""


@pytest.mark.parametrize("cell", cells(NPT))
def test_an_american_taper_thread_follows_from_its_published_pitch_diameter(cell: str) -> None:
    # The standard's own rules: E1 = E0 + L1/16 and E0 = D - (0.05 D + 1.1) / n.
    size, tpi, e1, l1 = cell.split()
    n = float(tpi)
    outside = (float(e1) - float(l1) / 16 + 1.1 / n) / (1 - 0.05 / n)
    major, pitch = held(f"{size}-{tpi} NPT", INCH)
    assert pitch == pytest.approx(1 / n, abs=1e-7)
    assert major == pytest.approx(outside, abs=5e-4)
