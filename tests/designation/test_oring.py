"""O-ring call-outs are read by their grammar; sizes only where they are written."""

from __future__ import annotations

import pytest

from xref.designation.oring import read
from xref.designation.reading import Reading
from xref.domain.size import NM_PER_MM
from xref.services.decode.decode import decode
from xref.tables import read_table

MM = 1_000_000


def only(text: str) -> Reading:
    """The one reading of ``text``."""
    (reading,) = read(text)
    return reading


@pytest.mark.parametrize(
    "text",
    [
        "214",
        "-214",
        "2-214",
        "AS568-214",
        "AS568A-214",
        "as568 214",
        "SAE AS568-214",
        "AS 568-214",
        "O-ring 214",
        "O RING -214",
        "OR 214",
        "oring AS568-214",
        "２１４",
        "BS 214",
        "BS 1806-214",
    ],
)
def test_every_writing_of_a_dash_number_names_the_same_ring(text: str) -> None:
    reading = only(text)
    assert (reading.designation, reading.kind) == ("AS568-214", "o-ring")
    assert reading.unknown == ()


@pytest.mark.parametrize(
    "text", ["2140", "21", "A214", "2-2140", "214.5", "3-214", "1-214", "214x3", "62-214"]
)
def test_what_only_looks_like_a_dash_number_is_not_read_as_one(text: str) -> None:
    assert all(reading.designation != "AS568-214" for reading in read(text))
    assert all(reading.designation != "AS568-904" for reading in read(text))


@pytest.mark.parametrize(
    ("text", "needs_table"),
    [("214", True), ("-214", True), ("P25", True), ("O-ring 214", False), ("AS568-214", False)],
)
def test_a_bare_number_is_only_worth_showing_when_a_table_has_it(
    text: str, needs_table: bool
) -> None:
    assert only(text).needs_table is needs_table


@pytest.mark.parametrize(
    ("text", "designation"),
    [
        ("P25", "P25"),
        ("p-25", "P25"),
        ("JIS B 2401 G50", "G50"),
        ("JIS G 50", "G50"),
        ("S10", "S10"),
        ("V40", "V40"),
        ("P12.5", "P12.5"),
        ("P50A", "P50A"),
        ("1A P25", "P25"),
    ],
)
def test_jis_sizes_are_read_in_their_usual_writings(text: str, designation: str) -> None:
    reading = only(text)
    assert (reading.designation, reading.standard) == (designation, "JIS B 2401")


@pytest.mark.parametrize("text", ["P2500", "Q25", "PP25", "P25B", "P25x3", "P", "JIS B 2401"])
def test_what_only_looks_like_a_jis_size_is_not_read(text: str) -> None:
    assert read(text) == ()


def test_the_long_designation_of_iso_3601_is_taken_apart() -> None:
    # The parts of the designation (size code, class, sizes, grade): from memory of ISO 3601-1;
    # classes A and B and grades N, S, CS from memory as well.
    reading = only("ISO 3601-1-214A-24,99x3,53-N")
    assert reading.designation == "ISO 3601-214"
    assert [(f.code, f.basis) for f in reading.features] == [("A", "standard"), ("N", "standard")]
    assert reading.unknown == ()


@pytest.mark.parametrize(
    ("text", "inside", "section"),
    [
        ("24.99x3.53", 24_990_000, 3_530_000),
        ("24,99 x 3,53", 24_990_000, 3_530_000),
        ("24.99 ID x 3.53 CS", 24_990_000, 3_530_000),
        ("O-ring 24.99 × 3.53 mm", 24_990_000, 3_530_000),
        ("0.984 x 0.139 in", 24_993_600, 3_530_600),
        ("1 x 1/8", 25_400_000, 3_175_000),
    ],
)
def test_two_sizes_are_inside_and_section(text: str, inside: int, section: int) -> None:
    reading = only(text)
    assert reading.sizes == {"inside": inside, "section": section}


def test_a_section_written_first_is_only_shown_when_a_table_has_the_ring() -> None:
    reading = only("3.53x24.99")
    assert reading.sizes == {"inside": 24_990_000, "section": 3_530_000}
    assert reading.needs_table


@pytest.mark.parametrize(
    "text", ["35x52x7", "1-3/8 x 2 x 1/4", "M8x1.25", "24.99", "20x23x20 mm", "seal 35x52", "80x40"]
)
def test_other_rows_of_sizes_are_no_o_ring(text: str) -> None:
    assert read(text) == ()


def test_a_nominal_eighth_of_an_inch_says_what_as568_really_has() -> None:
    # SAE AS568: the 200 series has a section of 0.139 in, sold as 1/8 in.
    assert "0.139 in" in only("1 x 1/8 in").note


@pytest.mark.parametrize(
    ("text", "code", "words"),
    [
        ("AS568-214 N70", "N70", "NBR"),
        ("214 NBR70", "NBR70", "70 Shore A"),
        ("214 NBR 70", "NBR 70", "70 Shore A"),
        ("2-214 V75", "V75", "FKM"),
        ("214 FPM", "FPM", "FKM"),
        ("24.99x3.53 EPDM", "EPDM", "EPDM"),
        ("NBR70 214", "NBR70", "NBR"),
        ("O-ring 214 70 Shore A", "70 SHORE A", "70 Shore A"),
    ],
)
def test_rubber_and_hardness_are_features_of_common_usage(text: str, code: str, words: str) -> None:
    reading = only(text)
    assert {f.code for f in reading.features} - {"2-"} == {code}
    feature = next(f for f in reading.features if f.code == code)
    assert feature.basis == "common usage"
    assert words in feature.meaning
    assert reading.unknown == ()


@pytest.mark.parametrize("tail", ["N99", "NB70", "XYZ", "N7", "70"])
def test_a_tail_that_is_no_rubber_is_listed_and_not_dropped(tail: str) -> None:
    reading = only(f"AS568-214 {tail}")
    assert reading.features == ()
    assert reading.unknown == (tail,)


@pytest.mark.parametrize("row", read_table("oring_as568")[::25], ids=lambda row: row["dash"])
def test_every_dash_number_of_the_table_is_read(row: dict[str, str]) -> None:
    assert only(f"AS568-{row['dash']}").designation == f"AS568-{row['dash']}"


@pytest.mark.parametrize("row", read_table("oring_iso3601"), ids=lambda row: row["designation"])
def test_every_size_of_iso_3601_and_jis_is_read_back_as_written(row: dict[str, str]) -> None:
    named = row["designation"]
    wanted = f"AS568-{named}" if named.isdigit() else named
    assert wanted in [reading.designation for reading in read(named)]
    sizes = {"inside": row["d1_mm"], "section": row["d2_mm"]}
    nm = {name: round(float(text) * MM) for name, text in sizes.items()}
    found = read(f"{row['d1_mm']}x{row['d2_mm']}")
    assert nm in [dict(reading.sizes) for reading in found]


def test_a_boss_gasket_is_read_with_either_digit_before_it() -> None:
    for text in ("3-901", "2-901"):
        (reading,) = read(text)
        assert reading.designation == "AS568-901"
        assert "3-901" in reading.also_written
        assert "2-901" not in reading.also_written


@pytest.mark.parametrize("text", ["AS568-408", "2-408"])
def test_a_trade_size_that_the_standard_does_not_list_is_not_told_as_its_own(text: str) -> None:
    (said,) = decode(text).readings
    assert said.designation == "2-408"
    assert said.standard == "trade sizes beyond SAE AS568"
    assert not any(way.startswith(("AS568", "ISO", "BS")) for way in said.also_written)


@pytest.mark.parametrize(
    ("text", "number", "group"),
    # GOST 9833-73: rod and cylinder in millimetres, section in tenths.
    [
        ("030-035-30", "030-035-30", []),
        ("030-035-30-2-2", "030-035-30", ["2", "2"]),
        ("030-035-30-1-3 ГОСТ 9833-73", "030-035-30", ["1", "3"]),
        ("O-ring 100-110-58", "100-110-58", []),
        ("008-010-14", "008-010-14", []),
    ],
)
def test_rod_cylinder_and_section_name_a_ring(text: str, number: str, group: list[str]) -> None:
    (said,) = decode(text).readings
    assert (said.kind, said.designation) == ("o-ring", number)
    assert [feature.code for feature in said.features] == group
    assert said.sizes["section"] == int(number[-2:]) * NM_PER_MM // 10


@pytest.mark.parametrize(
    "text", ["030-035-07", "035-030-30", "030-090-30", "35-52-07", "000-005-30"]
)
def test_three_sizes_of_no_such_section_or_gap_are_no_gost_ring(text: str) -> None:
    assert all(reading.numbering != "GOST 9833" for reading in read(text))
