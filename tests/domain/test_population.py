"""What the store as a whole holds, as the background of every agreement."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from xref.domain.population import Pattern, Population

SIZED = frozenset({"bore", "outside", "width"})
STORE = Population(
    patterns={
        Pattern("bearing", SIZED, False): 5.0,
        Pattern("bearing", SIZED, True): 1.0,
        Pattern("o-ring", frozenset({"inside", "section"}), False): 2.0,
    },
    characters={"2": 7.0, "0": 3.0, "6": 3.0, "3": 2.0, "Q": 0.0},
    words={"axle": 3.0, "whole": 9.0},
    described=9.0,
    things=8,
)
EMPTY = Population({}, {}, {}, 0.0)


def test_a_kind_has_its_share_of_the_whole_weight() -> None:
    assert STORE.weight == 8.0
    assert STORE.kind_share("bearing") == 0.75
    assert STORE.kind_share("o-ring") == 0.25
    assert STORE.kind_share("chain") == 0.0


@pytest.mark.parametrize(
    ("chars", "bits"),
    [
        ("", 0.0),  # nothing was read
        ("0", 2.415037),  # 3 of 15 seen, and one more: log2(16/3)
        ("2", 1.192645),  # log2(16/7)
        ("36", 1.678072),  # log2(16/5): either will do
        ("X", 5.0),  # never seen counts as half a time: log2(16/0.5)
        ("Q", 5.0),
    ],
)
def test_a_sign_says_as_much_as_it_is_rare(chars: str, bits: float) -> None:
    assert STORE.sign_bits(chars) == pytest.approx(bits, abs=1e-6)


@given(st.lists(st.sampled_from("02368QXZ"), unique=True, min_size=2))
def test_one_of_several_never_says_more_than_any_of_them(chars: list[str]) -> None:
    together = STORE.sign_bits("".join(chars))
    assert 0.0 <= together <= min(STORE.sign_bits(c) for c in chars)


@pytest.mark.parametrize(("word", "share"), [("axle", 0.35), ("whole", 0.95), ("whimbrel", 0.05)])
def test_a_word_has_its_share_of_the_descriptions(word: str, share: float) -> None:
    assert STORE.word_share(word) == pytest.approx(share)


def test_an_empty_store_has_shares_too() -> None:
    assert EMPTY.weight == 0.0
    assert EMPTY.kind_share("bearing") == 0.0
    assert EMPTY.sign_bits("6") == 1.0
    assert EMPTY.word_share("axle") == 0.5
