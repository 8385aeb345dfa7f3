"""Call-outs of fixings, threads, drives and seats, each beside texts that must not be read so."""

from __future__ import annotations

import pytest

from xref import designation
from xref.designation import drives, fixings, seats, threads
from xref.services.decode.decode import decode

MM = 1_000_000
INCH = 25_400_000


@pytest.mark.parametrize(
    ("text", "number", "kind"),
    [
        ("DIN 471 - 25x1.2", "DIN 471-25x1.2", "retaining ring"),
        ("din 471-25 x 1,2", "DIN 471-25x1.2", "retaining ring"),
        ("DIN 472-52", "DIN 472-52x2", "retaining ring"),
        ("ISO 1234 3.2x32", "ISO 1234 3.2", "pin"),
        ("DIN 94 3,2x32", "ISO 1234 3.2", "pin"),
        ("DIN EN ISO 8752 - 6x30", "ISO 8752 6", "pin"),
        ("DIN 1481 6x30", "ISO 8752 6", "pin"),
        ("DIN 7 6x30", "ISO 2338 6", "pin"),
        ("DIN 1 6x30", "ISO 2339 6", "pin"),
        ("DIN 6885 A 8x7x40", "ISO 773 8x7", "key"),
        ("Woodruff 5x6.5", "ISO 3912 5x6.5", "key"),
        ("ISO 7089 - 10 - 200 HV", "ISO 7089 M10", "washer"),
        ("DIN 125-A 10.5", "DIN 125 A M10", "washer"),
        ("DIN 7603-A 14x18x1.5", "DIN 7603 A 14x18x1.5", "washer"),
        ("M10x1.25", "M10x1.25", "thread"),
        ("M10", "M10", "thread"),
        ("M10x1.5", "M10", "thread"),
        ("3/8 UNC", "3/8-16 UNC", "thread"),
        ("No. 10-32 UNF", "#10-32 UNF", "thread"),
        ("3/8 BSW", "3/8 BSW", "thread"),
        ("3/8 Whitworth", "3/8 BSW", "thread"),
        ('3/8" - 16 BSW', "3/8 BSW", "thread"),
        ("1/4 BSP", "G 1/4", "thread"),
        ("G1/4", "G 1/4", "thread"),
        ("1/4 BSPT", "R 1/4", "thread"),
        ("1/2 NPT", "1/2-14 NPT", "thread"),
        ("2 BA", "2 BA", "thread"),
        ("1 1/8-7 UNC", "1 1/8-7 UNC", "thread"),
        ("08B-2", "08B-2", "chain"),
        ("08B", "08B-1", "chain"),
        ("ISO 606 12B-1 x 84 links", "12B-1", "chain"),
        ("ASME 60-2", "12A-2", "chain"),
        ("A46", "A46", "belt"),
        ("13x8x1000", "V-BELT A", "belt"),
        ("13 x 1000 Li", "V-BELT A", "belt"),
        ("SPZ 1000", "V-BELT SPZ", "belt"),
        ("3V250", "3V250", "belt"),
        ("UC205", "UC205", "bearing"),
        ("UC205-16", "UC205-16", "bearing"),
        ("NKS 25", "NKS25", "bearing"),
        ("52205", "52205", "bearing"),
        ("H210", "H210", "other"),
        ("SN510", "SN 510", "other"),
        ("MT2", "MT 2", "other"),
        ("Morse taper 2", "MT 2", "other"),
        ("8 x 36 x 40", "8x36x40", "other"),
    ],
)
def test_a_call_out_names_its_row(text: str, number: str, kind: str) -> None:
    found = [r for r in decode(text).readings if r.kind == kind and r.tables_agreeing]
    assert any(number in (r.designation, *r.also_written) for r in found), found


@pytest.mark.parametrize(
    ("text", "name", "nm"),
    [
        ("ISO 1234 3.2x32", "length", 32 * MM),
        ("DIN 6885 A 8x7x40", "length", 40 * MM),
        ("M10x1.25x40", "length", 40 * MM),
        ("SPZ 1000", "length", 1000 * MM),
        ("13x1000 Li", "inside-length", 1000 * MM),
        ("A46", "inside-length", 46 * INCH),
        ("12B-1 x 84 links", "links", 84),
    ],
)
def test_the_rest_of_a_call_out_is_a_size(text: str, name: str, nm: int) -> None:
    assert any(r.sizes.get(name) == nm for r in decode(text).readings)


def test_an_inch_belt_that_no_table_has_is_read_by_the_rule() -> None:
    # The table has A51 and A53, no A52.
    assert decode("A52").readings == ()
    (found,) = decode("V-belt A52").readings
    assert found.tables_agreeing == 0
    assert found.sizes == {"inside-length": 52 * INCH, "outside-length": 54 * INCH}


@pytest.mark.parametrize(
    "text",
    [
        "DIN 4711-25",  # another standard
        "DIN 70 6x30",
        "ISO 12345 3.2x32",
        "6204",
        "35x52x7",
        "DIN 471",  # no size
    ],
)
def test_what_is_no_fixing_is_not_read_as_one(text: str) -> None:
    assert fixings.read(text) == ()


@pytest.mark.parametrize(
    "text", ["MT2", "M10/1", "10x1.25", "R1-4", "G6204", "2 BSA", "20x23x20", "M1.25.1", "30 BARS"]
)
def test_what_is_no_thread_is_not_read_as_one(text: str) -> None:
    assert threads.read(text) == ()


@pytest.mark.parametrize(
    "text",
    ["08D-1", "6208", "A46.5", "F46", "35x52x7", "20x23x20", "13x9x1000", "608B", "SPD 1000"],
)
def test_what_is_no_drive_is_not_read_as_one(text: str) -> None:
    assert drives.read(text) == ()


@pytest.mark.parametrize(
    "text", ["UD205", "UC2051", "52105", "MT 2.5", "8x40x36", "SNK 510", "HK2020", "NK20/20"]
)
def test_what_is_no_seat_is_not_read_as_one(text: str) -> None:
    assert seats.read(text) == ()


@pytest.mark.parametrize(
    ("text", "wrong"),
    [
        ("1 1/16 UNEF", "11/16-24 UNEF"),  # a space tells them apart
        ("11/16 UNEF", "1 1/16-18 UNEF"),
        ("M10x1.2", "M10x1.25"),
        ("1/4 BSPT", "G 1/4"),
        ("08A-1", "08B-1"),
        ("DIN 472-25x1.2", "DIN 471-25x1.2"),
    ],
)
def test_a_near_miss_names_another_row_or_none(text: str, wrong: str) -> None:
    named = {n for r in decode(text).readings for n in (r.designation, *r.also_written)}
    assert wrong not in named


@pytest.mark.parametrize("text", ["NU206", "AS568-214", "35x52x7", "20x23x20", "25580/25520"])
def test_the_first_families_are_still_read_by_one_reader_only(text: str) -> None:
    new = (fixings.read, threads.read, drives.read, seats.read)
    assert designation.read(text)
    assert [r for reader in new for r in reader(text)] == []
