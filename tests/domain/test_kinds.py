"""Kinds of part, and how they may be shortened."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from xref.domain.kinds import KINDS, kind_from
from xref.errors import InputError


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_answers_to_its_own_name(kind: str) -> None:
    assert kind_from(kind) == kind
    assert kind_from(kind.upper()) == kind
    assert kind_from(kind.replace(" ", "-")) == kind
    assert kind_from(f"  {kind.replace('-', '_')} ") == kind


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("bea", "bearing"),
        ("bu", "bush"),
        ("shaft", "shaft seal"),
        ("Shaft-S", "shaft seal"),
        ("o", None),
        ("o-r", "o-ring"),
        ("O RING", "o-ring"),
        ("ret", "retaining ring"),
        ("w", "washer"),
        ("k", "key"),
        ("ot", "other"),
    ],
)
def test_a_kind_may_be_shortened_to_an_unambiguous_beginning(text: str, kind: str | None) -> None:
    if kind is None:
        with pytest.raises(InputError, match="o-ring or other"):
            kind_from(text)
    else:
        assert kind_from(text) == kind


@pytest.mark.parametrize(
    ("text", "choices"),
    [("b", "bearing or bush or belt or boot"), ("be", "bearing or belt"), ("g", "gasket or gear")],
)
def test_an_ambiguous_beginning_names_its_choices(text: str, choices: str) -> None:
    with pytest.raises(InputError, match=choices):
        kind_from(text)


@pytest.mark.parametrize("text", ["", "  ", "-", "locomotive", "bearingless", "x" * 1_000_000])
def test_no_such_kind_is_refused_with_the_kinds_there_are(text: str) -> None:
    with pytest.raises(InputError, match="no kind") as refused:
        kind_from(text)
    assert len(refused.value.message) < 100
    assert all(kind in refused.value.hint for kind in KINDS)


@pytest.mark.parametrize("text", ["a\nb", "bea\x00ring", "\x1b[31m", "\ud800", "b\u202e"])
def test_refusal_of_a_kind_shows_what_cannot_be_printed(text: str) -> None:
    with pytest.raises(InputError, match="no kind") as refused:
        kind_from(text)
    assert refused.value.message.isprintable()


@given(st.text(st.characters(exclude_categories=()), max_size=20))
def test_only_the_users_error_escapes_any_kind(text: str) -> None:
    try:
        kind = kind_from(text)
    except InputError:
        return
    assert kind in KINDS
