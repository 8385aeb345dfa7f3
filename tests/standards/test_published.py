"""The tables against published figures; the source of each stands beside it.

"Memory" means that the figure is known from memory of the standard and agrees with the table; no
copy of the standard was opened for it. It guards against slips in copying and in units. How many
printed tables agree on the row is checked beside it.
"""

from __future__ import annotations

import pytest

from fixtures.rows import INCH, MM, mm_of, row
from xref.domain.part import BOUNDARY
from xref.standards.bearing_type import traits
from xref.standards.families import standard_parts
from xref.standards.lookup import find
from xref.tables import read_table


@pytest.mark.parametrize(
    ("number", "bore", "outside", "width", "least_tables"),
    [
        # ISO 15, memory.
        ("6204", 20, 47, 14, 10),
        # ISO 15, memory.
        ("6305", 25, 62, 17, 10),
        ("6000", 10, 26, 8, 10),
        ("6208", 40, 80, 18, 10),
        ("608", 8, 22, 7, 10),
        ("61804", 20, 32, 7, 5),
        ("NU206", 30, 62, 16, 5),
        ("N206", 30, 62, 16, 5),
        ("NJ310", 50, 110, 27, 5),
        ("22210", 50, 90, 23, 5),
        ("1205", 25, 52, 15, 5),
        ("2206", 30, 62, 20, 5),
        ("7206", 30, 62, 16, 5),
        ("3206", 30, 62, 23.8, 5),
        ("4204", 20, 47, 18, 5),
        # ISO 15, memory.
        ("6003", 17, 35, 10, 10),
        ("6006", 30, 55, 13, 10),
        # ISO 355, memory; width is T of the assembled bearing.
        ("30206", 30, 62, 17.25, 5),
        ("32006", 30, 55, 17, 5),
        ("33206", 30, 62, 25, 3),
        # ISO 104, memory; width is the height H.
        ("51106", 30, 47, 11, 5),
        ("51206", 30, 52, 16, 5),
        ("81106", 30, 47, 11, 3),
        ("29412", 60, 130, 42, 3),
        # ISO 3245, ISO 1206, ISO 3030, memory; the bore of the first four is Fw, of NA it is d.
        ("HK2020", 20, 26, 20, 3),
        ("NK20/16", 20, 28, 16, 3),
        ("K20X24X10", 20, 24, 10, 3),
        ("NA4904", 20, 37, 17, 3),
    ],
)
def test_a_bearing_has_the_published_boundary_dimensions(
    number: str, bore: float, outside: float, width: float, least_tables: int
) -> None:
    part = row(number, "bearing")
    assert mm_of(part, *BOUNDARY) == (bore, outside, width)
    assert part.tables_agreeing >= least_tables


@pytest.mark.parametrize(
    ("number", "sixteenths"),
    [
        # Inch drawn cups: bore and width are sixteenths of an inch in the number (12 = 3/4 in).
        # Common practice, no published source.
        ("B-1212", (12, 12)),
        ("B-76", (7, 6)),
        ("BH-1610", (16, 10)),
    ],
)
def test_an_inch_drawn_cup_is_sized_in_sixteenths(number: str, sixteenths: tuple[int, int]) -> None:
    sizes = row(number, "bearing").sizes
    assert sizes["bore"].value * 16 == sixteenths[0] * INCH
    assert sizes["width"].value * 16 == sixteenths[1] * INCH


def test_every_inch_drawn_cup_agrees_with_the_sixteenths_of_its_number() -> None:
    # Two independent columns of the table: the digits of the number, and the printed fractions.
    rows = {r["designation"]: r for r in read_table("needle_drawn_cup_inch")}
    for part in standard_parts():
        if part.type == "drawn cup needle, inch":
            bore, width = (int(rows[part.number][c]) for c in ("bore_16ths", "width_16ths"))
            assert part.sizes["bore"].value * 16 == bore * INCH, part.number
            assert part.sizes["width"].value * 16 == width * INCH, part.number


@pytest.mark.parametrize(
    ("number", "thou"),
    [
        # ABMA inch series, memory: bore, outside and T in thousandths of an inch.
        ("25580/25520", (1750, 3265, 937.5)),
        ("LM11949/LM11910", (750, 1781, 610)),
        ("LM67048/LM67010", (1250, 2328, 625)),
    ],
)
def test_an_inch_taper_has_the_published_sizes(
    number: str, thou: tuple[float, float, float]
) -> None:
    sizes = row(number, "bearing").sizes
    assert tuple(sizes[name].value / 25_400 for name in BOUNDARY) == thou


@pytest.mark.parametrize(
    ("number", "inside_in", "section_in"),
    [
        # SAE AS568; memory.
        ("AS568-001", 0.029, 0.040),
        ("AS568-010", 0.239, 0.070),
        ("AS568-014", 0.489, 0.070),
        ("AS568-214", 0.984, 0.139),
        ("AS568-230", 2.484, 0.139),
        ("AS568-425", 4.475, 0.275),
    ],
)
def test_an_inch_o_ring_has_the_published_sizes(
    number: str, inside_in: float, section_in: float
) -> None:
    part = row(number, "o-ring")
    assert mm_of(part, "inside", "section") == pytest.approx(
        (inside_in * 25.4, section_in * 25.4), abs=1e-9
    )


@pytest.mark.parametrize(
    ("range_", "section"),
    [
        # SAE AS568: sections by hundreds, memory.
        ((4, 50), 0.070),
        ((102, 178), 0.103),
        ((201, 284), 0.139),
        ((309, 395), 0.210),
        ((425, 475), 0.275),
    ],
)
def test_every_dash_number_of_a_hundred_has_its_section(
    range_: tuple[int, int], section: float
) -> None:
    rings = {int(p.number[6:]): p for p in standard_parts() if p.number.startswith("AS568-")}
    inside = [ring for dash, ring in rings.items() if range_[0] <= dash <= range_[1]]
    assert len(inside) > 40
    assert {ring.sizes["section"].value for ring in inside} == {round(section * INCH)}


def test_as568_lists_369_sizes() -> None:
    # 369 O-rings in SAE AS568, memory.
    assert sum(p.maker == "SAE AS568" for p in standard_parts()) == 369


@pytest.mark.parametrize(
    ("number", "inside", "section"),
    [
        # JIS B 2401: G25 and P320 in a printed table of groove sizes after the standard.
        ("G25", 24.4, 3.1),
        ("P320", 319.5, 8.4),
        ("P25", 24.7, 3.5),  # memory
        ("ISO 3601-214", 24.99, 3.53),  # ISO 3601-1, memory
    ],
)
def test_a_metric_o_ring_has_the_published_sizes(
    number: str, inside: float, section: float
) -> None:
    assert mm_of(row(number, "o-ring"), "inside", "section") == (inside, section)


def test_a_nominal_eighth_of_an_inch_o_ring_is_thicker_than_an_eighth() -> None:
    # SAE AS568: the nominal names the groove, so 1/8 in means 0.139 in.
    section = row("AS568-214", "o-ring").sizes["section"].value
    assert section == round(0.139 * INCH) > INCH // 8


def test_a_wrapped_bush_has_the_published_wall() -> None:
    # ISO 3547-1: D − d is 3 mm for a bore of 20 mm (as the table of bearing rules has it).
    assert mm_of(row("20x23x20", "bush"), *BOUNDARY) == (20, 23, 20)


OFF_THE_RULE = ("37x40x20", "37x40x30")
"""Printed so in one table only; the rule gives 41 outside."""


@pytest.mark.parametrize(
    ("bores", "twice_the_wall"),
    [((3, 4), 1.5), ((5, 18), 2), ((20, 25), 3), ((28, 40), 4), ((45, 300), 5)],
    ids=["3-4", "5-18", "20-25", "28-40", "45 up"],
)
def test_every_wrapped_bush_has_the_wall_of_iso_3547(
    bores: tuple[int, int], twice_the_wall: float
) -> None:
    seen = 0
    for part in standard_parts():
        bore, outside = (part.sizes.get(n) for n in ("bore", "outside"))
        if part.type != "wrapped bush" or bore is None or outside is None:
            continue
        if part.number in OFF_THE_RULE:
            assert "wall 1.5" in part.note
            continue
        if bores[0] * MM <= bore.value <= bores[1] * MM:
            assert outside.value - bore.value == twice_the_wall * MM, part.number
            seen += 1
    assert seen > 5


# Traps: rows that other tables print otherwise, or that are easily taken for each other


def test_16002_is_32_mm_outside_and_says_that_a_table_disagrees() -> None:
    # ISO 15, memory: 16002 is 15 × 32 × 8; the outside of 22 in one table is a slip.
    part = row("16002", "bearing")
    assert mm_of(part, *BOUNDARY) == (15, 32, 8)
    assert "22" in part.note


def test_3200_says_that_its_width_is_14_or_14_3() -> None:
    part = row("3200", "bearing")
    assert mm_of(part, "width") == (14,)
    assert "14.3" in part.note


@pytest.mark.parametrize(("number", "width"), [("1224", 42), ("1226", 46)])
def test_1224_and_1226_are_wider_than_their_dimension_series(number: str, width: float) -> None:
    # ISO 15, memory: dimension series 02 has 40 for both bores.
    assert mm_of(row(number, "bearing"), "width") == (width,)
    assert mm_of(row(f"6{number[1:]}", "bearing"), "width") == (40,)


@pytest.mark.parametrize(
    ("opened", "closed"),
    [("602", "602-2Z"), ("603", "603-2Z"), ("R3", "R3-2Z"), ("1601", "1601-2RS")],
)
def test_a_closed_miniature_bearing_is_wider_than_the_open_one(opened: str, closed: str) -> None:
    # Common trade usage, no published source.
    thin, wide = row(opened, "bearing"), row(closed, "bearing")
    assert mm_of(thin, "bore", "outside") == mm_of(wide, "bore", "outside")
    assert thin.sizes["width"].value < wide.sizes["width"].value


def test_one_cone_goes_with_several_cups_and_keeps_its_bore() -> None:
    pairs = find("25580")
    assert len(pairs) > 3
    assert len({p.sizes["outside"].value for p in pairs}) > 1
    assert {p.sizes["bore"].value for p in pairs} == {44_450_000}  # 1 3/4 in


def test_a_number_with_and_without_a_leading_zero_is_shown_with_a_note() -> None:
    assert {p.group for p in find("07100")} >= {p.group for p in find("7100/7196")}
    assert "zero may have been lost" in row("7100/7196", "bearing").note


def test_a_seal_width_on_which_tables_disagree_says_so_without_naming_an_index() -> None:
    part = row("35x52x7", "shaft seal")
    assert part.tables_agreeing == 1
    assert "also given as 8" in part.note
    assert "not known" in part.note
    assert "(id" not in " ".join(p.note for p in standard_parts())


def test_a_ring_numbered_after_as568_but_outside_it_says_so() -> None:
    beyond = [p for p in standard_parts() if p.maker == "trade sizes beyond SAE AS568"]
    assert len(beyond) == 25
    assert all("not listed in it" in p.note for p in beyond)


@pytest.mark.parametrize(
    ("number", "rolls", "rows", "aligns"),
    [
        # DIN 623-1 type digits: 6 deep groove, 1 self-aligning ball, 2 spherical roller, 3 taper.
        ("6204", "balls", "one row", "no"),
        ("3206", "balls", "two rows", "no"),
        ("1205", "balls", "two rows", "yes"),
        ("22210", "rollers", "two rows", "yes"),
        ("30206", "rollers", "one row", "no"),
        ("HK2020", "needles", "one row", "no"),
    ],
)
def test_what_can_be_seen_of_a_bearing_without_a_tool(
    number: str, rolls: str, rows: str, aligns: str
) -> None:
    seen = traits(row(number, "bearing").type)
    assert (seen["what rolls"], seen["rows"], seen["self-aligns"]) == (rolls, rows, aligns)


def test_only_bearings_that_come_apart_say_how() -> None:
    assert traits("deep groove ball")["comes apart"] == "no"
    assert traits("cylindrical roller NU")["comes apart"] == "the inner ring slides out both ways"
    assert traits("tapered roller")["comes apart"] == "the cup lifts off"
    assert "comes apart" not in traits("cylindrical roller, inch")


def test_rows_are_not_told_where_one_type_has_bearings_of_one_row_and_of_two() -> None:
    # Memory: NA49 has one row of needles, NA69 two from a bore of 32 mm up.
    assert traits(row("NA4904", "bearing").type) == traits(row("NA6908", "bearing").type)
    assert "rows" not in traits("needle roller NA")
