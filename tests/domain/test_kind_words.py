"""Kinds as people say them, asked for by themselves and named in a description."""

from __future__ import annotations

import pytest

from xref.domain.kinds import KINDS, SIZES_OF, kind_words, named_from, named_in
from xref.domain.size_names import NAMES
from xref.errors import InputError

WORDS = {
    "seal": "shaft seal",
    "oil seal": "shaft seal",
    "lip seals": "shaft seal",
    "oring": "o-ring",
    "O ring": "o-ring",
    "circlip": "retaining ring",
    "snap ring": "retaining ring",
    "Sicherungsring": "retaining ring",
    "felt": "other",
    "Filzring": "other",
    "split pin": "pin",
    "cotter": "pin",
    "woodruff": "key",
    "bolt": "thread",
    "nut": "thread",
    "grub screw": "thread",
    "Mutter": "thread",
    "écrou": "thread",
    "moer": "thread",
    "dado": "thread",
    "nakrętka": "thread",
    "sprocket": "gear",
    "Ritzel": "gear",
    "bushing": "bush",
    "Büchse": "bush",
    "boccola": "bush",
    "tuleja": "bush",
    "roller bearing": "bearing",
    "bearings": "bearing",
    "kullager": "bearing",
    "łożysko": "bearing",
    "cuscinetto": "bearing",
    "roulement": "bearing",
    "Wellendichtring": "shaft seal",
    "paraolio": "shaft seal",
    "keerring": "shaft seal",
    "tätningsring": "shaft seal",
    "joint torique": "o-ring",
    "Passfeder": "key",
    "clavette": "key",
    "goupille": "pin",
    "kedja": "chain",
    "cinghia": "belt",
    "steel ball": "ball",
}


@pytest.mark.parametrize(("word", "kind"), WORDS.items())
def test_a_kind_answers_to_the_words_people_use(word: str, kind: str) -> None:
    assert named_from(word).kind == kind


@pytest.mark.parametrize(
    ("words", "kind", "sort"),
    [
        ("lip seal, rubber outside", "shaft seal", ""),
        ("split pin", "pin", "split pin"),
        ("taper roller cone only", "bearing", "taper roller bearing"),
        ("old felt ring from the hub", "other", "felt ring"),
        ("rear oil seal for gearbox", "shaft seal", ""),
        ("joint torique moteur", "o-ring", ""),
        ("circlip", "retaining ring", ""),
    ],
)
def test_a_description_names_the_kind_of_its_thing(words: str, kind: str, sort: str) -> None:
    named = named_in(words)
    assert named is not None
    assert (named.kind, named.sort) == (kind, sort)


@pytest.mark.parametrize(
    "words", ["chain case, left", "seal carrier", "bearing cap", "gasket cement", "ball joint", ""]
)
def test_a_thing_for_a_kind_is_not_of_that_kind(words: str) -> None:
    assert named_in(words) is None


def test_a_ring_alone_is_asked_back() -> None:
    with pytest.raises(InputError, match="o-ring or retaining ring or washer"):
        named_from("ring")


def test_the_words_and_the_sizes_of_kinds_are_those_there_are() -> None:
    assert set(kind_words().values()) <= set(KINDS)
    assert {name for sizes in SIZES_OF.values() for name in sizes} <= set(NAMES)
