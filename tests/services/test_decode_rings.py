"""O-rings and shaft seals decoded: weak readings, rubbers."""

from __future__ import annotations

import pytest

from tests.services.decoding import MM, only
from xref.services.decode.decode import decode


@pytest.mark.parametrize("text", ["P26.7", "-999", "V99", "20x24x41", "4.1x300"])
def test_a_weak_reading_that_no_table_has_is_dropped_and_the_text_listed(text: str) -> None:
    answer = decode(text)
    assert answer.readings == ()
    assert answer.unknown == (text,)


def test_a_named_ring_that_no_table_has_stays_without_sizes() -> None:
    reading = only("AS568-999")
    assert (reading.tables_agreeing, dict(reading.sizes)) == (0, {})
    assert "not in our tables" in reading.note


def test_sizes_not_in_the_tables_are_those_written_and_the_near_twin_is_named() -> None:
    # AS568-214 (24.99 x 3.53) and a metric 25 x 3.5 are near twins.
    reading = only("25x3.5")
    assert (reading.tables_agreeing, reading.sizes["inside"]) == (0, 25 * MM)
    assert "not the same ring" in reading.note
    assert "AS568-214" in reading.note


def test_sizes_of_an_o_ring_are_given_the_number_that_has_them() -> None:
    reading = only("24.99x3.53")
    assert "AS568-214" in reading.also_written
    assert reading.tables_agreeing > 0


def test_the_digits_of_a_seal_code_without_width_are_told_the_widths_of_the_table() -> None:
    reading = only("020035")
    assert "width" not in reading.sizes
    assert "with width 7 mm" in reading.note


def test_what_only_one_reading_leaves_over_stands_in_its_note() -> None:
    answer = decode("214 N70")
    ring = next(r for r in answer.readings if r.kind == "o-ring")
    assert ring.unknown == ()
    assert answer.unknown == ()


def test_a_reading_that_leaves_most_of_the_text_over_is_not_shown() -> None:
    # R24 is an inch ball bearing; "99x3.53" would be left over.
    assert "R24" in [reading.designation for reading in decode("R24").readings]
    assert [reading.designation for reading in decode("OR 24.99x3.53").readings] == ["24.99x3.53"]


def test_a_rubber_is_shown_with_the_fluids_it_stands_and_what_has_no_source() -> None:
    nitrile = decode("35x52x7 TC NBR").readings[0].note
    assert "NBR: mineral oil suited" in nitrile
    assert "glycol brake fluid not to be used" in nitrile
    assert "(from memory)" in decode("OR 214 HNBR").readings[0].note
    assert "suited" not in decode("35x52x7 TC").readings[0].note
