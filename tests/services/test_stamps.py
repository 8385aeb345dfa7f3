"""Whole stamps: the number in them is found, whatever stands around it, and told where from."""

from __future__ import annotations

import math
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from xref.domain.mark import is_word, read_mark, without_words
from xref.services.identify.stamp import runs
from xref.services.open import OpenStore, open_store


@pytest.fixture(scope="module")
def opened(seeded_path: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[OpenStore]:
    path = shutil.copy(seeded_path, tmp_path_factory.mktemp("stamps") / "s.xref")
    with open_store(str(path)) as store:
        yield store


@pytest.mark.parametrize(
    ("stamp", "number"),
    [
        ("HALBROOK 6205-2Z/C3 ENGLAND", "6205"),
        ("6306/C4VA201", "6306"),
        ("NU 2210 ECP", "NU2210"),
        ("30207 J2/Q", "30207"),
        ("MADE IN ENGLAND 6204 ZZ", "6204"),
        ("EX 6205 LLU", "6205"),
        ("QUARRYMOOR 22210 E1-K", "22210"),
        ("7206 B-TVP DORNWALD", "7206"),
        ("SPB 1250", "V-BELT SPB"),
        ("6?05 2RS HALBROOK", "6205"),
    ],
)
def test_the_number_of_a_whole_stamp_comes_first(
    opened: OpenStore, stamp: str, number: str
) -> None:
    first = [c.part.number for c in opened.identify(mark=[stamp]).candidates[:4]]
    assert number in first[: 4 if "?" in stamp else 1]


@pytest.mark.parametrize("stamp", ["QJ206", "53206", "RNU206", "4L490"])
def test_a_clear_stamp_that_no_table_holds_is_read_and_not_taken_for_its_neighbour(
    opened: OpenStore, stamp: str
) -> None:
    answer = opened.identify(mark=[stamp])
    best = answer.candidates[0]
    assert (best.part.number, best.to_json()["from"]) == (stamp, "mark")
    assert "in no table here" in best.part.note
    assert best.probability > 5 * answer.candidates[1].probability
    printed = math.fsum(c.probability for c in answer.candidates)
    assert printed + answer.others_probability + answer.none_of_these == pytest.approx(1.0)
    for c in answer.candidates:
        bits = math.fsum(e.bits for e in c.scored.evidence)
        assert c.scored.start_bits + bits == pytest.approx(c.scored.total_bits)


def test_sizes_behind_a_number_are_sizes(opened: OpenStore) -> None:
    answer = opened.identify(mark=["QJ206 30 x 62 x 16"])
    assert answer.candidates[0].part.number == "QJ206"
    assert {name: size.mm for name, size in answer.query.sizes.items()} == {
        "bore": 30.0,
        "outside": 62.0,
        "width": 16.0,
    }


def test_three_sizes_with_the_outside_first_are_the_seal(opened: OpenStore) -> None:
    first = opened.identify(mark=["52 35 7"]).candidates[0].part
    assert (first.kind, first.sizes["bore"].value) == ("shaft seal", 35_000_000)


def test_a_users_own_number_keeps_its_precedence(seeded_path: Path, tmp_path: Path) -> None:
    from xref.services.parts import part as parts

    with open_store(str(shutil.copy(seeded_path, tmp_path / "o.xref"))) as store:
        with store.store.writing("part add") as unit:
            parts.add(unit, "QJ206", kind="casting", words="bracket")
            unit.commit()
        best = store.identify(mark=["QJ206"]).candidates[0]
    assert best.to_json()["from"] == "store"


def test_words_are_told_from_codes() -> None:
    assert [
        is_word(piece) for piece in ("HALBROOK", "ENGLAND", "Co.", "NU", "ECP", "2Z", "C3")
    ] == [True, True, True, False, False, False, False]
    bare = without_words(read_mark("HALBROOK 62?5 ENGLAND"))
    assert bare is not None
    assert bare.shown() == "62?5"
    assert without_words(read_mark("6205 2RS")) is None


def test_every_run_of_pieces_with_a_figure_may_be_the_number() -> None:
    assert runs("NU 2210 ECP") == [
        ("NU 2210 ECP", ()),
        ("NU 2210", ("ECP",)),
        ("2210 ECP", ("NU",)),
        ("2210", ("NU", "ECP")),
    ]
