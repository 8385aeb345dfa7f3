"""Words around serials are words and no prefixes; what is printed and kept reads back exactly."""

from __future__ import annotations

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from xref.domain.serial import read_serial, read_serials
from xref.domain.serial_beside import perhaps_serials
from xref.domain.serial_ends import read_from_to
from xref.domain.serial_range import IN, OUT, Serial, SerialRange, SerialSet, not_read
from xref.domain.serial_text import from_stored, stored
from xref.errors import InputError


@pytest.mark.parametrize(
    ("text", "meant"),
    [
        ("pre 4512", "to 4511"),
        ("pre-4512", "to 4511"),
        ("bis 4511", "to 4511"),
        ("bis einschl. 4511", "to 4511"),
        ("tot 4511", "to 4511"),
        ("t/m 500", "to 500"),
        ("jusqu'à 300", "to 300"),
        ("fino a 300", "to 300"),
        ("hasta 300", "to 300"),
        ("fr.o.m. 12 t.o.m. 30", "12-30"),
        ("fra 12 til 30", "12-30"),
        ("od 101 do 499", "101-499"),
        ("da 4512 in poi", "4512-up"),
        ("desde 300 en adelante", "300-up"),
        ("300 et suivants", "300-up"),
        ("ab Masch.-Nr. 4512", "4512-up"),
        ("vanaf 4512", "4512-up"),
        ("från 4512", "4512-up"),
        ("4512 onwards", "4512-up"),
        ("4512 & up", "4512-up"),
        ("4512 - on", "4512-up"),
        ("4512up", "4512-up"),
        ("4512 >", "4512-up"),
        (">= 4512", "4512-up"),
        ("≥ 4512", "4512-up"),
        ("< 4511", "to 4510"),
        ("after 312", "313-up"),
        ("-2600", "to 2600"),
        ("2600-", "2600-up"),
        ("101 to 499 & 600 up", "101-499, 600-up"),
        ("s/n 101-499 (not 230-240)", "101-499 exc. 230-240"),
        ("außer 230-240", "all exc. 230-240"),
        ("alle außer 230", "all exc. 230"),
        ("tous", "all"),
        ("QW101 … QW499", "QW101-QW499"),
        ("between 101 and 499", "101-499"),
        ("12A–340", "12A to 340"),
        ("101/499 only", "101/499 only"),
    ],
)
def test_words_of_ranges_mean_what_they_say_in_every_language(text: str, meant: str) -> None:
    assert str(read_serials(text)) == meant


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("c. 4500", "about"),
        ("early 4512", "about"),
        ("Mk 2", "a mark"),
        ("series 2", "a mark"),
        ("Jan 1952 on", "a date"),
        ("03/1952 on", "a date"),
        ("12/03/1952", "a date"),
        ("BIS4511", "not understood"),
        ("QW 312-up", "not understood"),
        ("nomor 4512", "not understood"),
        ("from eng. no. 12345", "engine serial"),
        ("101/499", "one serial or a range"),
        ("12A-340", "one serial or a range"),
        ("before 312A", "not understood"),
        ("4.512 on", "not understood"),
    ],
)
def test_what_is_no_serial_or_may_be_two_things_is_refused_with_a_reason(
    text: str, why: str
) -> None:
    with pytest.raises(InputError) as refused:
        read_serials(text)
    assert why in refused.value.message
    assert refused.value.hint


def test_letters_apart_from_their_number_are_a_prefix_where_the_model_has_it() -> None:
    assert read_serials("QW 312 up", ["QW"]) == read_serials("QW312-up")
    assert read_serials("to C 4500", ["C"]) == read_serials("to C4500")
    assert read_serials("12A-340", ["12A"]) == read_serials("12A340")


def test_a_known_prefix_that_is_a_word_as_well_is_asked_about() -> None:
    with pytest.raises(InputError, match="the prefix AB or the word"):
        read_serials("ab 4512", ["AB"])
    assert str(read_serials("AB4512", ["AB"])) == "AB4512"


def test_the_components_own_word_is_no_trouble_where_its_serials_are_meant() -> None:
    assert str(read_serials("from eng. no. 12345", (), "engine")) == "12345-up"


@pytest.mark.parametrize("text", ["Mk 2", "Jan 1952", "bis 4511", "c. 4500", "12/03/1952"])
def test_a_word_is_never_the_prefix_of_a_single_serial(text: str) -> None:
    with pytest.raises(InputError, match="is not a serial"):
        read_serial(text)
    assert read_serial("E 1187") == Serial("E", 1187)


PREFIXES = st.sampled_from(["", "QW", "A", "12A", "Q/W", "QW/", "56/", "7X2B"])
SUFFIXES = st.sampled_from(["", "", "A", "B", "Z", "AA"])


@st.composite
def ranges(draw: st.DrawFn) -> SerialRange:
    prefix = draw(PREFIXES)
    ends = [
        Serial(prefix, draw(st.integers(0, 999) | st.integers(0, 10**12 - 1)), draw(SUFFIXES))
        for _ in range(2)
    ]
    low, high = sorted(ends, key=lambda end: end.place)
    shape = draw(st.sampled_from(["both", "one", "up", "to", "all"]))
    return {
        "both": SerialRange(low, high),
        "one": SerialRange(low, low),
        "up": SerialRange(low, None),
        "to": SerialRange(None, high),
        "all": SerialRange(None, None),
    }[shape]


SETS = st.builds(
    SerialSet, st.lists(ranges(), min_size=1, max_size=4).map(tuple), st.lists(ranges()).map(tuple)
)


@given(SETS)
def test_any_set_is_kept_in_a_form_that_reads_back_exactly(serials: SerialSet) -> None:
    assert from_stored(stored(serials)) == serials


@given(SETS)
def test_any_set_that_is_printed_reads_back_as_the_same_set(serials: SerialSet) -> None:
    bare = SerialSet(serials.ranges)
    assert len(str(bare)) <= 300
    assert read_serials(str(bare)) == bare
    try:
        found = read_serials(str(serials)[:300])
    except InputError as refused:
        assume("excepted" in refused.message or len(str(serials)) > 300)
        return
    assert len(str(serials)) > 300 or found == serials


def test_a_set_that_was_not_understood_is_never_every_serial() -> None:
    held = not_read("4512 on")
    assert held.holds(Serial("", 9999)) not in (IN, OUT)
    assert not held.every
    assert from_stored(stored(held), "4512 on") == held
    with pytest.raises(InputError):
        read_serials(str(held))


@pytest.mark.parametrize("text", ["", "QW101", "1..2", ":1 ..", ":", "all", "!", "QW:1..x"])
def test_what_the_store_never_wrote_is_refused(text: str) -> None:
    if text == ":1 ..":
        assert len(from_stored(text).ranges) == 2
        return
    with pytest.raises(ValueError, match="no stored"):
        from_stored(text)


@pytest.mark.parametrize(
    ("low", "high", "meant"),
    [
        ("QW101", "499", "QW101-QW499"),
        ("QW 101", "QW 499", "QW101-QW499"),
        ("4512 on", "", "4512-up"),
        ("ab 4512", "", "4512-up"),
        ("", "bis 4511", "to 4511"),
        ("101", "up to 499", "101-499"),
        ("101", "on", "101-up"),
        ("101-499", "", "101-499"),
        ("12A", "340", "12A to 340"),
        ("", "", "all"),
    ],
)
def test_two_ends_in_two_cells_are_one_range(low: str, high: str, meant: str) -> None:
    assert str(read_from_to(low, high)) == meant


@pytest.mark.parametrize(
    ("low", "high"),
    [("Mk 2", ""), ("101-200", "499"), ("", "4512 on"), ("to 101", "499"), ("Jan 1952", "499")],
)
def test_ends_that_contradict_each_other_or_are_none_are_refused(low: str, high: str) -> None:
    with pytest.raises(InputError):
        read_from_to(low, high)


@pytest.mark.parametrize(
    ("heading", "text", "perhaps"),
    [
        ("Engine No", "4512 on", True),
        ("Masch.-Nr.", "ab 4512", True),
        ("From", "4512", True),
        ("Chassis No.", "4512", True),
        ("Serial range", "101 to 499", True),
        ("Remarks", "4512 on", True),
        ("No", "3", False),
        ("Nr.", "4", False),
        ("Engine", "D4", False),
        ("Remarks", "up to 300 bar", False),
        ("Weight", "300", False),
        ("From", "the shed", False),
    ],
)
def test_a_cell_beside_a_model_may_be_its_serials(heading: str, text: str, perhaps: bool) -> None:
    assert perhaps_serials(heading, text) is perhaps
