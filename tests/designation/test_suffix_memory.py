"""What a table of suffixes has from memory is said to be so, and never told as a standard's."""

from __future__ import annotations

import pytest

from xref.services.decode.decode import decode
from xref.tables import read_table


@pytest.mark.parametrize("text", ["7206-DB", "6204-ZN", "6204/S1"])
def test_a_suffix_from_memory_is_not_told_as_a_standards(text: str) -> None:
    features = [f for reading in decode(text).readings for f in reading.features]
    told = [f for f in features if "(from memory)" in f.meaning]
    assert told
    assert {f.basis for f in told} == {"common usage"}


def test_no_row_from_memory_names_a_standard_as_its_basis() -> None:
    rows = [row for row in read_table("bearing_suffix") if "from memory" in row["note"]]
    assert rows
    assert {row["basis"] for row in rows} == {"common usage"}


def test_a_suffix_that_a_standard_gives_says_so_still() -> None:
    (reading,) = decode("6204-Z").readings
    assert [(f.code, f.basis) for f in reading.features] == [("Z", "standard")]
    assert "memory" not in reading.features[0].meaning
