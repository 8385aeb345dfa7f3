"""Suffixes: what each means on which bearing, how else it is written, and what is left over."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from xref.designation.suffix import SUFFIXES, canonical_tail, other_tails, read_tail, synonyms
from xref.tables import read_table

BALL = "deep groove ball"
ANGULAR = "angular contact ball, single row"


def codes(tail: str, type_: str = BALL) -> list[str]:
    """The codes understood in ``tail``."""
    return [code.code for code in read_tail(tail, type_).codes]


@pytest.mark.parametrize(
    ("tail", "wanted"),
    [
        ("-2Z/C3", ["2Z", "C3"]),
        ("2RSC3", ["2RS", "C3"]),
        ("C3 2RS", ["2RS", "C3"]),
        ("2 RS C 3", ["2RS", "C3"]),
        ("ZZ/P63", ["ZZ", "P63"]),
        ("-2RS1TN9/C3", ["2RS1", "TN9", "C3"]),
        ("NR", ["NR"]),
        ("N", ["N"]),
        ("K30", ["K30"]),
        ("", []),
    ],
)
def test_suffixes_are_parted_and_put_in_the_usual_order(tail: str, wanted: list[str]) -> None:
    read = read_tail(tail, BALL)
    assert [code.code for code in read.codes] == wanted
    assert read.unknown == ()


@pytest.mark.parametrize(
    ("tail", "type_", "meaning"),
    # Common usage, memory; no standard has the letters of the inside.
    [
        ("C", ANGULAR, "contact angle 15 degrees"),
        ("AC", ANGULAR, "contact angle 25 degrees"),
        ("B", ANGULAR, "contact angle 40 degrees"),
        ("C", BALL, "internal design"),
        ("C", "tapered roller", "steeper contact angle"),
        ("E", "cylindrical roller NU", "reinforced inside"),
        ("K", "spherical roller", "taper 1:12"),
        ("N", BALL, "snap ring groove"),
        ("J", "tapered roller", "cups interchange"),
        ("J", BALL, "pressed steel cage"),
    ],
)
def test_a_letter_means_what_it_means_on_that_type(tail: str, type_: str, meaning: str) -> None:
    (code,) = read_tail(tail, type_).codes
    assert meaning in code.meaning


def test_c_on_an_angular_contact_bearing_is_an_angle_and_c3_a_clearance() -> None:
    angle, clearance = read_tail("C/C3", ANGULAR).codes
    assert (angle.group, clearance.group) == ("internal", "clearance")


@pytest.mark.parametrize(
    ("tail", "understood", "left"),
    [
        ("A7Q", [], ("A7Q",)),
        ("-2RS-C3LQX23", ["2RS", "C3"], ("LQX23",)),
        ("-2RS-C3LHT23", ["2RS", "C3", "LHT23"], ()),
        ("2RSX9", ["2RS"], ("X9",)),
        ("C9", [], ("C9",)),
        ("P7", [], ("P7",)),
        ("3RS", [], ("3RS",)),
        ("15", [], ("15",)),
        ("ABCD", [], ("ABCD",)),
        ("Ω2Z", ["2Z"], ("Ω",)),
        ("C3½", ["C3"], ("½",)),
    ],
)
def test_what_is_not_understood_stays_as_it_was(
    tail: str, understood: list[str], left: tuple[str, ...]
) -> None:
    read = read_tail(tail, BALL)
    assert [code.code for code in read.codes] == understood
    assert read.unknown == left


def test_the_standard_codes_are_told_from_common_usage() -> None:
    # DIN 623-1 has Z and RS; ZZ and LLU are trade codes.
    basis = {s.code: s.basis for s in SUFFIXES}
    assert [basis[c] for c in ("Z", "2Z", "RS", "2RS", "N", "NR", "K")] == ["standard"] * 7
    # ISO 5753 / DIN 620-4 have the clearance groups.
    assert [basis[c] for c in ("C2", "C3", "C4", "C5")] == ["standard"] * 4
    assert [basis[c] for c in ("ZZ", "LLU", "DDU", "2RSR", "CM")] == ["common usage"] * 5


@pytest.mark.parametrize("code", ["2RSR", "LLU", "DDU", "2RS1", "2RSH"])
def test_makers_codes_for_two_rubber_seals_serve_for_2rs(code: str) -> None:
    assert code in synonyms("2RS")
    assert "2RS" in synonyms(code)


@pytest.mark.parametrize(
    ("code", "other"), [("2RS", "2Z"), ("2RS", "2RZ"), ("2RS", "RS"), ("Z", "2Z"), ("C3", "C4")]
)
def test_what_differs_is_no_synonym(code: str, other: str) -> None:
    assert other not in synonyms(code)


def test_an_unknown_code_has_no_synonyms() -> None:
    assert synonyms("QW312") == ()


@pytest.mark.parametrize(
    ("tail", "type_", "usual"),
    [
        ("C3 LLU", BALL, "-2RS/C3"),
        ("ZZ", BALL, "-2Z"),
        ("ZZ NR", BALL, "NR-2Z"),
        ("K W33 C3 E", "spherical roller", "EK/C3/W33"),
        ("M C0", BALL, "-M/CN"),
        ("", BALL, ""),
    ],
)
def test_the_usual_spelling_and_order(tail: str, type_: str, usual: str) -> None:
    assert canonical_tail(read_tail(tail, type_), type_) == usual


def test_letters_that_would_run_into_another_code_are_parted() -> None:
    # C (inside) and N (groove) are not CN (clearance).
    tail = read_tail("C N", BALL)
    usual = canonical_tail(tail, BALL)
    assert codes(usual) == ["C", "N"]
    assert codes("CN") == ["CN"]


def test_the_other_ways_keep_the_rest_of_the_tail() -> None:
    others = other_tails(read_tail("2RS/C3", BALL), BALL)
    assert {"-LLU/C3", "-DDU/C3", "-2RSR/C3"} <= set(others)
    assert "-2Z/C3" not in others


def test_shares_are_judged_and_leave_room_for_the_plain_bearing() -> None:
    assert all(0 <= s.share < 0.2 for s in SUFFIXES)
    assert sum(s.share for s in SUFFIXES) < 0.85
    assert {row["share_basis"] for row in read_table("bearing_suffix")} == {"judged"}


def test_a_share_stands_on_one_row_of_a_code_only() -> None:
    shared = [s.code for s in SUFFIXES if s.share > 0]
    assert len(shared) == len(set(shared))


def test_every_row_says_what_it_rests_on() -> None:
    for row in read_table("bearing_suffix"):
        assert row["basis"] in ("standard", "common usage")
        assert row["standard"] or row["basis"] == "common usage", row["code"]


def test_codes_run_together_are_parted_in_reading() -> None:
    for suffix in SUFFIXES:
        if suffix.group == "together":
            type_ = "cylindrical roller NU" if suffix.code == "EK" else BALL
            assert len(codes(suffix.code, type_)) == 2, suffix.code


_SOME = [s for s in SUFFIXES if s.group != "together" and not s.context]


@given(st.lists(st.sampled_from(_SOME), max_size=4, unique_by=lambda s: s.group))
def test_suffixes_parted_by_strokes_are_all_read_back(picked: list[object]) -> None:
    written = "/".join(s.code for s in picked)  # type: ignore[attr-defined]
    read = read_tail(written, BALL)
    assert {code.code for code in read.codes} == {s.code for s in picked}  # type: ignore[attr-defined]
    assert read.unknown == ()


@given(st.text("0123456789ABCEFHKLMNPRSTUVXZ-/. ", max_size=30), st.sampled_from([BALL, ANGULAR]))
def test_nothing_of_a_tail_is_lost(tail: str, type_: str) -> None:
    read = read_tail(tail, type_)
    given_signs = sorted(c for c in tail if c.isalnum())
    kept = "".join((*(code.code for code in read.codes), *read.unknown))
    # A code that stands twice is kept once; nothing else may go.
    assert set(given_signs) == set(kept)


@given(st.text("ABCEKLNRZ23-/", max_size=14), st.sampled_from([BALL, ANGULAR]))
def test_the_usual_spelling_says_the_same(tail: str, type_: str) -> None:
    usual = canonical_tail(read_tail(tail, type_), type_)
    again = read_tail(usual, type_)
    assert canonical_tail(again, type_) == usual
    assert again.unknown == ()
