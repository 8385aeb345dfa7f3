"""Sizes as people write them: what each means, and what is refused."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from xref.domain.size import (
    LARGEST_NM,
    NM_PER_INCH,
    NM_PER_MM,
    SMALLEST_NM,
    Length,
    inch_text,
    mm_text,
    parse_count,
    parse_length,
    parse_lengths,
)
from xref.errors import InputError

HALF_INCH = 12_700_000
ONE_THREE_EIGHTHS = 34_925_000


@pytest.mark.parametrize(
    ("text", "nm", "unit"),
    [
        ("12.7mm", HALF_INCH, "mm"),
        ("12.7 MM", HALF_INCH, "mm"),
        ("12,7 mm", HALF_INCH, "mm"),
        ("1.27cm", HALF_INCH, "cm"),
        ("0.0127 m", HALF_INCH, "m"),
        ("20 millimetres", 20 * NM_PER_MM, "mm"),
        ('0.500"', HALF_INCH, "inch"),
        (".500 in", HALF_INCH, "inch"),
        ("1/2 inch", HALF_INCH, "inch"),
        ("½ in", HALF_INCH, "inch"),
        ("1½ in", 38_100_000, "inch"),
        ("1-3/8in", ONE_THREE_EIGHTHS, "inch"),
        ('1 3/8"', ONE_THREE_EIGHTHS, "inch"),
        ("1–3/8″", ONE_THREE_EIGHTHS, "inch"),
        ("1-3/8”", ONE_THREE_EIGHTHS, "inch"),
        ("1-3/8''", ONE_THREE_EIGHTHS, "inch"),
        ("1 3⁄8 inches", ONE_THREE_EIGHTHS, "inch"),
        ("8 thou", 203_200, "thou"),
        ("Ø20 mm", 20 * NM_PER_MM, "mm"),
        (" 20. mm ", 20 * NM_PER_MM, "mm"),
        ("1250 mm", 1250 * NM_PER_MM, "mm"),
        ("1/2 mm", 500_000, "mm"),
        ("1/2-in", HALF_INCH, "inch"),
        ("1-3/8-in", ONE_THREE_EIGHTHS, "inch"),
        ("12-mm", 12 * NM_PER_MM, "mm"),
        ("12 - mm", 12 * NM_PER_MM, "mm"),
    ],
)
def test_a_length_with_its_unit_is_exact(text: str, nm: int, unit: str) -> None:
    assert parse_length(text) == Length(nm, text.strip(), unit, assumed=False)


@pytest.mark.parametrize(
    ("text", "default", "nm", "unit"),
    [
        ("20", "mm", 20 * NM_PER_MM, "mm"),
        ("20", "inch", 20 * NM_PER_INCH, "inch"),
        (".500", "inch", HALF_INCH, "inch"),
        ("8", "thou", 203_200, "thou"),
        ("1/2", "mm", HALF_INCH, "inch"),
        ("1-3/8", "mm", ONE_THREE_EIGHTHS, "inch"),
        ("1/2", "cm", 5 * NM_PER_MM, "cm"),
    ],
)
def test_a_bare_number_says_which_unit_was_taken(
    text: str, default: str, nm: int, unit: str
) -> None:
    # A bare fraction beside millimetres is inches: common practice, no published source.
    assert parse_length(text, default) == Length(nm, text, unit, assumed=True)


def test_eight_thou_is_0_2032_mm() -> None:
    # Common practice, no published source; follows from 1 in = 25.4 mm exactly.
    assert mm_text(parse_length("8 thou").nm) == "0.2032 mm"


@pytest.mark.parametrize("text", ["1/3 in", "25/30", "5/10", "1-1/6 in"])
def test_a_fraction_of_an_inch_has_a_power_of_two_below_the_line(text: str) -> None:
    with pytest.raises(InputError, match="is no fraction of an inch"):
        parse_length(text)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "is empty"),
        ("   ", "is empty"),
        ("1,250", "may be 1.250 or 1250"),
        ("1,250 mm", "may be 1.250 or 1250"),
        ("3/4-16", "is a thread"),
        ("1/2-13 UNC", "is a thread"),
        ("M8", "is a thread"),
        ("M8x1.25", "is a thread"),
        ("1/2 BSP", "is a thread"),
        ("5 mil", "may be a thousandth"),
        ("5'", "is in feet"),
        ("5 ft", "is in feet"),
        ("nan", "does not begin with a number"),
        ("inf", "does not begin with a number"),
        ("mm", "does not begin with a number"),
        ("1e5", "exponent"),
        ("1E-5 mm", "exponent"),
        ("-5 mm", "below zero"),
        ("−5", "below zero"),
        ("5-", "breaks off at a dash"),
        ("5 -", "breaks off at a dash"),
        ("1/2-", "breaks off at a dash"),
        ("5–", "breaks off at a dash"),
        ("5 mm-", "breaks off at a dash"),
        ("0", "is zero"),
        ("0/8 in", "is zero"),
        ("101 m", "not the size of a part"),
        ("0.0001 mm", "not the size of a part"),
        ("12 parsec", "not known"),
        ("12 kg", "not known"),
        ("12 mm 13", "two numbers"),
        ("12 13", "two numbers"),
        ("1-2", "two numbers"),
        ("1.2.3", "is not a number"),
        ("1/0", "not a fraction"),
        ("1-9/8 in", "not a fraction"),
        ("35 x 52", "several sizes"),
        ("1\x002 mm", "invisible character"),
        ("1\u200b2 mm", "invisible character"),
        ("\u202e12 mm", "invisible character"),
        ("١٢ mm", "digits of another script"),
        ("\uff11\uff12 mm", "digits of another script"),
        ("२०", "digits of another script"),
    ],
)
def test_what_could_mean_two_things_or_nothing_is_refused(text: str, said: str) -> None:
    with pytest.raises(InputError, match=said) as caught:
        parse_length(text)
    assert caught.value.hint


def test_a_fraction_over_one_is_read_when_it_stands_alone() -> None:
    assert parse_length("11/8 in").nm == ONE_THREE_EIGHTHS


def test_an_unknown_default_unit_is_refused() -> None:
    with pytest.raises(InputError, match="no unit"):
        parse_length("20", "furlong")


@pytest.mark.parametrize(
    "text",
    ["9" * 1_000_000, "1/" * 500_000, "½" * 1_000_000, " " * 1_000_000, "\x00" * 1_000_000],
    ids=["digits", "slashes", "halves", "spaces", "NULs"],
)
def test_a_megabyte_is_refused_and_shown_short(text: str) -> None:
    with pytest.raises(InputError) as caught:
        parse_length(text)
    with pytest.raises(InputError):
        parse_lengths(text)
    assert len(caught.value.message) < 250
    assert caught.value.message.isprintable()


@pytest.mark.parametrize(
    ("text", "nm"),
    [
        ("35 x 52 x 7", (35_000_000, 52_000_000, 7_000_000)),
        ("35x52x7mm", (35_000_000, 52_000_000, 7_000_000)),
        ("35 × 52 × 7 mm", (35_000_000, 52_000_000, 7_000_000)),
        ("1-3/8 x 2 x 1/4 in", (ONE_THREE_EIGHTHS, 50_800_000, 6_350_000)),
        ("1-3/8 x 2 x 1/4", (ONE_THREE_EIGHTHS, 50_800_000, 6_350_000)),
        ("1 in x 25 mm", (NM_PER_INCH, 25_000_000)),
        ("20", (20_000_000,)),
    ],
)
def test_a_unit_after_the_last_size_serves_all(text: str, nm: tuple[int, ...]) -> None:
    assert tuple(length.nm for length in parse_lengths(text)) == nm


@pytest.mark.parametrize(
    "text", ["35 x", "x 7", "35 x x 7", "35 x 52-", "35- x 52", "35 mm x 52", "35 x 52 mm x 7", "x"]
)
def test_sizes_half_written_are_refused(text: str) -> None:
    with pytest.raises(InputError):
        parse_lengths(text)


@pytest.mark.parametrize(("text", "count"), [("17", 17), (" 8 ", 8), ("007", 7)])
def test_a_count_is_a_whole_number(text: str, count: int) -> None:
    assert parse_count(text) == count


@pytest.mark.parametrize("text", ["", "0", "-3", "17.0", "17 mm", "1e3", "٣", "²", "1" * 7, "NaN"])
def test_what_is_no_count_is_refused(text: str) -> None:
    with pytest.raises(InputError):
        parse_count(text)


@pytest.mark.parametrize(
    ("nm", "text"),
    [(20_000_000, "20 mm"), (4_762_500, "4.7625 mm"), (1, "0.000001 mm"), (-250_000, "-0.25 mm")],
)
def test_millimetres_are_shown_exactly(nm: int, text: str) -> None:
    assert mm_text(nm) == text


@pytest.mark.parametrize(
    ("nm", "text"),
    [
        (ONE_THREE_EIGHTHS, "1-3/8 in"),
        (HALF_INCH, "1/2 in"),
        (50_800_000, "2 in"),
        (396_875, "1/64 in"),
        (25_000_000, None),
        (396_874, None),
        (0, None),
    ],
)
def test_only_exact_sixty_fourths_are_shown_as_fractions(nm: int, text: str | None) -> None:
    assert inch_text(nm) == text


@given(st.integers(SMALLEST_NM, LARGEST_NM))
def test_what_is_shown_in_millimetres_reads_back_the_same(nm: int) -> None:
    assert parse_length(mm_text(nm)).nm == nm


@given(st.integers(1, 64 * 200))
def test_what_is_shown_in_inches_reads_back_the_same(sixty_fourths: int) -> None:
    nm = sixty_fourths * NM_PER_INCH // 64
    shown = inch_text(nm)
    assert shown is not None
    assert parse_length(shown).nm == nm


@given(
    st.text()
    | st.text(alphabet="0123456789./,-x \"'½minchtou\x00٣", max_size=20)
    | st.from_regex(r"[0-9]{1,3}[-., /][0-9/]{1,4} ?(mm|in|\"|thou|mil|')?", fullmatch=True)
)
def test_any_text_is_a_length_or_an_input_error(text: str) -> None:
    try:
        length = parse_length(text)
    except InputError:
        return
    assert SMALLEST_NM <= length.nm <= LARGEST_NM
    assert length.text == text.strip()


@given(st.text(alphabet="0123456789./,-x×* \"'½mincht", max_size=30))
def test_any_text_is_lengths_or_an_input_error(text: str) -> None:
    try:
        lengths = parse_lengths(text)
    except InputError:
        return
    assert all(SMALLEST_NM <= length.nm <= LARGEST_NM for length in lengths)


@given(st.text())
def test_any_text_is_a_count_or_an_input_error(text: str) -> None:
    try:
        count = parse_count(text)
    except InputError:
        return
    assert 1 <= count <= 999_999
