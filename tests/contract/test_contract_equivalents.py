"""Grades, directions and keys of equivalents, and what interchange writes down for them."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

Said = Callable[..., tuple[int, str, str]]
Asked = Callable[..., tuple[int, dict[str, Any]]]
GRADES = {
    "same": "same designation",
    "stated": "stated",
    "with-work": "with work",
    "tried-fits": "tried, fits",
    "tried-does-not-fit": "tried, does not fit",
}


def lines(document: dict[str, Any]) -> dict[str, dict[str, Any]]:
    return {line["number"]: line for line in document["equivalents"]}


def test_each_grade_that_is_written_down_is_told(said: Said, asked: Asked) -> None:
    assert said("part", "add", "A-1")[0] == 0
    for grade in GRADES:
        assert said("interchange", "A-1", f"B-{grade}", "--grade", grade)[0] == 0
    found = lines(asked("equivalents", "A-1")[1])
    assert {f"B-{grade}": shown for grade, shown in GRADES.items()} == {
        number: line["grade"] for number, line in found.items()
    }
    assert found["B-stated"]["direction"] == "both"


def test_one_way_serves_one_way_only(said: Said, asked: Asked) -> None:
    assert said("interchange", "A-1", "QF-3305", "--grade", "stated", "--one-way")[0] == 0
    line = lines(asked("equivalents", "QF-3305")[1])["A-1"]
    assert (line["grade"], line["direction"]) == ("stated", "one way")
    assert asked("equivalents", "A-1") == (1, {**asked("equivalents", "A-1")[1], "equivalents": []})


def test_said_again_without_a_source_it_keeps_the_one_it_had(said: Said, asked: Asked) -> None:
    pair = ("interchange", "A-1", "QF-3305", "--grade", "stated")
    assert said(*pair, "--source", "Dunmarrow Price List", "--note", "page 9")[0] == 0
    assert said(*pair)[0] == 0
    (line,) = asked("equivalents", "A-1")[1]["equivalents"]
    assert [d["note"] for d in line["differences"] if d["about"] == "interchange"] == [
        "page 9, Dunmarrow Price List 1974"
    ]


def test_what_was_tried_stands_before_one_designation(said: Said, asked: Asked) -> None:
    """What counts as one thing, and was tried and does not fit, is never offered."""
    before = lines(asked("equivalents", "QF-1421")[1])
    assert before["6206"]["grade"] == "same designation"
    assert before["206"]["from"] == "standard"
    assert said("interchange", "QF-1421", "6206", "--grade", "tried-does-not-fit")[0] == 0
    for number, other in (("QF-1421", "6206"), ("6206", "QF-1421")):
        after = lines(asked("equivalents", number)[1])
        assert after[other]["grade"] == "tried, does not fit"
    assert "206" not in lines(asked("equivalents", "QF-1421")[1])
    order = asked("identify", "--mark", "QF-1421")[1]["candidates"][0]["order"]
    assert not [step for step in order["steps"] if "6206" in step]


def test_a_near_miss_is_a_warning_and_no_equivalent(asked: Asked) -> None:
    code, document = asked(
        "equivalents", "--bore", "25.4mm", "--outside", "52mm", "--width", "15mm"
    )
    grades = {number: line["grade"] for number, line in lines(document).items()}
    assert code == 0
    assert grades["6205"] == "near miss"
    assert list(grades.values()) == sorted(grades.values(), key=lambda g: g == "near miss")
    assert lines(document)["6205"]["differences"][0]["about"] == "bore"


def test_a_standard_row_has_no_maker_wherever_it_is_named(asked: Asked) -> None:
    found = lines(asked("equivalents", "6204")[1])
    assert (found["NU204"]["maker"], found["NU204"]["standard"]) == (None, "ISO 15")
    assert asked("identify", "--mark", "NU204")[1]["candidates"][0]["maker"] is None
    assert asked("trace", "NU204")[1]["maker"] is None


def test_what_the_part_sits_between_serves_where_it_is_missing(asked: Asked) -> None:
    between = ("--size", "shaft=20mm", "--size", "housing=47mm", "--width", "14mm")
    own = ("--bore", "20mm", "--outside", "47mm", "--width", "14mm")
    found = asked("equivalents", *between)[1]["equivalents"]
    assert found == asked("equivalents", *own)[1]["equivalents"] != []
    ring = ("--size", "shaft=20mm", "--size", "thickness=1.2mm", "--kind", "retaining ring")
    assert "DIN 471-20x1.2" in lines(asked("equivalents", *ring)[1])


def test_the_kind_holds_for_a_number_too(said: Said, asked: Asked) -> None:
    assert lines(asked("equivalents", "6204", "--kind", "bear")[1])
    assert asked("equivalents", "6204", "--kind", "bush")[1]["equivalents"] == []
    size = ("--size", "bore=20mm", "--size", "outside=47mm", "--size", "width=14mm")
    assert said("part", "add", "X-1", *size)[0] == 0
    found = lines(asked("equivalents", "X-1", "--kind", "bearing")[1])
    assert found["6204"]["grade"] == "same boundary dimensions"


@pytest.mark.parametrize(
    "words",
    [
        (),
        ("6204", "--bore", "20mm"),
        ("--kind", "bush"),
        ("--bore", "20mm", "--outside", "47mm", "--maker", "Dunmarrow"),
    ],
)
def test_what_cannot_be_asked_together_is_wrong_usage(asked: Asked, words: tuple[str, ...]) -> None:
    code, document = asked("equivalents", *words)
    assert (code, document["error"]["kind"]) == (2, "usage")
