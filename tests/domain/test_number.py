"""Part numbers as text: what makes two of them the same, and what is only searched by."""

from __future__ import annotations

import pytest
from hypothesis import assume, example, given
from hypothesis import strategies as st

from xref.domain.number import MAX_NUMBER, folded, key, plain, searchable, skeleton, visible
from xref.errors import InputError

ANY_TEXT = st.text(st.characters(codec=None, exclude_categories=()), max_size=MAX_NUMBER + 5)
"""Any code points at all, lone surrogates, controls and unassigned ones among them."""

NASTY = [
    "",
    "   ",
    "-._,:;",
    "\x00",
    "62\x0004",
    "62\x1b[31m04",
    "62\n04",
    "\ud800",
    "62\udfff04",
    "\u202e4026",
    "6\u0301\u0301204",
    "\u0645\u062d\u0645\u0644 6204",
    "6204" * (MAX_NUMBER // 4) + "1",
    "A" * 1_000_000,
    "½" * 1_000_000,
]


@pytest.mark.parametrize(
    ("text", "identity"),
    [
        ("6204", "6204"),
        ("  6204\t", "6204"),
        ("nu 204 ecp", "NU-204-ECP"),
        ("QW 312", "QW-312"),
        ("QW-312", "QW-312"),
        ("QW.312", "QW-312"),
        ("QW_312", "QW-312"),
        ("QW·312", "QW-312"),
        ("QW - . 312", "QW-312"),
        ("QW—312", "QW-312"),
        ("QW\u2011312", "QW-312"),
        ("-QW 312-", "QW-312"),
        ("QW\u00a0312", "QW-312"),
        ("62/22", "62/22"),
        ("1½", "1-1/2"),
        ("1 1/2", "1-1/2"),
        ("½", "1/2"),
        ("1⅜ in", "1-3/8-IN"),
        ("\uff16\uff12\uff10\uff14", "6204"),
        ("qw312a", "QW312A"),
    ],
)
def test_a_number_is_known_by_its_key(text: str, identity: str) -> None:
    assert key(text) == identity


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("62/22", "6222"),
        ("0312", "312"),
        ("QW 00312", "QW 312"),
        ("QW 312", "QW312"),
        ("6204", "62O4"),
    ],
)
def test_numbers_that_differ_have_different_keys(one: str, other: str) -> None:
    assert key(one) != key(other)


@pytest.mark.parametrize("text", ["", " ", "\t", "-", " -. ,:;_ ", "\u2014\u2013"])
def test_text_with_nothing_in_it_is_no_number(text: str) -> None:
    with pytest.raises(InputError):
        key(text)


@pytest.mark.parametrize("text", ["6204\x00", "62\x0704", "62\n04", "62\x1b04", "6204\ud800"])
def test_a_control_character_is_refused_and_not_echoed_raw(text: str) -> None:
    with pytest.raises(InputError) as refused:
        key(text)
    assert refused.value.message.isprintable()
    assert refused.value.hint


@pytest.mark.parametrize(
    "c", ["\u202e", "\u200b", "\u200d", "\u2060", "\ufeff", "\u00ad", "\U000e0041"], ids=ascii
)
@pytest.mark.parametrize("text", ["{}6204", "62{}04", "6204{}"], ids=["before", "within", "after"])
def test_an_invisible_character_is_refused_and_shown(text: str, c: str) -> None:
    with pytest.raises(InputError, match="has an invisible character in it") as refused:
        key(text.format(c))
    assert f"\\x{ord(c):02x}" in refused.value.message
    assert refused.value.message.isprintable()


@pytest.mark.parametrize(
    "text", ["подшипник", "שלום", "٦٢٠٤", "\u0301\u0302", "軸受", "--", "#"], ids=ascii
)
def test_a_number_of_which_nothing_can_be_searched_is_refused(text: str) -> None:
    with pytest.raises(InputError, match="has no letter or digit that can be searched") as refused:
        searchable(text)
    assert refused.value.message.isprintable()
    assert refused.value.hint


@pytest.mark.parametrize("text", ["6204", "Ø", "½", "軸受 7", "É", "\uff16\uff12"], ids=ascii)
def test_one_letter_or_digit_is_enough_to_be_searched(text: str) -> None:
    searchable(text)
    assert folded(text)


def test_the_longest_number_is_taken_and_one_more_is_refused() -> None:
    assert key("7" * MAX_NUMBER) == "7" * MAX_NUMBER
    with pytest.raises(InputError, match="81 characters"):
        key("7" * (MAX_NUMBER + 1))


def test_the_refusal_of_a_megabyte_is_short() -> None:
    with pytest.raises(InputError) as refused:
        key("x" * 1_000_000)
    assert len(refused.value.message) < 200


@pytest.mark.parametrize("text", NASTY)
def test_only_the_users_error_escapes_nasty_text(text: str) -> None:
    for read in (key, plain):
        try:
            shown = read(text)
        except InputError:
            continue
        assert shown.strip() == shown != ""
    assert set(folded(text)) <= set("0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ")


@given(ANY_TEXT)
@example("\x00")
@example("\udc80")
def test_only_the_users_error_escapes_any_text(text: str) -> None:
    try:
        identity = key(text)
    except InputError:
        return
    assert identity
    assert not identity.startswith("-")
    assert not identity.endswith("-")
    assert "--" not in identity


@given(st.text(st.characters(max_codepoint=0x24F, exclude_categories=["Cc"]), max_size=MAX_NUMBER))
@example("1½")
@example("-ß-")
def test_the_key_of_a_key_is_itself(text: str) -> None:
    try:
        identity = key(text)
    except InputError:
        assume(False)
        return
    assume(len(identity) <= MAX_NUMBER)
    assert key(identity) == identity


@given(ANY_TEXT)
def test_folded_text_folds_to_itself_and_so_does_its_skeleton(text: str) -> None:
    once = folded(text)
    assert folded(once) == once
    bones = skeleton(once)
    assert skeleton(bones) == bones
    assert len(bones) == len(once)


@pytest.mark.parametrize(
    ("text", "searched"),
    [
        ("62/22", "6222"),
        ("nu 204-ecp", "NU204ECP"),
        ("Ø 20", "O20"),
        ("ø20", "O20"),
        ("É-7", "E7"),
        ("1½", "112"),
        ("0312", "0312"),
        ("подшипник", ""),
        ("", ""),
    ],
)
def test_folding_keeps_letters_and_digits_alone(text: str, searched: str) -> None:
    assert folded(text) == searched


@pytest.mark.parametrize("alike", ["0ODQ", "1IL", "2Z", "5S", "6G", "8B"])
def test_look_alikes_share_a_skeleton(alike: str) -> None:
    assert {skeleton(c) for c in alike} == {alike[0]}


def test_other_characters_keep_their_own_skeleton() -> None:
    others = "3479ACEFHJKMNPRTUVWXY"
    assert skeleton(others) == others


@pytest.mark.parametrize(
    ("text", "shown"),
    [("6204", "6204"), ("a\x1bb", "a\\x1bb"), ("a\ud800", "a\\xd800"), ("x" * 41, "x" * 40 + "…")],
)
def test_what_a_message_shows_is_cut_and_printable(text: str, shown: str) -> None:
    assert visible(text) == shown
