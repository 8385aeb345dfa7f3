"""Inch tapers: what must hold between rows, and what is withheld where it does not."""

from __future__ import annotations

import pytest

from xref.standards.families import rows_of, standard_parts
from xref.standards.rowreader import by_size, inch_or_mm
from xref.standards.tapers import faults, sound
from xref.tables import Row, read_table


def taper(pair: str, d: str = "40", T: str = "0.8000", **more: str) -> Row:
    """An invented row; millimetres for the bore, inches for T, as the checks read them."""
    cone, cup = pair.split("/")
    plain = {"D_mm": "80", "B_mm": "20", "C_mm": "16", "tables_agreeing": "2", "table_note": ""}
    return plain | {"cone": cone, "cup": cup, "d_mm": d, "T_in": T} | more


SOUND = [taper("7710/7720"), taper("7710/7722", T="0.9000", C_mm="19"), taper("7711/7720")]


def test_rows_that_hold_together_pass_whole() -> None:
    assert faults(SOUND) == ()
    assert sound(SOUND) == tuple(SOUND)


def test_the_shipped_table_is_sound() -> None:
    assert faults(read_table("tapered_inch")) == ()
    assert len(rows_of("tapered_inch")) == len(read_table("tapered_inch"))


@pytest.mark.parametrize("pair", ["77/7720", "7710/45", "7/7720"])
def test_a_cone_or_cup_number_under_three_characters_takes_its_row_out(pair: str) -> None:
    assert sound([*SOUND, taper(pair)]) == tuple(SOUND)


@pytest.mark.parametrize(
    ("column", "cell"), [("B_mm", "121.946"), ("B_mm", "20.02"), ("C_mm", "16.2")]
)
def test_a_width_that_its_half_has_nowhere_else_is_left_empty(column: str, cell: str) -> None:
    odd = taper("7710/7720", tables_agreeing="1", **{column: cell})
    assert sound([*SOUND, odd])[-1] == odd | {column: ""}


def test_a_width_that_differs_by_rounding_alone_is_kept() -> None:
    near = taper("7710/7720", tables_agreeing="1", B_mm="20.001")
    assert sound([*SOUND, near])[-1] == near


@pytest.mark.parametrize(("column", "cell"), [("d_mm", "41"), ("D_mm", "80.05")])
def test_a_bore_or_outside_diameter_of_another_half_takes_its_row_out(
    column: str, cell: str
) -> None:
    odd = taper("7710/7720", tables_agreeing="1") | {column: cell}
    assert sound([*SOUND, odd]) == tuple(SOUND)


def test_two_cups_are_the_same_step_apart_on_every_cone() -> None:
    ninth = taper("7711/7722", T="0.9000", C_mm="19")
    assert sound([*SOUND, ninth]) == (*SOUND, ninth)
    odd = taper("7711/7722", T="0.8000", C_mm="19", tables_agreeing="1")
    assert sound([*SOUND, odd]) == tuple(SOUND)


@pytest.mark.parametrize("half", ["cone", "cup"])
def test_a_width_that_its_own_note_calls_a_misprint_is_withheld(half: str) -> None:
    column = {"cone": "B_mm", "cup": "C_mm"}[half]
    said = taper("7714/7724", table_note=f"{half} width 20 is odd: probably a misprint")
    assert sound([said])[0] == said | {column: ""}


@pytest.mark.parametrize(
    ("pair", "name", "inches_e4"),
    [
        # The inch figure by the neighbours that the fault was seen against.
        ("LM11749/LM11710", "cup-width", 4200),
        ("L44643/L44610", "cup-width", 4200),
        ("02475/02420", "cone-width", 8750),
        ("34307/34478", "cup-width", 6875),
        ("LM29748/LM29711", "width", 7800),
    ],
)
def test_a_misprint_is_mended_by_its_neighbours(pair: str, name: str, inches_e4: int) -> None:
    part = next(part for part in standard_parts() if part.number == pair)
    assert abs(part.sizes[name].value - inches_e4 * 2_540) <= 600


@pytest.mark.parametrize("pair", ["303/28", "32210/45", "32310/55", "62/5535"])
def test_a_pair_torn_from_other_numbers_is_gone(pair: str) -> None:
    tapers = {part.number for part in standard_parts() if part.type == "tapered roller, inch"}
    assert pair not in tapers


def test_agreement_is_said_by_size_where_fewer_tables_have_it() -> None:
    row = {"agreeing_by_size": "cone-width 1; cup-width 2"}
    assert by_size(row) == {"cone-width": 1, "cup-width": 2}
    assert by_size({"designation": "6204"}) == {}
    part = next(part for part in standard_parts() if part.number == "LM11749/LM11710")
    assert part.tables_agreeing == 6
    assert part.note.startswith("cone width and cup width from only one table")


@pytest.mark.parametrize(
    ("inches", "millimetres", "nm"),
    [
        ("0.9744", "24.75", 24_750_000),
        ("1.2894", "32.75", 32_750_000),
        ("1.2047", "30.6", 30_600_000),
        ("0.9843", "25", 25_000_000),
        ("0.6575", "16.7", 16_700_500),  # 0.6575 in is the round figure
        ("1.0000", "25.4", 25_400_000),
        ("0.7874", "20", 20_000_000),
    ],
)
def test_the_rounder_of_two_printed_figures_is_the_size(
    inches: str, millimetres: str, nm: int
) -> None:
    assert inch_or_mm(inches, millimetres).value == nm


def test_a_stocked_bush_of_no_listed_bore_is_not_told_as_the_standard() -> None:
    for bore in ("8.15", "12.1", "30.1"):
        rows = [p for p in standard_parts() if p.number.startswith(f"sintered bush {bore}x")]
        assert [row.maker for row in rows] == ["trade stock beside ISO 2795"], bore
    assert not [p for p in standard_parts() if p.number.startswith("ISO 2795 8.15x")]


@pytest.mark.parametrize("number", ["LS75100", "LS80105", "LS85110"])
def test_the_thick_washers_have_quarter_millimetres_like_their_neighbours(number: str) -> None:
    washer = next(part for part in standard_parts() if part.number == number)
    assert washer.sizes["width"].value == 5_750_000
