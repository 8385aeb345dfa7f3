"""Sleeves, blocks, inserts, needles, bushes, tapers, splines and strip; the source beside each."""

from __future__ import annotations

import re

import pytest

from fixtures.rows import INCH, MM, row
from xref.domain.part import Part, StoredSize
from xref.standards.families import standard_parts
from xref.standards.inch_seal import inch_seal_rule
from xref.standards.lookup import find
from xref.standards.rubber_limits import extrusion_limits, moulding_limits, rubber_limits
from xref.standards.seats import sleeves_of
from xref.tables import read_table


@pytest.mark.parametrize(
    ("number", "sizes"),
    [
        # ISO 104, memory: 52205 is 20 × 47 × 28 (its shaft washer's bore is 20).
        ("52205", {"bore": 20, "outside": 47, "width": 28}),
        # ISO 1206, memory: RNA4904 is 25 × 37 × 17, NA4904 with its ring 20 × 37 × 17.
        ("RNA4904", {"bore": 25, "outside": 37, "width": 17}),
        # ISO 2982-1 / DIN 5415, memory: H210 carries a 50 mm bore on a 45 mm shaft, 35 long.
        ("H210", {"bore": 45, "seat": 50, "length": 35}),
        # DIN 736, memory: SN 510 takes 90 mm bearings, centre height 60.
        ("SN 510", {"housing": 90, "centre-height": 60, "shaft": 45}),
        # DIN 71412, memory: the usual M6 × 1 nipple has a 7 mm hexagon and a 6.5 mm head.
        ("DIN 71412 A M6x1 AF7", {"across-flats": 7, "head": 6.5, "diameter": 6, "pitch": 1}),
    ],
)
def test_a_row_has_its_published_sizes(number: str, sizes: dict[str, float]) -> None:
    held = row(number).sizes
    assert {name: held[name].value / MM for name in sizes} == sizes


def test_rna_is_na_of_the_same_digits_without_its_inner_ring() -> None:
    # ISO 1206: the same outside and width. The two come from different tables.
    rings = {p.number: p for p in standard_parts() if p.kind == "bearing"}
    pairs = [(p, rings.get(n[1:])) for n, p in rings.items() if n.startswith("RNA")]
    both = [(bare, whole) for bare, whole in pairs if whole]
    assert len(both) > 40
    for bare, whole in both:
        for name in ("outside", "width"):
            assert bare.sizes[name] == whole.sizes[name], bare.number
        assert bare.sizes["bore"].value > whole.sizes["bore"].value


def test_the_last_two_digits_of_an_inch_insert_are_sixteenths() -> None:
    for insert in (p for p in standard_parts() if re.fullmatch(r"UC\d+-\d+", p.number)):
        sixteenths = int(insert.number.rpartition("-")[2])
        assert insert.sizes["bore"].value * 16 == sixteenths * INCH, insert.number


def test_a_sleeve_is_thinner_than_the_bearing_it_carries() -> None:
    sleeves = [p for p in standard_parts() if p.type in ("adapter sleeve", "withdrawal sleeve")]
    assert len(sleeves) == 314
    assert all(p.sizes["bore"].value < p.sizes["seat"].value for p in sleeves)


def test_a_bearing_with_a_tapered_bore_points_to_its_sleeve_and_nut() -> None:
    said = sleeves_of("1210K")
    assert "H210" in said
    assert "KM10" in said
    assert "maker's data" in said


@pytest.mark.parametrize("bearing", ["1210", "6210K", "1299K"])
def test_a_bearing_without_a_sleeve_points_to_none(bearing: str) -> None:
    assert sleeves_of(bearing) == ""


def test_a_plummer_block_takes_the_bearing_whose_outside_is_its_seat() -> None:
    # Checked against the bearings' own tables: SN 5xx with 12xxK, SN 6xx with 13xxK.
    checked = 0
    for block in read_table("plummer_block"):
        first = re.match(r"(\d+)K ", block["fits"])
        if first:
            bearing = row(first[1], "bearing")
            assert bearing.sizes["outside"].value / MM == float(block["seat_bore_mm"]), block
            checked += 1
    assert checked > 20


def test_strip_carries_its_published_limits() -> None:
    # GOST 6467-79: the 2 mm cord ± 0.2; a 4 × 20 strip's width ± 1.5, its thickness as a square's.
    assert row("GOST 6467 D2").sizes["diameter"].upper == 200_000
    strip = row("GOST 6467 4x20").sizes
    assert strip["width"].upper == 1_500_000
    assert strip["thickness"].upper == row("GOST 6467 4x4").sizes["thickness"].upper


@pytest.mark.parametrize(
    ("nm", "extruded", "moulded"),
    # ISO 3302-1 E3 and M3 C, as two and three tables have them.
    [(3 * MM, 700_000, 400_000), (5 * MM, 800_000, 400_000), (20 * MM, 1_600_000, 800_000)],
)
def test_new_rubber_may_be_off_by_the_class_of_iso_3302(
    nm: int, extruded: int, moulded: int
) -> None:
    one, other = extrusion_limits(nm), moulding_limits(nm)
    assert one is not None
    assert other is not None
    assert (one.lower, one.upper) == (-extruded, extruded)
    assert (other.lower, other.upper) == (-moulded, moulded)


@pytest.mark.parametrize(
    ("kind", "words", "name", "limit"),
    [
        # A section of 20 mm: E3 is 1.6 mm, M3 across the closing face 0.8 mm.
        ("strip", "door strip", "width", 1_600_000),
        ("strip", "moulded strip", "width", 800_000),
        ("strip", "door strip", "length", None),  # cut to length
        ("boot", "gaiter", "bore", 800_000),
        ("gasket", "rubber gasket, sump", "outside", 800_000),
        ("gasket", "cork gasket, sump", "outside", None),  # cut, not moulded
        ("gasket", "", "outside", None),
        ("o-ring", "rubber", "inside", None),
        ("boot", "gaiter", "hardness", None),
    ],
)
def test_new_rubber_is_off_by_how_it_was_made(
    kind: str, words: str, name: str, limit: int | None
) -> None:
    size = StoredSize(60 if name == "hardness" else 20 * MM)
    part = Part("QF-1", "", kind, "", "", 0.5, words=words, sizes={name: size})
    allowed = rubber_limits(part, name)
    assert (allowed.upper if allowed else None) == limit
    assert (-allowed.lower if allowed else None) == limit


def test_rubber_beyond_the_tables_has_no_limit() -> None:
    assert extrusion_limits(101 * MM) is None
    assert moulding_limits(161 * MM) is None


def test_an_inch_seal_is_told_the_rule_and_that_it_is_one() -> None:
    # RMA OS-4: shafts to 4 in ±0.003, bores to 3 in ±0.001, metal case 0.004 ± 0.002 over.
    sizes = {"bore": 3 * INCH // 2, "outside": 9 * INCH // 4, "width": 5 * INCH // 16}
    said = inch_seal_rule(sizes)
    assert said.startswith("by rule, not from a table of sizes")
    assert "shaft ±0.003 in" in said
    assert "housing bore ±0.001 in" in said
    assert "0.002 to 0.006 in over it (metal case)" in said
    assert "shaft 1-7/16 in and 1-9/16 in" in said


def test_an_inch_seal_without_a_width_is_told_no_rule() -> None:
    assert inch_seal_rule({"bore": INCH, "outside": 2 * INCH}) == ""


@pytest.mark.parametrize(
    "near",
    [
        "52201",  # no such bore code in the series
        "52299",
        "RNA4999",
        "NKS19",
        "UC2051",
        "UC205-99",
        "H201",
        "SN 504",
        "ISO 2795 17x23x30",  # 17 × 22 is the sintered wall
        "7x36x40",
        "8x36x41",
        "MT 9",
        "JT 7",
        "felt ring 21",
        "DIN 71412 A M7x1",
        "GOST 6467 D2.1",
        "GOST 6467 4x21",
    ],
)
def test_a_size_that_is_not_made_finds_nothing(near: str) -> None:
    assert find(near) == ()
