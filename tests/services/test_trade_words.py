"""The trade's words for a thing find what the store describes in others."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from xref.domain.evidence import Topic
from xref.domain.model import Model
from xref.domain.words import split_words
from xref.services.identify.evidence.words import wanted_in
from xref.services.identify.rest import pattern_floor
from xref.services.open import OpenStore, open_store
from xref.services.question import Asked, understand
from xref.store.index.tally import population
from xref.tables import read_table

ROWS = read_table("trade_words", "services/identify/evidence")


@pytest.fixture(scope="module")
def opened(scenario_path: Path) -> Iterator[OpenStore]:
    with open_store(str(scenario_path)) as store:
        yield store


@pytest.mark.parametrize(
    ("words", "kind"),
    [
        ("oil seal", "shaft seal"),
        ("gland", "shaft seal"),
        ("circlip", "retaining ring"),
        ("snap ring", "retaining ring"),
        ("cotter pin", "pin"),
        ("ball race", "bearing"),
        ("fan belt", "belt"),
        ("oil seals", "shaft seal"),
        ("circlips", "retaining ring"),
    ],
)
def test_a_word_of_the_trade_finds_its_kind_first(opened: OpenStore, words: str, kind: str) -> None:
    shown = opened.identify(words=words).candidates
    assert {candidate.part.kind for candidate in shown} == {kind}
    assert all(
        candidate.scored.bits_about(Topic.WORDS, Topic.KIND, Topic.SORT) > 1 for candidate in shown
    )


def test_the_words_as_said_count_as_well(opened: OpenStore) -> None:
    best = opened.identify(words="chain case, oil bath").candidates[0]
    assert best.part.words.startswith("chain case")


def test_the_reason_says_under_which_words_it_stands(opened: OpenStore) -> None:
    best = opened.identify(words="circlip shaft", kind="ret").candidates[0]
    reasons = [e.reason for e in best.scored.evidence if e.about == "words"]
    assert reasons == ["every word stands in its description, circlip as retaining ring"]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("oil seal left", ["oil seal"]),
        ("Left-hand oil-seal, gear box", ["hand", "oil seal", "gear", "box"]),
        ("taper roller bearing", ["taper roller bearing"]),
        ("oil", ["oil"]),
        ("oil seals", ["oil seals"]),
        ("brass", ["brass"]),
        ("left", []),
        ("", []),
    ],
)
def test_the_longest_words_of_the_trade_are_taken_together(text: str, said: list[str]) -> None:
    assert [one.said for one in wanted_in(text)] == said


@pytest.mark.parametrize(
    ("text", "ways"),
    [
        ("bearings", [("bearings",), ("bearing",)]),
        ("brass", [("brass",)]),
        ("gas", [("gas",)]),
        ("oil seals", [("oil", "seals"), ("oil", "seal"), ("seal",)]),
    ],
)
def test_several_things_are_asked_for_as_one(text: str, ways: list[tuple[str, ...]]) -> None:
    assert list(wanted_in(text)[0].ways) == ways


def test_no_part_falls_below_the_floor_that_the_rest_is_given(opened: OpenStore) -> None:
    query = understand(Asked(words="left oil seal bracket"))
    with opened.store.reading() as conn:
        whole = population(conn)
    described = next(p for p in whole.patterns if p.described)
    floor = pattern_floor(described, query, whole, Model(), lambda _: 0.0)
    bits = [c.scored.bits_about(Topic.WORDS) for c in opened.identify(words=query.words).candidates]
    assert min(bits) >= floor < 0


def test_every_row_leads_to_words_the_store_is_written_in(opened: OpenStore) -> None:
    with opened.store.reading() as conn:
        words = population(conn).words
    user_made = {"boot", "gasket"}
    for row in ROWS:
        assert row["basis"] == "common practice, no published source"
        assert row["said"] == " ".join(split_words(row["said"]))
        assert all(word in words or word in user_made for word in row["held"].split()), row
    assert len({row["said"] for row in ROWS}) == len(ROWS)
