"""Parts that are made to give way are never offered on size alone."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from xref.services.open import OpenStore, open_store
from xref.services.parts import part as parts
from xref.services.parts.cautions import cautions, never_on_size_alone

SIZES = {"diameter": "1/2in", "length": "2-1/2in"}


@pytest.fixture
def bench(seeded_path: Path, tmp_path: Path) -> Iterator[OpenStore]:
    path = str(shutil.copy(seeded_path, tmp_path / "pins.xref"))
    with open_store(path) as store:
        with store.store.writing("part add") as unit:
            for number, words in (
                ("QF-0902", "shear pin, jackshaft drive"),
                ("QF-0903", "clevis pin, brake rod"),
            ):
                parts.add(unit, number, kind="pin", words=words, sizes=SIZES)
            unit.commit()
        yield store


def test_a_shear_pin_is_not_a_candidate_by_size(bench: OpenStore) -> None:
    answer = bench.identify(size=SIZES)
    assert [c.part.number for c in answer.candidates if c.probability > 0.01] == ["QF-0903"]
    assert answer.withheld_probability > 0.1
    assert any("shear pin" in note and "stronger is as wrong" in note for note in answer.notes)
    told = sum(c.probability for c in answer.candidates)
    assert told + answer.others_probability + answer.none_of_these == pytest.approx(1.0)


def test_a_shear_pin_is_found_by_its_number(bench: OpenStore) -> None:
    answer = bench.identify(mark=["QF 0902"], size=SIZES)
    assert answer.candidates[0].part.number == "QF-0902"
    assert any("give way first" in text for text in answer.candidates[0].cautions)


def test_an_answer_that_is_mostly_withheld_is_never_one(seeded_path: Path, tmp_path: Path) -> None:
    with open_store(str(shutil.copy(seeded_path, tmp_path / "s.xref"))) as store:
        with store.store.writing("part add") as unit:
            parts.add(unit, "QF-0910", kind="pin", words="drawbar pin", sizes={"diameter": "32mm"})
            unit.commit()
        answer = store.identify(size={"diameter": "32mm"}, kind="pin")
    assert answer.verdict != "one"
    assert "the likeliest part must not be chosen by its size" in answer.caps


@pytest.mark.parametrize(
    "words",
    [
        "shear pin",
        "fusible plug, firebox",
        "spring, relief valve spring",
        "lifting eye",
        "coupling pin",
    ],
)
def test_what_gives_way_or_lifts_is_withheld(words: str) -> None:
    assert never_on_size_alone(parts.own_part("QF-1", words=words))


@pytest.mark.parametrize("words", ["clevis pin", "plug, drain", "spring, seat", "bearing"])
def test_what_does_neither_is_not(words: str) -> None:
    assert not never_on_size_alone(parts.own_part("QF-1", words=words))


@pytest.mark.parametrize(
    ("words", "says"),
    [
        ("brake shoe", "wrong one can kill"),
        ("steering arm", "Steering part"),
        ("lifting hook", "rated and certified"),
        ("injector valve, steam", "pressure-equipment codes"),
        ("fuel cock", "a leak burns"),
        ("clutch lining", "asbestos"),
        ("governor weight", "Turns fast"),
    ],
)
def test_a_part_that_can_hurt_carries_its_caution(words: str, says: str) -> None:
    assert any(says in text for text in cautions(parts.own_part("QF-1", words=words)))


@pytest.mark.parametrize(
    ("words", "says"),
    [
        ("track rod end", "Steering part"),
        ("king pin, front axle", "Steering part"),
        ("wheel cylinder, rear", "wrong one can kill"),
        ("Bremsbelag hinten", "wrong one can kill"),
        ("Dichtung, Zylinderkopf", "asbestos"),
        ("steam inlet valve", "pressure-equipment codes"),
        ("chain hoist hook", "rated and certified"),
        ("wire rope, winch", "rated and certified"),
    ],
)
def test_a_dangerous_part_is_known_by_what_a_fitter_calls_it(words: str, says: str) -> None:
    assert any(says in text for text in cautions(parts.own_part("QF-1", words=words)))


@pytest.mark.parametrize(
    ("words", "never"),
    [
        ("fuel lift pump diaphragm", "rated and certified"),
        ("shaft coupling, dynamo", "rated and certified"),
        ("coat hook, cab", "rated and certified"),
        ("valve spring, inlet", "pressure-equipment"),
        ("air cleaner element", "pressure-equipment"),
        ("water tank, side", "a leak burns"),
        ("universal joint", "asbestos"),
        ("clutch release bearing", "asbestos"),
        ("cable tie", "Steering part"),
        ("fan belt", "Turns fast"),
        ("door handle", ""),
    ],
)
def test_a_harmless_part_carries_no_false_caution(words: str, never: str) -> None:
    assert not any(never in text for text in cautions(parts.own_part("QF-1", words=words)))


def test_a_gasket_is_cautioned_of_asbestos_once_and_a_rubber_ring_never() -> None:
    gasket = parts.own_part("QF-1", kind="gasket", words="gasket, cylinder head")
    ring = parts.own_part("QF-2", kind="o-ring", words="o-ring, boss gasket")
    assert sum("asbestos" in text for text in cautions(gasket)) == 1
    assert not any("asbestos" in text for text in cautions(ring))
