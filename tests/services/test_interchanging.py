"""Interchanges: graded, one way or both, and worth less with every step that is not their own."""

from __future__ import annotations

import shutil
from pathlib import Path
from typing import Any

import pytest

from xref.errors import InputError
from xref.services.fit.equivalents import Equivalent
from xref.services.links.interchange import FARTHEST, interchange
from xref.services.open import OpenStore, open_store
from xref.services.parts import part as parts


def note(opened: OpenStore, one: str, other: str, grade: str, **words: Any) -> None:
    with opened.store.writing("interchange") as unit:
        interchange(unit, one, other, grade=grade, **words)
        unit.commit()


def grades(opened: OpenStore, number: str) -> dict[str, str]:
    return {e.number: e.grade for e in opened.equivalents(number).found}


def line(opened: OpenStore, number: str, other: str) -> Equivalent:
    (found,) = (e for e in opened.equivalents(number).found if e.number == other)
    return found


@pytest.mark.parametrize(
    ("grade", "shown"),
    [
        ("stated", "stated"),
        ("with-work", "with work"),
        ("tried-fits", "tried, fits"),
        ("tried-does-not-fit", "tried, does not fit"),
        ("same", "same designation"),
    ],
)
def test_each_grade_is_told_from_either_side(bare: OpenStore, grade: str, shown: str) -> None:
    note(bare, "A1", "B1", grade)
    assert grades(bare, "A1") == {"B1": shown}
    assert grades(bare, "B1") == {"A1": shown}


def test_one_way_serves_one_way_only(bare: OpenStore) -> None:
    note(bare, "A1", "B1", "stated", one_way=True)
    assert grades(bare, "A1") == {}
    assert grades(bare, "B1") == {"A1": "stated"}
    assert line(bare, "B1", "A1").to_json()["direction"] == "one way"


def test_both_ways_says_both(bare: OpenStore) -> None:
    note(bare, "A1", "B1", "tried-fits")
    assert line(bare, "B1", "A1").to_json()["direction"] == "both"


def test_source_and_note_stand_with_the_line(whimbrel: OpenStore) -> None:
    note(
        whimbrel,
        "QF-3306",
        "QF-0881",
        "with-work",
        note="file the key",
        source="Dunmarrow Price List",
    )
    said = [d.note for d in line(whimbrel, "QF-3306", "QF-0881").differences]
    assert "file the key, Dunmarrow Price List 1974" in said


def test_what_follows_only_through_others_drops_a_grade_a_step_and_says_so(bare: OpenStore) -> None:
    for one, other in (("A1", "B1"), ("B1", "C1"), ("C1", "D1"), ("D1", "E1")):
        note(bare, one, other, "tried-fits")
    assert grades(bare, "A1") == {"B1": "tried, fits", "C1": "stated", "D1": "with work"}
    through = line(bare, "A1", "D1").differences[-1].note
    assert "A1 → B1 → C1 → D1" in through
    assert "one grade less a step" in through


def test_work_upon_work_is_not_followed(bare: OpenStore) -> None:
    note(bare, "A1", "B1", "with-work")
    note(bare, "B1", "C1", "stated")
    assert grades(bare, "A1") == {"B1": "with work"}
    note(bare, "C1", "D1", "with-work")
    assert grades(bare, "B1") == {"A1": "with work", "C1": "stated"}


def test_a_misfit_leads_no_further(bare: OpenStore) -> None:
    note(bare, "A1", "B1", "tried-does-not-fit")
    note(bare, "B1", "C1", "tried-fits")
    assert grades(bare, "A1") == {"B1": "tried, does not fit"}


def test_one_way_steps_are_not_walked_backwards(bare: OpenStore) -> None:
    note(bare, "B1", "A1", "stated", one_way=True)
    note(bare, "B1", "C1", "stated", one_way=True)
    assert grades(bare, "A1") == {"B1": "stated"}
    note(bare, "D1", "B1", "stated", one_way=True)
    assert grades(bare, "A1") == {"B1": "stated", "D1": "with work"}
    assert line(bare, "A1", "D1").both is False


def test_a_pair_that_was_tried_outranks_what_a_chain_says(bare: OpenStore) -> None:
    note(bare, "A1", "B1", "tried-fits")
    note(bare, "B1", "C1", "tried-fits")
    note(bare, "A1", "C1", "tried-does-not-fit")
    assert grades(bare, "A1")["C1"] == "tried, does not fit"


def test_a_pair_tried_with_both_outcomes_shows_both_and_leads_no_further(bare: OpenStore) -> None:
    note(bare, "A1", "B1", "tried-fits", note="after filing")
    note(bare, "A1", "B1", "tried-does-not-fit", note="fouls the case")
    note(bare, "A1", "B1", "stated")
    note(bare, "B1", "C1", "tried-fits")
    for asked, other in (("A1", "B1"), ("B1", "A1")):
        said = [e for e in bare.equivalents(asked).found if e.number == other]
        assert [e.grade for e in said] == ["tried, fits", "tried, does not fit"]
        assert [e.differences[-2].note for e in said] == ["after filing", "fouls the case"]
        assert all("both outcomes" in e.differences[-1].note for e in said)
    assert "C1" not in grades(bare, "A1")


def test_a_ring_of_interchanges_ends(bare: OpenStore) -> None:
    names = [f"QR{n}" for n in range(FARTHEST + 4)]
    for one, other in zip(names, [*names[1:], names[0]], strict=True):
        note(bare, one, other, "tried-fits")
    found = grades(bare, "QR0")
    assert found["QR1"] == found[names[-1]] == "tried, fits"
    assert "QR0" not in found


def test_what_was_tried_outranks_the_tables(bare: OpenStore) -> None:
    assert grades(bare, "6204")["NU204"] == "same boundary dimensions"
    note(bare, "6204", "NU204", "tried-does-not-fit", note="needs side location")
    assert grades(bare, "6204")["NU204"] == "tried, does not fit"
    note(bare, "6204", "NJ204", "tried-fits")
    assert grades(bare, "6204")["NJ204"] == "tried, fits"


def test_the_same_is_one_candidate_whose_odds_are_not_split(bare: OpenStore) -> None:
    with bare.store.writing("part add") as unit:
        for number, maker in (("QF-5501", "Quillfeather"), ("D 71-5501", "Dunmarrow")):
            parts.add(unit, number, maker=maker, kind="gear", sizes={"teeth": "23", "bore": "41mm"})
        unit.commit()
    asked = {"teeth": "23", "bore": "41mm"}
    apart = bare.identify(size=asked, kind="gear").candidates[:2]
    assert {c.part.number for c in apart} == {"QF-5501", "D 71-5501"}
    note(bare, "QF-5501", "D 71-5501", "same")
    first, *others = bare.identify(size=asked, kind="gear").candidates
    assert {first.part.number, *first.scored.also} >= {"QF-5501", "D 71-5501"}
    assert not {"QF-5501", "D 71-5501"} & {c.part.number for c in others}
    assert first.probability > max(c.probability for c in apart) + 0.1


def test_the_same_survives_a_change_of_the_part(bare: OpenStore) -> None:
    with bare.store.writing("part add") as unit:
        for number in ("A1", "B1"):
            parts.add(unit, number)
        unit.commit()
    note(bare, "A1", "B1", "same")
    with bare.store.writing("part change") as unit:
        parts.change(unit, "A1", words="lever", status="discontinued")
        unit.commit()
    assert grades(bare, "A1") == {"B1": "same designation"}
    answer = bare.identify(mark=["A1"])
    assert "B1" in {answer.candidates[0].part.number, *answer.candidates[0].scored.also}


def test_a_part_of_mine_that_is_a_standard_size_is_one_with_it(whimbrel: OpenStore) -> None:
    first = whimbrel.identify(mark=["QF-1421"]).candidates[0]
    assert "6206" in {first.part.number, *first.scored.also}


@pytest.mark.parametrize(
    ("one", "other", "words", "said"),
    [
        ("A1", "B1", {"grade": "alike"}, "no grade"),
        ("A1", "a1", {"grade": "stated"}, "the same part"),
        ("A1", "B1", {"grade": "same", "one_way": True}, "holds both ways"),
        ("6204", "6205", {"grade": "same"}, "both rows of standards"),
        ("A1", "B1", {"grade": "stated", "note": "\x00"}, "control"),
        ("A1", "B1", {"grade": "stated", "note": "x" * 301}, "301 characters"),
    ],
)
def test_what_makes_no_sense_is_refused(
    bare: OpenStore, one: str, other: str, words: dict[str, Any], said: str
) -> None:
    with pytest.raises(InputError, match=said):
        note(bare, one, other, **words)


def test_a_number_beside_a_standard_size_is_nobodys_yet(bare: OpenStore) -> None:
    note(bare, "6204", "QF-9999", "stated")
    assert line(bare, "6204", "QF-9999").maker is None


def test_the_same_pair_and_grade_twice_is_put_right_and_not_doubled(bare: OpenStore) -> None:
    note(bare, "A1", "B1", "stated", note="first")
    note(bare, "A1", "B1", "stated", note="second", one_way=True)
    assert grades(bare, "A1") == {}
    assert line(bare, "B1", "A1").differences[-1].note == "second"


def test_number_that_is_a_standards_as_well_means_the_users_own_where_a_link_is_written(
    small: Path, tmp_path: Path
) -> None:
    path = shutil.copy(small, tmp_path / "own.xref")
    with open_store(str(path)) as opened, opened.store.writing("fill") as unit:
        parts.add(unit, "6204", maker="Dunmarrow", words="bolt")
        own = interchange(unit, "6204", "QF-1", grade="stated").part
        row = interchange(unit, "ISO 15:6204", "QF-1", grade="stated").part
    assert (own.maker, row.is_standard) == ("Dunmarrow", True)
