"""The standards' tables as parts: one row a part, its sizes exact, one thing one group."""

from __future__ import annotations

from collections import Counter, defaultdict
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from xref.domain.kinds import KINDS
from xref.domain.number import folded, key
from xref.domain.part import BOUNDARY, Part
from xref.domain.size_names import NAMES
from xref.domain.weights import ONE_TABLE, TWO_TABLES
from xref.standards.bearing_type import TRAITS, iso492_group, traits
from xref.standards.families import FAMILIES, standard_parts
from xref.standards.rolling import _fractions
from xref.standards.rowreader import inch, inch_or_mm, mm
from xref.standards.version import TABLES_VERSION, tables_version
from xref.tables import read_table

MM = 1_000_000

WHOLE = {
    "bearing": BOUNDARY,
    "bush": BOUNDARY,
    "shaft seal": BOUNDARY,
    "o-ring": ("inside", "section"),
    "washer": ("bore", "outside", "thickness"),
    "key": ("width", "height"),
    "ball": ("diameter",),
    "roller": ("diameter", "length"),
    "thread": ("diameter", "pitch"),
    "chain": ("pitch", "roller", "inner-width"),
    "belt": ("top-width",),
}
"""The sizes that every standard part of a kind has."""


def one(number: str, kind: str = "bearing") -> Part:
    """The one row that bears this number as its own."""
    found = [p for p in standard_parts() if p.number == number and p.kind == kind]
    assert len(found) == 1, [p.maker for p in found]
    return found[0]


# The registry


def test_every_row_of_every_family_is_one_part() -> None:
    assert len(standard_parts()) == sum(len(read_table(name)) for name in FAMILIES) > 6_000


def test_no_two_rows_of_one_standard_share_a_key() -> None:
    seen = Counter((part.maker, key(part.number)) for part in standard_parts())
    assert [pair for pair, count in seen.items() if count > 1] == []


def test_every_part_is_fit_for_a_store() -> None:
    for part in standard_parts():
        assert part.is_standard, part
        assert part.id == 0, part
        assert part.maker, part
        assert part.kind in KINDS, part
        assert part.words == part.words.lower(), part
        assert part.tables_agreeing >= 1, part
        assert part.weight == (TWO_TABLES if part.tables_agreeing > 1 else ONE_TABLE), part
        texts = [(s.text, s.role) for s in part.spellings]
        assert (part.number, "number") in texts, part
        assert len(texts) == len(set(texts)), part
        assert all(folded(text) for text, _ in texts), part
        assert all(0 < s.weight <= 1 for s in part.spellings), part


def test_every_part_has_sizes_that_can_be() -> None:
    for part in standard_parts():
        sizes = {name: size.value for name, size in part.sizes.items()}
        assert set(WHOLE.get(part.kind, ())) <= set(sizes), part
        assert sizes, part
        assert set(sizes) <= set(NAMES), part
        assert all(value > 0 for value in sizes.values()), part
        if {"bore", "outside"} <= set(sizes):
            assert sizes["bore"] < sizes["outside"], part


def test_every_type_is_in_the_table_of_traits_and_the_other_way_round() -> None:
    assert {p.type for p in standard_parts()} == {r["type"] for r in read_table("bearing_type")}


def test_every_trait_is_told_or_left_blank_and_has_a_basis() -> None:
    for row in read_table("bearing_type"):
        assert row["basis"], row
        assert set(traits(row["type"])) <= set(TRAITS)
        assert traits(row["type"])["what rolls"] in {"balls", "rollers", "needles", "nothing"}


@pytest.mark.parametrize(
    ("type_", "group"),
    [
        ("deep groove ball", "radial"),
        ("tapered roller", "taper"),
        ("tapered roller, inch", ""),  # ABMA 19.2, not ISO 492
        ("thrust ball", ""),  # ISO 199, not ISO 492
        ("drawn cup needle, open", ""),  # ISO 3245: not round until pressed in
        ("needle roller NK", ""),  # no inner ring whose bore ISO 492 could limit
        ("wrapped bush", ""),
        ("no such type", ""),
    ],
)
def test_iso_492_limits_only_what_it_covers(type_: str, group: str) -> None:
    assert iso492_group(type_) == group


def test_the_tables_version_is_a_digest_that_stays() -> None:
    assert tables_version() == TABLES_VERSION
    assert len(TABLES_VERSION) == 16


def test_a_changed_table_changes_the_version(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("xref.standards.version.table_bytes", lambda name: name.encode())
    assert tables_version() != TABLES_VERSION


def test_a_changed_reader_changes_the_version(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("xref.standards.version.READERS_VERSION", -1)
    assert tables_version() != TABLES_VERSION


# Exact sizes


@pytest.mark.parametrize(
    ("cell", "nm"),
    [
        ("3/16", 4_762_500),
        ("1 3/8", 34_925_000),
        ("1", 25_400_000),
        ("0.4375", 11_112_500),
        ("0.7813", 19_843_750),  # 25/32 in, printed to four places
        ("0.7812", 19_843_750),  # the same, cut instead of rounded
        ("0.3940", 10_007_600),  # no sixty-fourth: 25/64 is 0.3906
        ("1.2595", 31_991_300),
    ],
)
def test_an_inch_cell_is_exact(cell: str, nm: int) -> None:
    assert inch(cell).value == nm


@pytest.mark.parametrize(
    ("inches", "millimetres", "nm"),
    [
        ("0.9843", "25", 25_000_000),  # metric bore in an inch table
        ("1.9685", "50", 50_000_000),
        ("0.9844", "25.003", 25_003_125),  # a true 63/64 in
        ("1.9687", "50.005", 50_006_250),  # 1 31/32 in, its millimetres rounded twice
        ("1.0000", "25.4", 25_400_000),
        ("1.0000", "25", 25_400_000),  # 0.4 mm apart is no rounding: the inch cell stands
    ],
)
def test_of_two_printed_units_the_exact_one_is_taken(
    inches: str, millimetres: str, nm: int
) -> None:
    assert inch_or_mm(inches, millimetres).value == nm


@given(st.integers(1, 64 * 30))
def test_a_sixty_fourth_printed_to_four_places_is_read_back_exactly(sixty_fourths: int) -> None:
    printed = f"{sixty_fourths / 64:.4f}"
    assert inch(printed).value == sixty_fourths * 396_875


@given(st.decimals(min_value="0.001", max_value=2000, places=3))
def test_a_millimetre_cell_is_exact_to_the_nanometre(cell: object) -> None:
    assert Fraction(mm(str(cell)).value, MM) == Fraction(str(cell))


@pytest.mark.parametrize(
    ("cell", "pieces"),
    [
        ("3/16 1/2 5/32", ["3/16", "1/2", "5/32"]),
        ("1 1/4 3 1/8 7/8", ["1 1/4", "3 1/8", "7/8"]),
        ("3/4 2 9/16", ["3/4", "2 9/16"]),  # the 2 may stand alone: two pieces, so not used
        ("", []),
    ],
)
def test_a_row_of_fractions_is_parted(cell: str, pieces: list[str]) -> None:
    assert _fractions(cell) == pieces


@pytest.mark.parametrize(
    "table", ["deep_groove_inch", "cylindrical_inch", "needle_drawn_cup_inch", "tapered_inch"]
)
def test_inch_sizes_agree_with_the_rounded_millimetres_beside_them(table: str) -> None:
    columns = dict(zip(BOUNDARY, ("Fw", "D", "C"), strict=True))
    if table != "needle_drawn_cup_inch":
        columns = dict(zip(BOUNDARY, ("d", "D", "T" if "taper" in table else "B"), strict=True))
    for row in read_table(table):
        part = FAMILIES[table](row)
        for name, column in columns.items():
            printed = round(float(row[f"{column}_mm"]) * MM)
            assert abs(part.sizes[name].value - printed) <= 2_000, (part.number, name)


@pytest.mark.parametrize(
    ("number", "sizes"),
    [
        ("R3", (4_762_500, 12_700_000, 3_968_750)),  # 3/16 × 1/2 × 5/32 in
        ("RLS8", (25_400_000, 57_150_000, 15_875_000)),  # 1 × 2 1/4 × 5/8 in
        ("B-1212", (19_050_000, 25_400_000, 19_050_000)),  # 3/4 × 1 × 3/4 in
    ],
)
def test_inch_bearings_keep_their_fractions(number: str, sizes: tuple[int, int, int]) -> None:
    part = one(number)
    assert tuple(part.sizes[name].value for name in BOUNDARY) == sizes


def test_an_o_ring_carries_its_tolerances_and_a_bearing_none() -> None:
    ring = one("AS568-214", "o-ring").sizes
    # SAE AS568: 0.984 ± 0.010 in and 0.139 ± 0.004 in, as the table has it.
    assert (ring["inside"].value, ring["inside"].upper) == (24_993_600, 254_000)
    assert (ring["section"].value, ring["section"].lower) == (3_530_600, -101_600)
    assert one("P18", "o-ring").sizes["inside"].lower is None
    for part in standard_parts():
        if part.kind == "bearing":
            assert {(s.lower, s.upper) for s in part.sizes.values()} == {(None, None)}


def test_a_taper_keeps_the_widths_of_its_halves() -> None:
    sizes = {name: size.value for name, size in one("30206").sizes.items()}
    assert sizes["width"] == 17_250_000
    assert sizes["cone-width"] == 16 * MM
    assert sizes["cup-width"] == 14 * MM


# Groups


def groups() -> dict[str, list[Part]]:
    found = defaultdict(list)
    for part in standard_parts():
        found[part.group].append(part)
    return found


def test_one_group_is_one_thing_of_one_kind_and_type() -> None:
    for parts in groups().values():
        assert len({(p.kind, p.type) for p in parts}) == 1, parts


def test_rows_of_one_group_have_the_same_sizes() -> None:
    # AS568 prints inches and ISO 3601-1 their millimetres to two places: 0.02 mm covers both.
    for group, parts in groups().items():
        for name in ("bore", "outside", "width", "inside", "section"):
            values = [p.sizes[name].value for p in parts if name in p.sizes]
            assert not values or max(values) - min(values) <= 20_000, (group, name, values)


def test_only_dash_numbers_and_lost_zeros_make_a_group_of_two() -> None:
    for group, parts in groups().items():
        if len(parts) == 1:
            continue
        if parts[0].kind == "o-ring":
            assert {p.maker for p in parts} == {"SAE AS568", "ISO 3601-1"}, group
        else:
            bare = {"/".join(h.lstrip("0") for h in p.number.split("/")) for p in parts}
            assert len(bare) == 1, group


def test_every_gland_seal_of_as568_is_one_thing_with_its_iso_row() -> None:
    both = [ps for ps in groups().values() if len(ps) == 2 and ps[0].kind == "o-ring"]
    rows = [row for row in read_table("oring_iso3601") if row["standard"] == "ISO 3601-1"]
    assert len(both) == len(rows) == 349


@pytest.mark.parametrize(
    ("one_number", "other"),
    [("602", "602-2Z"), ("R3", "R3-2Z"), ("7206", "30206"), ("HK1010", "BK1010")],
)
def test_other_bearings_are_other_groups(one_number: str, other: str) -> None:
    assert one(one_number).group != one(other).group


def test_a_wrapped_and_a_solid_bush_of_one_size_are_two_things() -> None:
    row = read_table("plain_bush")[0]
    wrapped = FAMILIES["plain_bush"]({**row, "type": "wrapped bush ISO 3547"})
    solid = FAMILIES["plain_bush"]({**row, "type": "solid/filament-wound bush"})
    assert wrapped.number == solid.number
    assert (wrapped.type, solid.type) == ("wrapped bush", "solid bush")
    assert wrapped.group != solid.group
