"""Bearing numbers of DIN 623-1, their bore codes, and what else may be written around them."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from xref import designation
from xref.designation.bearing import read
from xref.designation.reading import Reading
from xref.designation.rolling import SERIES, bore_of
from xref.domain.size import NM_PER_INCH, NM_PER_MM
from xref.errors import InputError
from xref.tables import read_table


def standing(text: str) -> list[Reading]:
    """The readings that need no table's word."""
    return [reading for reading in read(text) if not reading.needs_table]


def first(text: str) -> Reading:
    """The most usual reading."""
    return read(text)[0]


@pytest.mark.parametrize(
    ("code", "bore"),
    # DIN 623-1: 00 to 03 are 10, 12, 15 and 17 mm; from 04 on five times the code.
    [("00", 10), ("01", 12), ("02", 15), ("03", 17), ("04", 20), ("17", 85), ("96", 480)],
)
def test_a_bore_code_gives_the_bore(code: str, bore: int) -> None:
    assert bore_of(code) == bore
    assert first(f"62{code}").sizes == {"bore": bore * NM_PER_MM}


def test_97_is_no_bore_code() -> None:
    # DIN 623-1: from 500 mm on the bore stands after a stroke.
    assert bore_of("97") is None
    assert standing("6297") == []


@pytest.mark.parametrize(
    ("text", "number", "type_", "bore", "series"),
    # Types and dimension series of DIN 623-1 and ISO 15; bores as their tables have them.
    [
        ("6204", "6204", "deep groove ball", 20, "02"),
        ("16005", "16005", "deep groove ball", 25, "00"),
        ("61804", "61804", "deep groove ball", 20, "18"),
        ("608", "608", "deep groove ball", 8, "10"),
        ("623", "623", "deep groove ball", 3, "02"),
        ("62/22", "62/22", "deep groove ball", 22, "02"),
        ("60/500", "60/500", "deep groove ball", 500, "10"),
        ("618/2.5", "618/2.5", "deep groove ball", 2.5, "18"),
        ("4204", "4204", "double row deep groove ball", 20, "22"),
        ("7206", "7206", "angular contact ball, single row", 30, "02"),
        ("3206", "3206", "angular contact ball, double row", 30, "32"),
        ("1206", "1206", "self-aligning ball", 30, "02"),
        ("2206", "2206", "self-aligning ball", 30, "22"),
        ("22210", "22210", "spherical roller", 50, "22"),
        ("30206", "30206", "tapered roller", 30, ""),
        ("320/28X", "320/28", "tapered roller", 28, ""),
        ("51106", "51106", "thrust ball", 30, ""),
        ("81106", "81106", "cylindrical roller thrust", 30, ""),
        ("29412", "29412", "spherical roller thrust", 60, ""),
        ("NU206", "NU206", "cylindrical roller NU", 30, "02"),
        ("NU1006", "NU1006", "cylindrical roller NU", 30, "10"),
        ("NJ2206", "NJ2206", "cylindrical roller NJ", 30, "22"),
        ("NU10/500", "NU10/500", "cylindrical roller NU", 500, "10"),
        ("N206", "N206", "cylindrical roller N", 30, "02"),
        ("NN3010", "NN3010", "cylindrical roller NN", 50, "30"),
        ("QJ206", "QJ206", "four-point contact ball", 30, "02"),
        ("T2EE040", "T2EE040", "tapered roller", 40, ""),
        ("126", "126", "self-aligning ball", 6, ""),
    ],
)
def test_type_series_and_bore_are_read_from_the_digits(
    text: str, number: str, type_: str, bore: float, series: str
) -> None:
    reading = first(text)
    assert (reading.designation, reading.type) == (number, type_)
    assert reading.sizes["bore"] == round(bore * NM_PER_MM)
    assert reading.dimension_series == series


@pytest.mark.parametrize(
    "text",
    [
        "6204-2RS/C3",
        "6204 2rs c3",
        "6204.2RS.C3",
        "6204_2RS_C3",
        "6204 2RS-C3",
        "62042RSC3",
        "６２０４－２ＲＳ Ｃ３",
        "6204-2RS/С3",  # a Cyrillic С
        "  6204  2 RS  C 3 ",
        "bearing 6204-2RS/C3",
        "DIN 625 6204-2RS C3",
    ],
)
def test_case_separators_and_look_alikes_do_not_matter(text: str) -> None:
    (reading,) = standing(text)
    assert reading.canonical == "6204-2RS/C3"
    assert reading.unknown == ()


@pytest.mark.parametrize("text", ["62045", "9999", "6204.5", "620", "6297", "62/25", "62/5535"])
def test_a_number_that_is_none_is_not_bent_into_one(text: str) -> None:
    assert standing(text) == []


@pytest.mark.parametrize(
    "text",
    [
        "35x52x7",
        "608-12-7",
        "20 x 47 x 14",
        "O-ring 214",
        "oil seal 6204",
        "AS568-214",
        "hello",
        "-",
    ],
)
def test_sizes_seals_and_words_are_no_bearing_numbers(text: str) -> None:
    assert read(text) == ()


@pytest.mark.parametrize(
    ("text", "canonical"),
    [("62 04", "6204"), ("62-04", "6204"), ("62 04 2RS", "6204-2RS"), ("63.05-2Z", "6305-2Z")],
)
def test_a_number_parted_before_its_bore_code_is_worth_a_look_in_the_tables(
    text: str, canonical: str
) -> None:
    (reading,) = [r for r in read(text) if r.numbering == "ISO"]
    assert (reading.canonical, reading.needs_table, reading.unknown) == (canonical, True, ())


@pytest.mark.parametrize("text", ["22-32-7", "22 32 7", "62 04 7", "62 04/2", "62-04-2"])
def test_three_numbers_are_sizes_and_are_not_joined(text: str) -> None:
    assert [r for r in read(text) if r.numbering == "ISO"] == []


def test_a_stroke_parts_62_22_from_6222() -> None:
    assert first("62/22").sizes["bore"] == 22 * NM_PER_MM
    assert first("6222").sizes["bore"] == 110 * NM_PER_MM


@pytest.mark.parametrize(
    ("text", "unknown"),
    [
        ("6204A7Q", ("A7Q",)),
        ("6204-2RS QW312", ("QW312",)),
        ("6204-15", ("15",)),
        ("QF 6204", ("QF",)),
        ("QF6204-2Z", ("QF",)),
        ("QF-NU206", ("QF",)),
    ],
)
def test_what_is_not_understood_is_listed(text: str, unknown: tuple[str, ...]) -> None:
    assert first(text).unknown == unknown


def test_letters_before_a_number_count_only_where_a_table_has_the_number() -> None:
    assert first("QF 6204").needs_table
    assert not first("6204").needs_table


@pytest.mark.parametrize(
    ("text", "number", "codes"),
    [
        ("S6204-2RS", "6204", ["S", "2RS"]),
        ("SS6204", "6204", ["SS"]),
        ("F608", "608", ["F"]),
        ("FR4", "R4", ["F"]),
        ("MF105", "MR105", ["F"]),
    ],
)
def test_stainless_and_flange_prefixes_are_features(
    text: str, number: str, codes: list[str]
) -> None:
    (reading,) = standing(text)
    assert reading.designation == number
    assert [feature.code for feature in reading.features] == codes
    assert reading.features[0].basis == "common usage"
    assert reading.canonical == text


@pytest.mark.parametrize(
    ("text", "number", "also"),
    # JIS B 1513 writes 68xx and 69xx for 618xx and 619xx.
    [
        ("6804", "61804", "6804"),
        ("61804", "61804", "6804"),
        ("688", "618/8", "688"),
        ("682X", "618/2.5", "682X"),
        ("68/500", "618/500", "68/500"),
        ("5206", "3206", "5206"),
    ],
)
def test_short_numbers_are_the_same_bearing(text: str, number: str, also: str) -> None:
    reading = first(text)
    assert reading.designation == number
    assert also in reading.also_written


def test_6204_is_no_short_number() -> None:
    assert first("6204").also_written == ()


@pytest.mark.parametrize(
    ("text", "number", "bore"),
    # Bores in inches as the inch tables have them.
    [
        ("R8", "R8", NM_PER_INCH // 2),
        ("R4A", "R4A", NM_PER_INCH // 4),
        ("RLS8", "RLS8", NM_PER_INCH),
        ("RMS10", "RMS10", NM_PER_INCH * 5 // 4),
        ("LRJ3½", "LRJ3½", NM_PER_INCH * 7 // 2),
        ("lrj 3-1/2", "LRJ3½", NM_PER_INCH * 7 // 2),
        ("XLRJ10", "XLRJ10", NM_PER_INCH * 10),
    ],
)
def test_inch_numbers_give_the_bore_by_their_rule(text: str, number: str, bore: int) -> None:
    reading = first(text)
    assert (reading.designation, reading.numbering) == (number, "inch")
    assert reading.sizes == {"bore": bore}


@pytest.mark.parametrize("text", ["R188", "R1-5", "1601"])
def test_inch_numbers_without_a_rule_say_no_size_and_need_a_table(text: str) -> None:
    (reading,) = [r for r in read(text) if r.type == "deep groove ball, inch"]
    assert reading.needs_table
    assert reading.sizes == {}


def test_a_miniature_number_is_outside_then_bore() -> None:
    # MR105 is 5 x 10 mm.
    assert first("MR105").sizes == {"bore": 5 * NM_PER_MM, "outside": 10 * NM_PER_MM}
    assert [r for r in read("MR15") if r.type == "deep groove ball"] == []


@pytest.mark.parametrize(
    ("text", "number"),
    [
        ("688ZZ", "688-2Z"),
        ("618/8-2Z", "688-2Z"),
        ("MR105-2RS", "MR105-2Z"),
        ("R8ZZ", "R8-2Z"),
        ("R8LLU", "R8-2RS"),
        ("602-2Z", "602-2Z"),
        ("1601 2RS", "1601-2RS"),
    ],
)
def test_a_closed_miniature_is_a_wider_row_of_its_own(text: str, number: str) -> None:
    reading = first(text)
    assert reading.designation == number
    assert "wider" in reading.note


@pytest.mark.parametrize(
    ("text", "number"),
    [("688", "618/8"), ("R8", "R8"), ("R8 C3", "R8"), ("608ZZ", "608"), ("688Z", "618/8")],
)
def test_open_ones_and_those_not_wider_keep_their_number(text: str, number: str) -> None:
    assert first(text).designation == number


def test_the_closed_rows_are_those_of_the_tables() -> None:
    rows = [*read_table("deep_groove"), *read_table("deep_groove_inch")]
    closed = [r["designation"] for r in rows if r["designation"].endswith(("-2Z", "-2RS"))]
    assert sorted(row["closed"] for row in read_table("bearing_closed")) == sorted(closed)


_TABLES = (
    "deep_groove",
    "deep_groove_inch",
    "double_row_deep_groove",
    "angular_contact",
    "self_aligning",
    "cylindrical",
    "cylindrical_inch",
    "spherical",
    "tapered_metric",
    "thrust",
    "thrust_roller",
    "needle_drawn_cup",
    "needle_drawn_cup_inch",
    "needle_machined",
    "needle_cage_k",
)


@pytest.mark.parametrize("table", _TABLES)
def test_every_number_of_the_tables_is_read_as_itself(table: str) -> None:
    for row in read_table(table):
        number = row["designation"]
        own = [r for r in read(number) if r.designation == number]
        assert own, number
        assert own[0].unknown == ()


@pytest.mark.parametrize("table", _TABLES)
def test_sizes_the_digits_say_are_those_of_the_table(table: str) -> None:
    names = (("bore", "d_mm"), ("outside", "D_mm"))
    for row in read_table(table):
        reading = next(r for r in read(row["designation"]) if r.designation == row["designation"])
        for name, column in names:
            if name in reading.sizes and row.get(column):
                # The tables round inch sizes to a thousandth of a millimetre.
                assert abs(reading.sizes[name] - float(row[column]) * NM_PER_MM) <= 1_000, row


_NUMBERS = st.builds(
    lambda series, code: f"{series}{code:02d}",
    st.sampled_from([s for s in SERIES if s not in ("161", "522", "523", "524")]),
    st.integers(0, 96),
)
_ENDS = st.sampled_from(["", "-2RS", "/C3", "-2Z/C3", "K", "N", "NR-2RS", "/P6", "-M/C3", "K/C4"])


@given(_NUMBERS, _ENDS)
def test_what_is_written_in_the_usual_way_is_read_back_the_same(number: str, end: str) -> None:
    reading = first(number + end)
    assert reading.designation == number
    assert reading.canonical == number + end
    again = first(reading.canonical)
    assert (again.features, again.unknown) == (reading.features, ())


@given(st.text("0123456789ABCDEFHJKLMNPRSTUVXZ-/. ", max_size=24))
def test_the_canonical_writing_is_read_as_the_same_bearing(text: str) -> None:
    try:
        readings = read(text)
    except InputError:
        return
    for reading in readings:
        if reading.needs_table or reading.numbering == "GOST 3189":
            continue
        again = read(reading.canonical)
        assert reading.designation in [r.designation for r in again]
        assert reading.canonical in [r.canonical for r in again]


@pytest.mark.parametrize("text", ["6\u03012\u03010\u03014", "?" * 80, "2RS" * 26])
def test_odd_but_printable_text_names_no_bearing(text: str) -> None:
    assert standing(text) == []


def test_only_the_first_reader_gives_a_plain_bearing_number_and_it_stands_first() -> None:
    assert designation.read("6204")[0].designation == "6204"
    assert [r.kind for r in designation.read("6204") if not r.needs_table] == ["bearing"]


@pytest.mark.parametrize(
    "text", ["SCE1212", "SCE 1212", "SCE1212PP", "TA1212", "C2206", "UCP205", "QF6204", "QFX1212"]
)
def test_letters_of_another_series_or_joined_unknown_ones_are_never_dropped(text: str) -> None:
    letters = text[: next(at for at, c in enumerate(text) if not c.isalpha())]
    sized = [r for r in read(text) if r.kind == "bearing" and r.sizes]
    assert all(r.designation.startswith(letters) for r in sized)


@pytest.mark.parametrize("text", ["7308 BECBP", "7308BECBP", "7308-BECBP"])
def test_letters_run_together_in_the_usual_way_stay_as_they_are_sold(text: str) -> None:
    assert first(text).canonical == "7308BECBP"
    assert [feature.code for feature in first(text).features] == ["B", "E", "P", "CB"]


# As stamped and as sold: common practice, no published source.
@pytest.mark.parametrize(
    ("text", "number"),
    [
        ("30207 J2/Q", "30207"),
        ("32008 X/QDF", "32008"),
        ("6306/C4VA201", "6306"),
        ("6312/C3VL0241", "6312"),
        ("3306-BD-XL-2HRS-TVH", "3306"),
        ("7208-B-XL-TVP-UA", "7208"),
        ("7205CTYNDBLP4", "7205"),
        ("6203-2RSH/C3GJN", "6203"),
        ("6004 LLU/2AS", "6004"),
        ("QJ208-XL-MPA", "QJ208"),
        ("22212-E1-XL-K-C3", "22212"),
        ("31307 J2/QCL7C", "31307"),
        ("4T-30207", "30207"),
    ],
)
def test_whole_chains_of_suffixes_are_understood(text: str, number: str) -> None:
    reading = first(text)
    assert reading.designation == number
    assert set(reading.unknown) <= {"4T"}
