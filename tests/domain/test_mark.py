"""What a user types for a worn mark, and the same mark read upside down."""

from __future__ import annotations

import pytest
from hypothesis import assume, example, given
from hypothesis import strategies as st

from xref.domain.mark import MOST_SIGNS, Mark, Sign, read_mark, upside_down
from xref.domain.number import MAX_MARK
from xref.errors import InputError

TURNABLE = "01689HINOSXZMW"

ANY_TEXT = st.text(st.characters(codec=None, exclude_categories=()), max_size=MAX_MARK + 5)
MARK_TEXT = st.text("036 8BOMW?*[]-/.", min_size=1, max_size=60)
PIECE = st.sampled_from(["0", "3", "b", "W", "?", "*", "[38]", "[ob0]", "[7]", " ", "-", "/", "]"])
TURNABLE_SIGN = st.one_of(
    st.builds(Sign, st.sampled_from(TURNABLE)),
    st.just(Sign("")),
    st.just(Sign("", lost=True)),
    st.lists(st.sampled_from(TURNABLE), min_size=2, max_size=4, unique=True).map(
        lambda chars: Sign("".join(chars))
    ),
)


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("6204", "6204"),
        ("6204 2rs", "62042RS"),
        ("6?04", "6?04"),
        ("62*", "62*"),
        ("62**", "62*"),
        ("62* *", "62*"),
        ("*?*4", "*?*4"),
        ("6[38]04", "6[38]04"),
        ("6[ 3, 8 ]04", "6[38]04"),
        ("6[338]04", "6[38]04"),
        ("6[3]04", "6304"),
        ("6[ob]04", "6[OB]04"),
        ("62/22", "6222"),
        ("qw-312", "QW312"),
        ("1½", "112"),
        ("\uff16\uff12\uff10\uff14", "6204"),
        ("Ø20", "O20"),
    ],
)
def test_a_mark_is_understood_sign_by_sign(text: str, shown: str) -> None:
    assert read_mark(text).shown() == shown


def test_each_sign_says_what_it_may_be() -> None:
    assert read_mark("6?[38]*").signs == (Sign("6"), Sign(""), Sign("38"), Sign("", lost=True))


@pytest.mark.parametrize(
    ("text", "certain", "stretch"),
    [("6204", True, False), ("6?04", False, False), ("6[38]", False, False), ("62*", False, True)],
)
def test_a_mark_says_how_sure_it_is(text: str, certain: bool, stretch: bool) -> None:
    mark = read_mark(text)
    assert (mark.certain, mark.has_lost_stretch) == (certain, stretch)


@pytest.mark.parametrize("text", ["62[38", "62[", "62[]04", "62[ ]04", "62[??]04", "]["])
def test_a_bracket_that_is_no_choice_is_refused(text: str) -> None:
    with pytest.raises(InputError, match="one of these") as refused:
        read_mark(text)
    assert "[38]" in refused.value.hint


@pytest.mark.parametrize("text", ["?", "*", "???", "*?*", "-", "? / ?", "знак"])
def test_a_mark_of_which_nothing_is_legible_is_refused(text: str) -> None:
    with pytest.raises(InputError, match="nothing can be read"):
        read_mark(text)


@pytest.mark.parametrize("text", ["", "   ", "\t"])
def test_an_empty_mark_is_refused(text: str) -> None:
    with pytest.raises(InputError, match="empty"):
        read_mark(text)


def test_the_longest_mark_is_taken_and_one_sign_more_is_refused() -> None:
    assert len(read_mark("7" * MOST_SIGNS).signs) == MOST_SIGNS
    with pytest.raises(InputError, match="49 signs"):
        read_mark("7" * (MOST_SIGNS + 1))


@pytest.mark.parametrize("length", [MAX_MARK + 1, 1_000_000])
def test_prose_is_no_mark(length: int) -> None:
    with pytest.raises(InputError, match=f"{length} characters"):
        read_mark("7" * length)


@pytest.mark.parametrize("text", ["62\x0004", "62\x1b04", "62\n04", "62\ud80004"])
def test_a_control_character_in_a_mark_is_refused_and_not_echoed_raw(text: str) -> None:
    with pytest.raises(InputError) as refused:
        read_mark(text)
    assert refused.value.message.isprintable()


@pytest.mark.parametrize(
    ("text", "turned"),
    [
        ("6008", "8009"),
        ("M6", "9W"),
        ("W1", "1M"),
        ("6?0", "0?9"),
        ("61*", "*19"),
        ("[16]0", "0[19]"),
        ("HNX1", "1XNH"),
    ],
)
def test_a_part_turned_over_shows_its_mark_turned_and_reversed(text: str, turned: str) -> None:
    over = upside_down(read_mark(text))
    assert over is not None
    assert over.shown() == turned
    assert over.turned


@pytest.mark.parametrize("text", ["6204", "7", "QW312", "60[08]4", "6?A", "60[3]"])
def test_characters_that_cannot_be_turned_have_no_reading_upside_down(text: str) -> None:
    assert upside_down(read_mark(text)) is None


@pytest.mark.parametrize("text", ["69", "808", "1001", "SOS", "MW", "6?9", "*8*"])
def test_a_mark_that_reads_the_same_turned_is_not_read_twice(text: str) -> None:
    assert upside_down(read_mark(text)) is None


@given(st.lists(TURNABLE_SIGN, min_size=1, max_size=8))
def test_turning_twice_gives_the_mark_back(signs: list[Sign]) -> None:
    over = upside_down(Mark("", tuple(signs)))
    assume(over is not None)
    assert over is not None
    back = upside_down(over)
    assert back is not None
    assert back.signs == tuple(signs)


@given(st.one_of(ANY_TEXT, MARK_TEXT))
@example("[\ud800]6")
@example("6[\x00]")
def test_only_the_users_error_escapes_any_mark(text: str) -> None:
    try:
        mark = read_mark(text)
    except InputError:
        return
    assert 1 <= len(mark.signs) <= MOST_SIGNS
    assert any(sign.legible for sign in mark.signs)


@given(st.lists(PIECE, max_size=20), st.sampled_from("6B"), st.lists(PIECE, max_size=20))
def test_a_mark_as_shown_reads_back_the_same(
    before: list[str], sure: str, after: list[str]
) -> None:
    mark = read_mark("".join([*before, sure, *after]))
    again = read_mark(mark.shown())
    assert again.signs == mark.signs
    assert again.shown() == mark.shown()


@pytest.mark.parametrize("text", ["[69]", "[16][91]", "69", "808"])
def test_a_mark_that_turns_into_itself_has_no_second_reading(text: str) -> None:
    assert upside_down(read_mark(text)) is None
