"""Serial ranges: how people write them, and what they hold against plain sets of integers."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from xref.domain.serial import read_serial, read_serials
from xref.domain.serial_range import EVERY_SERIAL, IN, OUT, UNKNOWN, Serial, SerialRange, SerialSet
from xref.errors import InputError

LAST = 60
"""The brute-force sets hold the serials 1 to LAST, and one beyond either end."""
EVERYONE = frozenset(range(LAST + 2))


@pytest.mark.parametrize(
    ("text", "meant"),
    [
        ("QW312", "QW312"),
        ("QW-312-up", "QW312-up"),
        ("qw-312 and up", "QW312-up"),
        ("QW312 & later", "QW312-up"),
        ("QW312 or later", "QW312-up"),
        ("QW312 and subsequent", "QW312-up"),
        ("QW312+", "QW312-up"),
        ("312-", "312-up"),
        ("from QW312", "QW312-up"),
        ("QW101–QW499", "QW101-QW499"),
        ("QW101—499", "QW101-QW499"),
        ("QW-101-QW-499", "QW101-QW499"),
        ("from QW101 to QW499", "QW101-QW499"),
        ("QW101 up to and including QW499", "QW101-QW499"),
        ("QW101 to & incl. 499", "QW101-QW499"),
        ("S/N 101 thru 499 exc. 230-240", "101-499 exc. 230-240"),
        ("QW101-QW499 (except QW230)", "QW101-QW499 exc. QW230"),
        ("up to and including QW499", "to QW499"),
        ("-499", "to 499"),
        ("QW499 & earlier", "to QW499"),
        ("before QW500", "to QW499"),
        ("Serial Nos. 101, 105 and 110-120", "101, 105, 110-120"),
        ("QW101-499 and QW 550 up", "QW101-QW499, QW550-up"),
        ("QW 101 to QW 499", "QW101-QW499"),
        ("QW312A-QW312C", "QW312A-QW312C"),
        ("all", "all"),
        ("", "all"),
        ("all exc. QW230", "all exc. QW230"),
        ("QW0012", "QW12"),
    ],
)
def test_serials_are_read_as_people_write_them(text: str, meant: str) -> None:
    assert str(read_serials(text)) == meant


@pytest.mark.parametrize(
    ("text", "piece"),
    [
        ("QW101-499, about 600", "ABOUT 600"),
        ("QW101-QW499 exc. the blue one", "THE BLUE ONE"),
        ("QW500-QW400", "QW500-QW400"),
        ("QW1-XX9", "QW1-XX9"),
        ("QW101,,QW103", "QW101,,QW103"),
        ("before 0", "BEFORE 0"),
        ("QW101-QW199 exc. 150, QW300-up", "QW300-up"),
        ("QW101-QW199 exc. 250", "QW250"),
        ("101-199 exc. QW150", "QW150"),
        ("early ones", "EARLY ONES"),
    ],
)
def test_what_is_not_understood_is_quoted(text: str, piece: str) -> None:
    with pytest.raises(InputError) as refused:
        read_serials(text)
    assert piece in str(refused.value)
    assert refused.value.hint


@pytest.mark.parametrize("text", ["QW", "", "312-313", "QW312 up", "over 312", "12\x00", "312ABC"])
def test_what_is_no_single_serial_is_refused(text: str) -> None:
    with pytest.raises(InputError):
        read_serial(text)


@given(st.text(max_size=400) | st.text(alphabet="QW0123456789-–,.&+ ()EXCUPTONDABFR;/\ud800\x00"))
def test_only_an_input_error_escapes_any_text(text: str) -> None:
    try:
        found = read_serials(text)
    except InputError:
        return
    assert read_serials(str(found)) == found


@given(st.text(max_size=400))
def test_only_an_input_error_escapes_a_single_serial(text: str) -> None:
    try:
        found = read_serial(text)
    except InputError:
        return
    assert read_serial(str(found)) == found


Piece = tuple[int | None, int | None]


@st.composite
def pieces(draw: st.DrawFn, least: int = 1) -> list[Piece]:
    ends = st.integers(1, LAST)
    found: list[Piece] = []
    for _ in range(draw(st.integers(least, 4))):
        low, high = sorted((draw(ends), draw(ends)))
        shape = draw(st.sampled_from(["both", "both", "one", "up", "to"]))
        found.append(
            {"both": (low, high), "one": (low, low), "up": (low, None)}.get(shape, (None, high))
        )
    return found


def members(found: list[Piece]) -> set[int]:
    return {
        n for n in EVERYONE for a, b in found if (a is None or n >= a) and (b is None or n <= b)
    }


def written(found: list[Piece], prefix: str) -> str:
    def one(piece: Piece) -> str:
        low, high = piece
        if low is None:
            return f"to {prefix}{high}"
        if high is None:
            return f"{prefix}{low} and up"
        return f"{prefix}{low}" if low == high else f"{prefix}{low} - {high}"

    return ", ".join(map(one, found))


@given(pieces(), pieces(least=0), st.sampled_from(["", "QW"]))
def test_ranges_hold_what_a_set_of_integers_holds(
    wanted: list[Piece], left_out: list[Piece], prefix: str
) -> None:
    left_out = [piece for piece in left_out if members([piece]) & members(wanted)]
    text = written(wanted, prefix)
    if left_out:
        text += " except " + written(left_out, prefix)
    found = read_serials(text)
    meant = members(wanted) - members(left_out)
    assert {n for n in EVERYONE if found.holds(Serial(prefix, n)) == IN} == meant
    assert {n for n in EVERYONE if found.holds(Serial(prefix, n)) == OUT} == EVERYONE - meant
    assert read_serials(str(found)) == found


@given(pieces(), st.integers(0, LAST + 1))
def test_another_prefix_is_never_compared(wanted: list[Piece], number: int) -> None:
    found = read_serials(written(wanted, "QW"))
    assert found.holds(Serial("QX", number)) == UNKNOWN
    assert found.holds(Serial("", number)) == UNKNOWN


ORDER = ("QA", "QW", "QX")


@given(pieces(), st.sampled_from(ORDER), st.integers(0, LAST + 1))
def test_prefixes_in_order_of_build_are_one_long_row(
    wanted: list[Piece], prefix: str, number: int
) -> None:
    """Each prefix stands for a block of serials of its own, one block after the other."""
    block = LAST + 2
    at = ORDER.index(prefix) * block + number
    start = ORDER.index("QW") * block
    meant = any(
        (low is None or at >= start + low) and (high is None or at <= start + high)
        for low, high in wanted
    )
    found = read_serials(written(wanted, "QW"))
    assert found.holds(Serial(prefix, number), ORDER) == (IN if meant else OUT)


@pytest.mark.parametrize(
    ("text", "serial", "said"),
    [
        ("QW312", "QW312A", IN),
        ("QW312A-QW312C", "QW312", OUT),
        ("QW312A-QW312C", "QW312B", IN),
        ("QW312A-QW312C", "QW312D", OUT),
        ("QW312Z-QW312AB", "QW312AA", IN),
        ("to QW312", "QW312C", IN),
        ("to QW312B", "QW312C", OUT),
        ("QW312B-up", "QW312A", OUT),
        ("QW312-up", "QW312A", IN),
        ("all exc. QW312A", "QW312", IN),
        ("all exc. QW312A", "QW312A", OUT),
        ("all", "XX5", IN),
    ],
)
def test_suffix_letters_come_after_the_bare_number(text: str, serial: str, said: str) -> None:
    assert read_serials(text).holds(read_serial(serial)) == said


@pytest.mark.parametrize(
    ("serial", "end"),
    [("QW340", "QW349"), ("QW359", "QW349"), ("QW338", ""), ("QW360", ""), ("QX349", "")],
)
def test_a_serial_within_ten_of_an_end_is_near_a_break(serial: str, end: str) -> None:
    assert read_serials("QW101-QW349").near_break(read_serial(serial)) == end


def test_every_serial_has_no_break() -> None:
    assert EVERY_SERIAL.near_break(Serial("QW", 5)) == ""


def test_a_range_of_one_serial_is_no_break() -> None:
    assert read_serials("QW312, QW101-up exc. QW315").near_break(Serial("QW", 313)) == ""


def test_a_bare_range_takes_a_prefix_and_a_written_one_keeps_its_own() -> None:
    found = read_serials("101-120, QX5 exc. QX5").with_prefix("QW")
    assert str(found) == "QW101-QW120, QX5 exc. QX5"
    assert EVERY_SERIAL.with_prefix("QW") == EVERY_SERIAL


def test_a_set_that_can_be_compared_in_one_prefix_answers_for_it() -> None:
    held = SerialSet(
        (
            SerialRange(Serial("QW", 101), Serial("QW", 199)),
            SerialRange(Serial("QX", 1), Serial("QX", 50)),
        )
    )
    assert held.holds(Serial("QW", 300)) == OUT
    assert held.holds(Serial("QX", 50)) == IN
    assert held.holds(Serial("QY", 50)) == UNKNOWN


@pytest.mark.parametrize("text", ["QW 1,234", "QW 1,234-up", "QW101-QW1,234", "QW101 exc. 1,234"])
def test_a_comma_of_thousands_is_not_taken_for_two_serials(text: str) -> None:
    with pytest.raises(InputError) as refused:
        read_serials(text)
    assert "may be one serial or two" in refused.value.message
    assert "1234" in refused.value.hint
    assert "1, 234" in refused.value.hint


def test_a_comma_within_one_serial_parts_its_thousands() -> None:
    assert str(read_serial("QW 1,234")) == "QW1234"
    assert str(read_serials("QW101,102, 1104")) == "QW101, QW102, QW1104"
