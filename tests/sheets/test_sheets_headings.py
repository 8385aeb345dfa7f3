"""Headings: the trade's words in English and German, near spellings, units; and what is none."""

from __future__ import annotations

import pytest

from xref.errors import InputError, NotFoundError
from xref.sheets.columns import told_missing, understand_columns
from xref.sheets.headings import NO_FIELD, TEXT_FIELDS, field_from, is_size, meaning_of
from xref.sheets.words import heading_words


@pytest.mark.parametrize(
    ("heading", "field", "unit"),
    [
        ("Part No.", "number", ""),
        ("P/N", "number", ""),
        ("TEILE-NR.", "number", ""),
        ("Our part no.", "number", ""),
        ("Teilenumer", "number", ""),
        ("I.D. (in)", "bore", "inch"),
        ("I.D. mm", "bore", "mm"),
        ('Bore (")', "bore", "inch"),
        ("O.D.", "outside", ""),
        ("Ø", "diameter", ""),
        ("Bohrung [mm]", "bore", "mm"),
        ("Welle", "shaft", ""),
        ("Außen-Ø", "outside", ""),
        ("Breite", "width", ""),
        ("supersedes", "replaces", ""),
        ("Replaced by", "replaced by", ""),
        ("ersetzt durch", "replaced by", ""),
        ("S/N from", "serial from", ""),
        ("Serial to", "serial to", ""),
        ("Qty", "quantity", ""),
        ("Preis", "price", ""),
        ("Lieferant", "supplier", ""),
        ("Desciption", "words", ""),
        ("Found in", "source", ""),
        ("bore (mm)", "bore", "mm"),
        ("Casting no.", "cast", ""),
    ],
)
def test_heading_is_understood(heading: str, field: str, unit: str) -> None:
    found = meaning_of(heading)
    assert found is not None
    assert (found.field, found.unit) == (field, unit)


@pytest.mark.parametrize(
    "heading", ["Shelf", "Fach", "QF-2214", "Whimbrel", "12", "", "x" * 200, "Weight", "Colour"]
)
def test_other_headings_mean_nothing(heading: str) -> None:
    assert meaning_of(heading) is None


def test_near_spelling_is_less_sure_than_the_word() -> None:
    near, exact = meaning_of("Desciption"), meaning_of("Description")
    assert near is not None
    assert exact is not None
    assert near.sure < exact.sure == 1.0


def test_every_word_of_the_list_leads_to_a_field() -> None:
    fields = {word.field for word in heading_words()} - NO_FIELD
    assert all(field in TEXT_FIELDS or is_size(field) for field in fields)


def fields(heading: list[str], rows: list[list[str]], **told: str) -> list[str]:
    return [c.field for c in understand_columns(heading, rows, told)]


def test_second_column_of_one_field_is_kept_as_it_stands() -> None:
    assert fields(["Part No.", "Price", "Price"], []) == ["number", "price", "extra"]


def test_number_is_only_proposed_by_what_stands_in_it() -> None:
    rows = [["chain case", "QF-2214"], ["draw hook", "QF-2215"], ["cab step", "DM 881"]]
    assert fields(["", ""], rows) == ["extra", "extra"]
    assert [c.perhaps for c in understand_columns(["", ""], rows, {})] == ["", "number"]


def test_prose_is_not_taken_for_numbers() -> None:
    rows = [["chain case"], ["draw hook"], ["cab step"]]
    assert fields([""], rows) == ["extra"]


NUMBERS = ("QF-2214", "QF-2215", "QF-2216")


@pytest.mark.parametrize(
    ("cells", "field"),
    [
        (("QW101-QW499", "QW500 up", "QW20 to QW99"), "serials"),
        (("£12.50", "£3", "£4.10"), "price"),
        (("35x52x7", "20 x 47 x 14 mm", "12,7x20x5"), "sizes"),
        (("(35*52*7)", '1" x 2" x 9/16"', "Ø20×47×14"), "sizes"),
        (("52x35x7", "47x20x14", "20x12x5"), "extra"),
        (("M8x1x20", "35x52", "10x20x30x40"), "extra"),
        (("bearing", "gear", "bush"), "kind"),
        (("A1-A3", "B2", "C4"), "extra"),
        (("chain case", "6204", "draw hook"), "extra"),
        (("20 mm", "25 mm", "30 mm"), "extra"),
        (("12", "14", "16"), "extra"),
    ],
    ids=[
        "serials",
        "prices",
        "triples",
        "triples written otherwise",
        "the larger first",
        "other figures",
        "kinds",
        "shelves",
        "prose",
        "one size",
        "plain numbers",
    ],
)
def test_column_without_a_heading_is_understood_by_its_cells(
    cells: tuple[str, ...], field: str
) -> None:
    rows = [[number, "Whimbrel", cell] for number, cell in zip(NUMBERS, cells, strict=True)]
    found = understand_columns(["Part No.", "Model", ""], rows, {})[2]
    assert found.field == field
    assert found.by == ("kept" if field == "extra" else "content")
    assert found.sure <= 0.7


@pytest.mark.parametrize(
    ("cells", "perhaps"),
    [
        (("6204-2RS", "6304 C3", "30205"), "interchange"),
        (("20 mm", "25 mm", "30 mm"), "bore"),
        (("12", "14", "16"), ""),
        (("chain case", "6204", "draw hook"), ""),
    ],
)
def test_what_a_column_only_may_be_is_proposed_and_taken_when_told(
    cells: tuple[str, ...], perhaps: str
) -> None:
    rows = [[number, cell] for number, cell in zip(NUMBERS, cells, strict=True)]
    [_, found] = understand_columns(["Part No.", ""], rows, {})
    assert (found.field, found.by, found.perhaps) == ("extra", "kept", perhaps)
    if perhaps:
        [_, told] = understand_columns(["Part No.", ""], rows, {"column B": perhaps})
        assert (told.field, told.by, told.perhaps) == (perhaps, "told", "")


def test_range_of_serials_is_not_guessed_where_no_model_is_named() -> None:
    rows = [[n, c] for n, c in zip(NUMBERS, ("QW1-QW49", "QW50-QW99", "QW7 up"), strict=True)]
    assert fields(["Part No.", "Built"], rows) == ["number", "extra"]


def test_sizes_with_units_side_by_side_are_bore_outside_and_width() -> None:
    cells = (("20 mm", "47 mm", "14 mm"), ("1 in", "2 in", "9/16 in"), ("25 mm", "52,5 mm", ""))
    rows = [[number, *row] for number, row in zip(NUMBERS, cells, strict=True)]
    assert fields(["Part No.", "", "", ""], rows)[:3] == ["number", "bore", "outside"]


@pytest.mark.parametrize(
    "cells",
    [
        (("47 mm", "20 mm"), ("52 mm", "25 mm"), ("62 mm", "30 mm")),
        (("20", "47"), ("25", "52"), ("30", "62")),
        (("20 mm", "47 mm"), ("25 mm", "wide"), ("30 mm", "62 mm")),
    ],
    ids=["the larger first", "no units", "one is no size"],
)
def test_other_sizes_side_by_side_are_not_guessed(cells: tuple[tuple[str, str], ...]) -> None:
    rows = [[number, *row] for number, row in zip(NUMBERS, cells, strict=True)]
    assert fields(["Part No.", "", ""], rows) == ["number", "extra", "extra"]


Row = tuple[str | float, ...]


def taken(heading: list[str], *rows: Row, told: dict[str, str] | None = None) -> list[str]:
    """The columns after the first: the field, or the field proposed with a question mark."""
    every = [[number, *row] for number, row in zip(NUMBERS, rows, strict=False)]
    columns = understand_columns(["Part No.", *heading], every, told or {})[1:]
    return [f"{c.perhaps}?" if c.perhaps else c.field for c in columns]


WHOLE: tuple[Row, ...] = ((20, 47, 14.0), (25, 52, 15.0), (30, 62, 16.0))


@pytest.mark.parametrize(
    ("heading", "rows", "fields"),
    [
        (["d", "D", "B"], WHOLE, ["bore", "outside", "width"]),
        (["d", "D", "B"], [("20", "47,5", "1/2"), ("25", "", "")], ["bore", "outside", "width"]),
        (["d (mm)", "D [mm]", "B"], WHOLE, ["bore", "outside", "width"]),
        (["d1", "D1", "H"], WHOLE, ["bore", "outside", "width"]),
        (["di", "da", "s"], WHOLE, ["bore", "outside", "thickness"]),
        (["d1", "d2", "h"], WHOLE, ["bore", "outside", "thickness"]),
        (["B", "D", "d"], [(14, 47, 20), (15, 52, 25)], ["width", "outside", "bore"]),
        (
            ["d", "D", "T", "B", "C"],
            [(20, 47, 15.25, 14, 12)],
            ["bore", "outside", "width", "cone-width", "cup-width"],
        ),
        (["I.D.", "O.D.", "B"], WHOLE, ["bore", "outside", "width"]),
        (["d", "D", "d1"], [(20, 47, 29.0)], ["bore", "outside", "extra"]),
        (["d", "D", "B"], [(47, 20, 14), (52, 25, 15)], ["bore?", "outside?", "width?"]),
        (["d", "Shelf", "B"], [(20, "A", 14)], ["bore?", "extra", "width?"]),
        (["d1", "d2", "Shelf"], [(20.3, 2.62, "A")], ["inside?", "section?", "extra"]),
        (
            ["d", "D", "T", "B"],
            [(20, 47, "", 14), (20, 47, 15.25, 14)],
            ["bore?", "outside?", "width?", "cone-width?"],
        ),
        (["d", "D", "B"], [("A", "east", "x"), ("B", "west", "y")], ["extra", "extra", "extra"]),
        (["B", "H", "s"], WHOLE, ["extra", "extra", "extra"]),
    ],
    ids=[
        "of ISO 15",
        "as text",
        "with units",
        "d1 and D1",
        "inner and outer",
        "washers",
        "in another order",
        "tapers",
        "beside words",
        "two bores",
        "the larger first",
        "no outside",
        "o-rings",
        "tapers among others",
        "no sizes",
        "shelves",
    ],
)
def test_letters_of_drawings_are_sizes_where_the_sizes_bear_it_out(
    heading: list[str], rows: tuple[Row, ...], fields: list[str]
) -> None:
    assert taken(heading, *rows) == fields


def test_letter_told_is_its_own_case() -> None:
    told = {"D": "outside", "d": "shaft"}
    assert taken(["d", "D", "B"], (47, 20, 14), told=told) == ["shaft", "outside", "width?"]


@pytest.mark.parametrize(
    ("rows", "fields"),
    [
        (WHOLE, ["bore", "outside", "width"]),
        (
            [("20", "47", "14"), ("25", "52", "15"), ("30", "62", "16")],
            ["bore", "outside", "width"],
        ),
        ([(20.1, 47, 14), (25.1, 52, 15), (30.1, 62, 16)], ["bore?", "outside?", "width?"]),
        ([(47, 20, 14), (52, 25, 15), (62, 30, 16)], ["extra", "extra", "extra"]),
        ([(20, 47, ""), (25, 52, ""), (30, 62, "")], ["extra", "extra", "extra"]),
        (WHOLE[:2], ["extra", "extra", "extra"]),
    ],
    ids=[
        "of standard parts",
        "as text",
        "of no standard part",
        "the larger first",
        "two sizes",
        "two rows",
    ],
)
def test_bare_sizes_without_a_heading_are_taken_where_standard_parts_have_them(
    rows: tuple[Row, ...], fields: list[str]
) -> None:
    assert taken(["", "", ""], *rows) == fields
    assert taken(["Least", "Most", "Stock"], *rows) == ["extra", "extra", "extra"]


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
