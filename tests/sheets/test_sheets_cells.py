"""Cells: text made plain, sizes by unit and decimal sign, formulas made harmless and restored."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from xref.domain.number import folded, key
from xref.errors import InputError
from xref.sheets.cells import SizeReader, decimal_sign, kept_text, kind_word, read_sizes, text_of
from xref.sheets.harmless import harmless, restored
from xref.sheets.part_row import names_of
from xref.sheets.size_cell import read_size_cell
from xref.sheets.size_order import shim_in
from xref.sheets.typed import typed

MM = 1_000_000


@given(st.text())
def test_what_is_made_harmless_is_restored(text: str) -> None:
    assert restored(harmless(text)) == text


@given(st.text())
def test_nothing_harmless_begins_as_a_formula(text: str) -> None:
    assert harmless(text)[:1] not in tuple("=+-@\t\r")


@pytest.mark.parametrize("text", ["6204-2RS", "'t Whimbrel", "", "a=b", "'"])
def test_what_runs_nowhere_is_left_alone(text: str) -> None:
    assert harmless(text) == text


@pytest.mark.parametrize(
    ("text", "unit", "decimal", "nm"),
    [
        ("12.7", "mm", "", 12_700_000),
        ("12,7", "mm", ",", 12_700_000),
        ("1,250", "mm", ",", 1_250_000),
        ("1,250", "mm", ".", 1250 * MM),
        ("1.250,5", "mm", ",", 1_250_500_000),
        ("1,250.5", "mm", ".", 1_250_500_000),
        ("1 1/4", "inch", "", 31_750_000),
        ("1-3/8", "mm", "", 34_925_000),
        ("12 mm", "inch", "", 12 * MM),
        ('1/2"', "mm", "", 12_700_000),
        ("½ Zoll", "mm", "", 12_700_000),
        ("Ø 20", "mm", "", 20 * MM),
    ],
)
def test_size_is_read_by_unit_and_decimal_sign(text: str, unit: str, decimal: str, nm: int) -> None:
    assert SizeReader("bore", unit, decimal).read(text) == nm


@pytest.mark.parametrize("cell", [12.7, "12.7"])
def test_number_cell_is_not_taken_for_a_comma_column(cell: str | float) -> None:
    assert SizeReader("bore", "mm", ",").read(cell) == 12_700_000


@pytest.mark.parametrize(
    ("text", "decimal"),
    [("1,250", ""), ("1.250", ","), ("TRUE", ""), ("3-Apr", ""), ("abc", ""), ("-5", "")],
)
def test_unreadable_size_is_refused(text: str, decimal: str) -> None:
    with pytest.raises(InputError):
        SizeReader("bore", "mm", decimal).read(text)


@pytest.mark.parametrize(
    ("texts", "sign"),
    [
        (["12,7", "25"], ","),
        (["12.7", "25"], "."),
        (["1,250", "1.250"], ""),
        (["12,7", "12.7"], ""),
        (["1.250,5"], ","),
        (["1,250.5"], "."),
        (["20", "25"], ""),
        (["35,5 x 52 x 7"], ","),
    ],
)
def test_decimal_sign_needs_evidence(texts: list[str], sign: str) -> None:
    assert decimal_sign(texts) == sign


def test_three_sizes_in_one_cell_are_read_in_order() -> None:
    assert read_sizes("35,5 x 52 x 7", "mm", ",") == (35_500_000, 52 * MM, 7 * MM)


@pytest.mark.parametrize(
    ("cell", "text"),
    [(" a \n b", "a b"), ("'=1+1", "=1+1"), (471.0, "471"), (True, "TRUE"), ("x\x00y", "x y")],
)
def test_cell_becomes_one_line(cell: str | float, text: str) -> None:
    assert text_of(cell) == text


def test_kept_cell_keeps_its_lines() -> None:
    assert kept_text("A1\r\nB2\x07 ") == "A1\nB2"


@pytest.mark.parametrize(
    ("word", "kind"),
    [
        ("Bearing", "bearing"),
        ("Kugellager", "bearing"),
        ("oil seal", "shaft seal"),
        ("Zahnrad", "gear"),
        ("b", ""),
        ("thing", ""),
        ("be", ""),
    ],
)
def test_kind_is_known_by_its_words(word: str, kind: str) -> None:
    assert kind_word(word) == kind


@given(st.from_regex(r"[0-9A-Za-z/. -]{1,20}", fullmatch=True))
def test_quick_way_to_the_keys_gives_the_keys(number: str) -> None:
    try:
        expected = (key(number), folded(number))
    except InputError:
        with pytest.raises(InputError):
            names_of(number)
    else:
        assert names_of(number) == expected


@pytest.mark.parametrize("text", ["00123", "1E5", "3-4", "NA", "TRUE", "471", "QF-2214", "6204/C3"])
def test_text_of_a_number_survives_without_a_finding(text: str) -> None:
    assert (typed(text, "text").text, typed(text, "text").kind) == (text, "")


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("471.0", "number"),
        ("1.00E+05", "exponent"),
        ("4-Mar", "date"),
        ("Mär-04", "date"),
        ("#REF!", "error"),
        ("#NAME?", "error"),
    ],
)
def test_what_a_spreadsheet_left_in_text_is_said(text: str, kind: str) -> None:
    assert typed(text, "text").kind == kind


@pytest.mark.parametrize(
    ("number", "number_format", "text"),
    [(471, "00000", "00471"), (31704, "0000-000", "0031-704"), (471, "General", "471")],
)
def test_zero_padded_format_gives_the_zeros_back(
    number: int, number_format: str, text: str
) -> None:
    assert typed(number, "xlsx", number_format).text == text


def test_format_is_not_trusted_in_other_workbooks() -> None:
    assert typed(471, "xls", "00000").text == "471"


def test_one_size_of_a_shim_is_its_thickness() -> None:
    assert shim_in("Shim, kingpin") == shim_in("brake shims") == "shim"
    assert shim_in("shimmy damper") == shim_in("") == ""
    assert read_size_cell('0.010"', "mm", "", shim_in("shim")).sizes == {"thickness": 254_000}
