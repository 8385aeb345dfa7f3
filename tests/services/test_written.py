"""Makers' letters are told as common usage, and a standard's writing as the standard's."""

from __future__ import annotations

import pytest

from xref.render.decode import decode_text
from xref.services.decode.decode import decode
from xref.services.decode.written import basis_of


@pytest.mark.parametrize(
    ("writing", "basis"),
    [
        ("AS568-214", "SAE AS568"),
        ("ISO 3601-214", "ISO 3601-1"),
        ("BS 214", "BS 1806"),
        ("6818", "JIS B 1513"),
        ("SN 510", "DIN 736 / DIN 738"),
        ("2-214", "common usage"),
        ("3-904", "common usage"),
        ("SNL 510", "common usage"),
        ("6204-LLU", "common usage"),
        ("RLS8", "common usage"),
        ("", "common usage"),
    ],
)
def test_a_writing_carries_the_standard_that_has_it_or_common_usage(
    writing: str, basis: str
) -> None:
    assert basis_of(writing) == basis


@pytest.mark.parametrize("text", ["SNL 510-608", "RLS8", "RMS10", "LRJ3", "HK2020", "B-1212"])
def test_makers_letters_are_no_standards(text: str) -> None:
    reading = decode(text).readings[0]
    assert reading.standard in ("common usage", "inch series", "British inch series", "ISO 3245")
    assert "ABMA" not in reading.note
    assert "ISO 113" not in str(reading.to_json())


@pytest.mark.parametrize("text", ["2-214", "3-904"])
def test_the_prefix_of_an_o_ring_is_told_as_common_usage(text: str) -> None:
    readings = [r for r in decode(text).readings if r.kind == "o-ring"]
    bases = [{f.code: f.basis for f in r.features} for r in readings]
    assert {text[:2]: "common usage"} in bases


def test_the_basis_stands_beside_each_writing_in_json_and_on_the_screen() -> None:
    decoded = decode("AS568-214")
    reading = decoded.readings[0]
    told = reading.to_json()
    assert told["also_written"] == ["ISO 3601-214", "BS 214", "2-214", "-214"]
    assert told["also_written_basis"] == ["ISO 3601-1", "BS 1806", "common usage", "common usage"]
    shown = " ".join(decode_text(decoded, 200).split())
    assert "ISO 3601-214 (ISO 3601-1), BS 214 (BS 1806); in common usage 2-214, -214" in shown
