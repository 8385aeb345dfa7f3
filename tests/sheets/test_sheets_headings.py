"""Headings: the trade's words in English and German, near spellings, units; and what is none."""

from __future__ import annotations

import pytest

from xref.errors import InputError, NotFoundError
from xref.sheets.columns import told_missing, understand_columns
from xref.sheets.headings import TEXT_FIELDS, field_from, is_size, meaning_of
from xref.sheets.words import word_list


@pytest.mark.parametrize(
    ("heading", "field", "unit"),
    [
        ("Part No.", "number", ""), ("P/N", "number", ""), ("TEILE-NR.", "number", ""),
        ("Our part no.", "number", ""), ("Teilenumer", "number", ""),
        ("I.D. (in)", "bore", "inch"), ("I.D. mm", "bore", "mm"), ('Bore (")', "bore", "inch"),
        ("O.D.", "outside", ""), ("Ø", "diameter", ""), ("Bohrung [mm]", "bore", "mm"),
        ("Welle", "shaft", ""), ("Außen-Ø", "outside", ""), ("Breite", "width", ""),
        ("supersedes", "replaces", ""), ("Replaced by", "replaced by", ""),
        ("ersetzt durch", "replaced by", ""), ("S/N from", "serial from", ""),
        ("Serial to", "serial to", ""), ("Qty", "quantity", ""), ("Preis", "price", ""),
        ("Lieferant", "supplier", ""), ("Desciption", "words", ""), ("Found in", "source", ""),
        ("bore (mm)", "bore", "mm"), ("Casting no.", "cast", ""),
    ],
)  # fmt: skip
def test_heading_is_understood(heading: str, field: str, unit: str) -> None:
    found = meaning_of(heading)
    assert found is not None
    assert (found.field, found.unit) == (field, unit)


@pytest.mark.parametrize(
    "heading", ["Shelf", "Fach", "QF-2214", "Wren", "12", "", "x" * 200, "Weight", "Colour"]
)
def test_other_headings_mean_nothing(heading: str) -> None:
    assert meaning_of(heading) is None


def test_near_spelling_is_less_sure_than_the_word() -> None:
    near, exact = meaning_of("Desciption"), meaning_of("Description")
    assert near is not None
    assert exact is not None
    assert near.sure < exact.sure == 1.0


def test_every_word_of_the_list_leads_to_a_field() -> None:
    fields = {row["field"] for row in word_list("headings")}
    assert all(field in TEXT_FIELDS or is_size(field) for field in fields)


def fields(heading: list[str], rows: list[list[str]], **told: str) -> list[str]:
    return [c.field for c in understand_columns(heading, rows, told)]


def test_second_column_of_one_field_is_kept_as_it_stands() -> None:
    assert fields(["Part No.", "Price", "Price"], []) == ["number", "price", "extra"]


def test_number_is_found_by_what_stands_in_it() -> None:
    rows = [["chain case", "QF-2214"], ["draw hook", "QF-2215"], ["cab step", "DM 881"]]
    assert fields(["", ""], rows) == ["extra", "number"]


def test_prose_is_not_taken_for_numbers() -> None:
    rows = [["chain case"], ["draw hook"], ["cab step"]]
    assert fields([""], rows) == ["extra"]


def test_told_column_outranks_its_heading() -> None:
    assert fields(["Part No.", "Ref"], [], Ref="number") == ["extra", "number"]


def test_column_is_told_by_its_letter_too() -> None:
    assert fields(["Alpha", "Beta"], [], B="number") == ["extra", "number"]


def test_column_told_that_is_not_there_is_refused() -> None:
    columns = understand_columns(["Part No."], [], {})
    with pytest.raises(NotFoundError, match="no column"):
        told_missing({"Colour": "kind"}, [columns])


@pytest.mark.parametrize("name", ["colour", "", "bor"])
def test_unknown_field_is_refused(name: str) -> None:
    with pytest.raises(InputError, match="no field"):
        field_from(name)


@pytest.mark.parametrize(
    ("name", "field"),
    [("Description", "words"), ("size:bore", "bore"), ("cone width", "cone-width")],
)
def test_field_is_known_by_its_names(name: str, field: str) -> None:
    assert field_from(name) == field
