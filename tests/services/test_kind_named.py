"""What a named kind and a named sort do to the others."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from xref.domain.evidence import Topic
from xref.services.open import OpenStore, open_store


@pytest.fixture(scope="module")
def opened(seeded_path: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[OpenStore]:
    path = shutil.copy(seeded_path, tmp_path_factory.mktemp("kinds") / "s.xref")
    with open_store(str(path)) as store:
        yield store


def _kinds(opened: OpenStore, **asked: object) -> set[str]:
    found = opened.identify(**asked).candidates  # type: ignore[arg-type]
    return {c.part.kind for c in found if c.probability >= 0.001}


@pytest.mark.parametrize(
    ("word", "kind"),
    [("circlip", "retaining ring"), ("lip seal", "shaft seal"), ("oring", "o-ring")],
)
def test_a_named_kind_shuts_out_the_others(opened: OpenStore, word: str, kind: str) -> None:
    assert _kinds(opened, kind=word, size={"shaft": "25mm"}) == {kind}


def test_where_nothing_of_the_kind_is_near_what_is_left_is_said(opened: OpenStore) -> None:
    answer = opened.identify(kind="pin", bore="20mm", outside="47mm", width="14mm")
    assert answer.candidates[0].part.kind == "bearing"
    assert any("Nothing of the kind pin is near" in note for note in answer.notes)


def test_a_sort_that_the_words_name_comes_before_the_other_sorts(opened: OpenStore) -> None:
    answer = opened.identify(words="split pin", size={"hole": "4mm"})
    best = answer.candidates[0]
    assert best.part.type == "split pin"
    assert best.scored.bits_about(Topic.SORT) > 0
    others = [c for c in answer.candidates if c.part.type not in ("split pin", "")]
    assert all(c.scored.bits_about(Topic.SORT) < 0 for c in others if c.part.kind == "pin")


def test_only_a_kind_that_was_named_is_said_to_be_named(opened: OpenStore) -> None:
    implied = opened.identify(size={"section": "3.53mm", "inside": "24.99mm"}).candidates[0]
    named = opened.identify(kind="oring", size={"section": "3.53mm"}).candidates[0]
    said = [
        next(e.reason for e in c.scored.evidence if e.about == "kind") for c in (implied, named)
    ]
    assert said == ["the kind that has such a size", "the kind that was named"]


def test_a_bolt_whose_flats_were_measured_is_a_hexagon(opened: OpenStore) -> None:
    best = opened.identify(kind="bolt", size={"across-flats": "17mm"}).candidates[0]
    assert best.part.type == "hexagon"
    assert (
        opened.identify(kind="nut", size={"diameter": "10mm"}).candidates[0].part.kind == "thread"
    )


def test_the_evidence_still_adds_up_with_a_sort(opened: OpenStore) -> None:
    answer = opened.identify(words="felt ring", size={"shaft": "30mm"})
    odds = sum(c.probability for c in answer.candidates)
    assert odds + answer.others_probability + answer.none_of_these == pytest.approx(1)
    assert answer.candidates[0].part.type == "felt ring"
