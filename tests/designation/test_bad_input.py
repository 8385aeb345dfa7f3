"""Every reader of trade numbers refuses what cannot be a number, and survives any text."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from xref.designation import Reader, read, readers
from xref.errors import InputError

ALL = pytest.mark.parametrize(
    "reader",
    [*readers(), read],
    ids=[*(reader.__module__.split(".")[-1] for reader in readers()), "all"],
)

ODD = st.text(max_size=60) | st.text('0123456789xX×-/., ABCPGSV"', max_size=24)
"""Any text, and text of the signs of which call-outs are made."""


@ALL
@pytest.mark.parametrize(
    "text",
    [
        "",
        " ",
        " \t ",
        "62\x0004",
        "6204\x00",
        "62\x1b04",
        "35x52\nx7",
        "\u202e4026",
        "\ud800",
        "21\udfff4",
        "2" * 1_000_000,
        " " * 1_000_000,
        "35x52x7 " * 100_000,
    ],
    ids=[
        "empty",
        "space",
        "tab",
        "NUL inside",
        "NUL last",
        "escape",
        "new line",
        "turned around",
        "lone surrogate",
        "surrogate inside",
        "1 MB of digits",
        "1 MB of spaces",
        "1 MB of seals",
    ],
)
def test_text_that_cannot_be_a_number_is_refused_and_shown_short(reader: Reader, text: str) -> None:
    with pytest.raises(InputError) as caught:
        reader(text)
    assert caught.value.message.isprintable()
    assert len(caught.value.message) < 250
    assert caught.value.hint


@ALL
@given(text=ODD)
def test_any_text_gives_readings_with_real_sizes_or_an_input_error(
    reader: Reader, text: str
) -> None:
    try:
        found = reader(text)
    except InputError:
        return
    for reading in found:
        assert reading.designation
        assert reading.kind
        assert all(size > 0 for size in reading.sizes.values())
