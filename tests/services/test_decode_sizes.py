"""Three bare sizes: what reads them as a number, and what else is of that size."""

from __future__ import annotations

import pytest

from xref.render.decode import decode_text
from xref.services.decode.decode import decode

OF_204 = {"6204", "7204", "1204", "N204", "NJ204", "NU204", "NUP204", "L20"}


@pytest.mark.parametrize("text", ["20 47 14", "20x47x14", "20/47/14 mm", "20-47-14"])
def test_bearings_of_three_bare_sizes_stand_beside_the_seal(text: str) -> None:
    decoded = decode(text)
    assert [reading.kind for reading in decoded.readings] == ["shaft seal"]
    assert {part.number for part in decoded.same_sizes} == OF_204
    shown = decode_text(decoded)
    assert "bearing: 6204, 7204, 1204, N204, NJ204, NU204, NUP204, L20" in shown
    assert "  xref identify --bore 20mm --outside 47mm --width 14mm\n" in shown
    told = decoded.to_json()["same_sizes"]
    assert isinstance(told, list)
    assert told[0].keys() == {"number", "kind", "description"}


def test_a_size_that_no_seal_has_still_names_its_bearings() -> None:
    decoded = decode("100x180x34")
    assert decoded.readings == ()
    assert "6220" in {part.number for part in decoded.same_sizes}
    assert "6220" in decode_text(decoded)


@pytest.mark.parametrize(
    "text",
    ["20x47x14 NBR", "6204", "20 47", "20.1x47x14", "20x47x15"],
    ids=["rubber is named", "a number", "two sizes", "no such bore", "no such width"],
)
def test_what_is_not_three_sizes_of_a_row_names_no_other(text: str) -> None:
    assert decode(text).same_sizes == ()


def test_what_is_read_is_not_named_twice() -> None:
    decoded = decode("20x23x20")
    assert [reading.designation for reading in decoded.readings] == ["20x23x20"]
    assert "20x23x20" not in {part.number for part in decoded.same_sizes}
