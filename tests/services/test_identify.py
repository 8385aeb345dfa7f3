"""Identify against the model's worked cases, on the real tables."""

from __future__ import annotations

import math
from collections.abc import Iterator
from pathlib import Path

import pytest

from xref.render.identify import identify_text
from xref.services import parts
from xref.services.opening import OpenStore, open_store


@pytest.fixture(scope="module")
def opened(tmp_path_factory: pytest.TempPathFactory) -> Iterator[OpenStore]:
    path: Path = tmp_path_factory.mktemp("identify") / "s.xref"
    with open_store(str(path)) as store:
        yield store


def test_seven_bearings_of_one_size_are_shown_as_a_tie(opened: OpenStore) -> None:
    size = {"bore": "20.0mm", "outside": "47.02mm", "width": "14mm"}
    answer = opened.identify(size=size)
    assert answer.verdict == "several"
    tied = [c for c in answer.candidates if c.probability > 0.1]
    assert {c.part.number for c in tied} == {
        "6204", "7204", "1204", "N204", "NJ204", "NU204", "NUP204"
    }  # fmt: skip
    assert all(c.probability == pytest.approx(0.143, abs=0.002) for c in tied)


@pytest.mark.parametrize(
    ("mark", "size", "number"),
    [
        ("6?04", {"bore": "20mm", "width": "15mm"}, "6304"),
        ("7206", {"width": "17.25mm"}, "30206"),
        ("7206", {"width": "16mm"}, "7206"),
    ],
)
def test_a_measured_width_settles_the_mark(
    opened: OpenStore, mark: str, size: dict[str, str], number: str
) -> None:
    answer = opened.identify(mark=[mark], size=size)
    assert answer.verdict == "one"
    assert answer.candidates[0].part.number == number


@pytest.mark.parametrize("mark", ["7206", "62O4 2R5", "8009", "ZZZZ9QQ#1"])
def test_the_odds_and_the_evidence_add_up(opened: OpenStore, mark: str) -> None:
    answer = opened.identify(mark=[mark])
    printed = math.fsum(c.probability for c in answer.candidates)
    assert printed + answer.others_probability + answer.none_of_these == pytest.approx(1.0)
    for c in answer.candidates:
        bits = math.fsum(e.bits for e in c.scored.evidence)
        assert c.scored.start_bits + bits == pytest.approx(c.scored.total_bits)


def test_a_mark_of_no_known_number_is_none_of_these(opened: OpenStore) -> None:
    assert opened.identify(mark=["ZZZZ9QQ#1"]).verdict == "none"


def test_a_hardness_is_compared_as_a_plain_number(tmp_path: Path) -> None:
    with open_store(str(tmp_path / "h.xref")) as store:
        with store.store.writing("part add") as unit:
            parts.add(unit, "RS-1", kind="strip", sizes={"hardness": "60"})
            unit.commit()
        answer = store.identify(size={"hardness": "60"})
        other = store.identify(size={"hardness": "70"})
    assert answer.candidates[0].part.number == "RS-1"
    assert not other.candidates
    assert identify_text(other).startswith("Nothing in the store was found")
