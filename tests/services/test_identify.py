"""Identify against the model's worked cases, on the real tables."""

from __future__ import annotations

import math
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from xref.domain.evidence import Topic
from xref.domain.model import Model
from xref.services.demo import fill
from xref.services.open import OpenStore, open_store
from xref.services.parts import part as parts


@pytest.fixture(scope="module")
def opened(seeded_path: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[OpenStore]:
    path = shutil.copy(seeded_path, tmp_path_factory.mktemp("identify") / "s.xref")
    with open_store(str(path)) as store:
        yield store


def test_bearings_of_one_size_are_shown_as_a_tie(opened: OpenStore) -> None:
    size = {"bore": "20.0mm", "outside": "47.02mm", "width": "14mm"}
    answer = opened.identify(size=size)
    assert answer.verdict == "several"
    tied = [c for c in answer.candidates if c.probability > 0.05]
    assert {c.part.number for c in tied} == {
        "6204",
        "7204",
        "1204",
        "N204",
        "NJ204",
        "NU204",
        "NUP204",
        "L20",  # one table only: a little behind
    }
    assert max(c.probability for c in tied) < 1.2 * min(c.probability for c in tied)
    assert 0.1 < answer.none_of_these < 0.35  # so common a size may be another thing's as well


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
    best, second = answer.candidates[:2]
    assert best.part.number == number
    assert best.probability > 0.8 > 50 * second.probability


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


@pytest.mark.parametrize("size", [{"bore": "41mm", "teeth": "23"}, {"bore": "40mm"}])
def test_a_kind_the_store_does_not_hold_is_none_of_these(
    opened: OpenStore, size: dict[str, str]
) -> None:
    answer = opened.identify(kind="gear", size=size)
    assert answer.verdict == "none"
    assert all(c.scored.bits_about(Topic.KIND) == Model().kind_wrong for c in answer.candidates)


def test_one_gear_of_another_bore_lends_no_weight_to_other_kinds(
    seeded_path: Path, tmp_path: Path
) -> None:
    with open_store(str(shutil.copy(seeded_path, tmp_path / "g.xref"))) as store:
        with store.store.writing("part add") as unit:
            parts.add(unit, "GW-30", kind="gear", sizes={"bore": "30mm", "teeth": "30"})
            unit.commit()
        answer = store.identify(kind="gear", size={"bore": "41mm", "teeth": "23"})
        assert answer.none_of_these > 0.4
        assert all(c.probability < 0.1 for c in answer.candidates)
        same = store.identify(kind="gear", size={"bore": "30mm", "teeth": "30"})
        assert same.candidates[0].part.number == "GW-30"
        assert same.candidates[0].probability > 0.8


def test_hardness_is_weak_evidence_since_old_rubber_hardens(
    seeded_path: Path, tmp_path: Path
) -> None:
    with open_store(str(shutil.copy(seeded_path, tmp_path / "h.xref"))) as store:
        with store.store.writing("part add") as unit:
            parts.add(unit, "RS-1", kind="strip", sizes={"hardness": "60"})
            unit.commit()
        bits = {}
        for seen in (50, 60, 70, 95):
            best = store.identify(size={"hardness": str(seen)}, kind="strip").candidates[0]
            bits[seen] = best.scored.size_bits()["hardness"]
    assert bits[60] == bits[70] == 0.5
    assert bits[50] == bits[95] == -2.0


def test_a_mark_and_sizes_of_two_bearings_are_both_shown(opened: OpenStore) -> None:
    sizes = {"bore": "25mm", "outside": "62mm", "width": "17mm"}
    answer = opened.identify(mark=["6204"], size=sizes)
    best = answer.candidates[0]
    assert best.part.number == "6305"
    assert best.probability > 3 * answer.candidates[1].probability
    assert answer.verdict == "several"
    assert "6204" in [c.part.number for c in answer.candidates]
    assert any("different parts" in cap for cap in answer.caps)


def test_an_inch_bore_in_a_metric_envelope_is_not_that_bearing(opened: OpenStore) -> None:
    sizes = {"bore": "5/8in", "outside": "35mm", "width": "11mm"}
    answer = opened.identify(size=sizes, words="deep groove ball bearing")
    assert answer.candidates[0].part.number == "6202-10"
    assert any(note.startswith("6202-10 is a 6202 with the bore 5/8 in") for note in answer.notes)
    assert "6202" not in [c.part.number for c in answer.candidates if c.probability > 0.01]


@pytest.mark.parametrize("mark", ["6203-10", "6203-5/8", "6203 2RS 5/8"])
def test_a_mark_with_the_inch_bore_behind_it_is_that_bearing(opened: OpenStore, mark: str) -> None:
    sizes = {"bore": "5/8in", "outside": "40mm", "width": "12mm"}
    for answer in (opened.identify(mark=[mark]), opened.identify(mark=[mark], size=sizes)):
        best = answer.candidates[0]
        assert best.part.number == "6203-10"
        assert best.probability > 0.9
        assert not any(note.startswith("The bore speaks against") for note in answer.notes)
        assert "common practice, no published source" in best.part.note


def test_a_metric_bore_makes_no_inch_bored_bearing(opened: OpenStore) -> None:
    answer = opened.identify(size={"bore": "17mm", "outside": "40mm", "width": "12mm"})
    assert all("-" not in c.part.number for c in answer.candidates[:3])


def test_near_miss_notes_are_silent_where_nothing_can_be_mistaken(opened: OpenStore) -> None:
    answer = opened.identify(size={"bore": "25mm", "outside": "52mm", "width": "15mm"})
    assert answer.notes == ()


def test_a_rule_cannot_tell_an_inch_from_25_mm_and_the_answer_says_so(opened: OpenStore) -> None:
    sizes = {"bore": "25mm", "outside": "52mm", "width": "15mm"}
    answer = opened.identify(size=sizes, tool="rule")
    assert any("25.4 mm is 1 in, not 25 mm" in note for note in answer.notes)


def test_a_worn_bush_is_told_to_be_measured_at_its_smallest(opened: OpenStore) -> None:
    sizes = {"bore": "20.3mm", "outside": "23.05mm", "width": "20mm"}
    answer = opened.identify(size=sizes, condition="worn")
    assert any("identified from its smallest bore" in note for note in answer.notes)


def test_variants_of_one_bearing_are_told_apart_by_what_shows(
    seeded_path: Path, tmp_path: Path
) -> None:
    with open_store(str(shutil.copy(seeded_path, tmp_path / "v.xref"))) as store:
        with store.store.writing("part add") as unit:
            for number in ("6204-2RS", "6204-2Z", "6204-NR"):
                parts.add(unit, number, kind="bearing", sizes={"bore": "20mm"})
            unit.commit()
        answer = store.identify(mark=["6204*"], size={"bore": "20mm"})
    checks = [c for c in answer.next_check if "shields" in c.check]
    assert checks
    assert not checks[0].needs_tool
    decided = {o.then for o in checks[0].outcomes}
    assert ("6204-2RS",) in decided
    assert ("6204-2Z",) in decided


def test_an_unlisted_number_is_told_by_its_shape(seeded_path: Path, tmp_path: Path) -> None:
    with open_store(str(shutil.copy(seeded_path, tmp_path / "s.xref"))) as store:
        with store.store.writing("demo") as unit:
            fill(unit)
            unit.commit()
        unlisted = store.identify(mark=["QF 4480"]).notes
        listed = store.identify(mark=["QF 4471"]).notes
    assert any(
        "QF4480 is not in the store" in note
        and "numbers of Quillfeather (AA-9999)" in note
        and "Whimbrel Parts Book 1951" in note
        for note in unlisted
    )
    assert not any("not in the store" in note for note in listed)


def test_a_new_strip_may_be_off_by_the_tolerance_of_its_extrusion(
    seeded_path: Path, tmp_path: Path
) -> None:
    # ISO 3302-1, class E3: ±1.3 mm on a section of 10 to 16 mm, by three tables.
    with open_store(str(shutil.copy(seeded_path, tmp_path / "r.xref"))) as store:
        with store.store.writing("part add") as unit:
            sizes = {"width": "12mm", "thickness": "12mm"}
            parts.add(unit, "RS-12", kind="strip", sizes=sizes)
            unit.commit()
        asked = {"width": "12.6mm", "thickness": "11.5mm"}
        best = store.identify(size=asked, kind="strip", condition="new").candidates[0]
    assert best.part.number == "RS-12"
    each = [e for e in best.scored.evidence if e.about in ("size: width", "size: thickness")]
    assert all(e.bits > 0 and e.reason == "agrees" for e in each)


def test_a_bore_wider_than_the_outside_is_said_to_be_a_slip(opened: OpenStore) -> None:
    answer = opened.identify(size={"bore": "47mm", "outside": "20mm"})
    assert any("bore 47mm in outside 20mm" in note and "swapped" in note for note in answer.notes)
    right = opened.identify(size={"bore": "20mm", "outside": "47mm"})
    assert not any("swapped" in note for note in right.notes)


@pytest.mark.parametrize(
    ("kind", "given", "name"),
    [
        ("belt", "width", "top-width"),
        ("chain", "width", "inner-width"),
        ("o-ring", "bore", "inside"),
        ("pin", "outside", "diameter"),
    ],
)
def test_a_size_that_goes_by_another_name_is_compared_by_it_and_that_is_said(
    opened: OpenStore, kind: str, given: str, name: str
) -> None:
    answer = opened.identify(kind=kind, size={given: "8mm"})
    assert any(f"The {given} was compared as" in n and name in n for n in answer.notes)
    known = opened.identify(kind=kind, size={name: "8mm"})
    assert not any("was compared as" in note for note in known.notes)
    numbers = [(c.part.number, c.probability) for c in answer.candidates]
    assert numbers == [(c.part.number, c.probability) for c in known.candidates]


def test_a_pin_is_not_asked_which_ring_comes_off(opened: OpenStore) -> None:
    answer = opened.identify(kind="pin", size={"diameter": "1/4in"})
    (made,) = (check for check in answer.next_check if check.key == "made")
    assert "ring" not in made.check
    assert {o.answer for o in made.outcomes} == {"solid", "rolled", "wire"}


def test_how_far_off_a_size_is_says_from_what(opened: OpenStore) -> None:
    sizes = {"diameter": "9.65mm", "pitch": "1.5mm"}
    best = opened.identify(kind="thread", size=sizes).candidates[0]
    (diameter,) = (e for e in best.scored.evidence if e.about == "size: diameter")
    assert best.part.number == "M10"
    assert diameter.reason.endswith("under the least it may be")


def test_what_to_measure_next_is_said_in_plain_words(opened: OpenStore) -> None:
    answer = opened.identify(kind="chain", size={"pitch": "12.7mm"})
    asked = [check.check for check in answer.next_check]
    assert "measure the roller (diameter of a chain's roller or bush)" in asked


def test_what_rounds_to_nothing_agrees(opened: OpenStore) -> None:
    """47 mm is 1.85039 in: 1.85 in is 0.4 thou under."""
    answer = opened.identify(size={"bore": "20mm", "outside": "1.85in", "width": "14mm"})
    (outside,) = (e for e in answer.candidates[0].scored.evidence if e.about == "size: outside")
    assert (outside.expected, outside.reason) == ("1.85 in (47 mm)", "agrees")


def test_a_makers_name_in_a_mark_need_not_be_left_out(opened: OpenStore) -> None:
    answer = opened.identify(mark=["QUILLFEATHER 6205 C3 ENGLAND"])
    assert answer.candidates[0].part.number == "6205"
    assert answer.candidates[0].probability > 0.9
