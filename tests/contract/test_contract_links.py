"""What commands that record a link make, say and keep."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

Said = Callable[..., tuple[int, str, str]]
Asked = Callable[..., tuple[int, dict[str, Any]]]


@pytest.mark.parametrize(
    ("words", "maker"),
    [
        (("supersede", "QF-4471", "NEW-1"), "Quillfeather"),
        (("supersede", "NEW-1", "QF-4471"), "Quillfeather"),
        (("supersede", "NEW-1", "Dunmarrow:NEW-2"), "Dunmarrow"),
        (("supersede", "QF-4471", "QF-2215", "--as", "one", "--with", "NEW-1"), "Quillfeather"),
        (("supersede", "Dunmarrow:NEW-1", "QF-4471"), "Dunmarrow"),
        (("supersede", ":NEW-1", "QF-4471"), None),
        (("supersede", "NEW-1", "NEW-2", "--maker", "Dunmarrow"), "Dunmarrow"),
        (("interchange", "NEW-1", "QF-4471", "--grade", "stated"), "Quillfeather"),
        (("interchange", "QF-4471", "NEW-1", "--grade", "stated"), "Quillfeather"),
        (("interchange", "NEW-1", "6204", "--grade", "stated"), None),
        (("applies", "NEW-1", "--model", "Whimbrel"), "Quillfeather"),
        (("applies", "NEW-1", "--model", "Whimbrel", "--maker", "Dunmarrow"), "Dunmarrow"),
        (("applies", "NEW-1", "--model", "Phalarope"), None),
        (("mark", "add", "NEW-1", "N 1", "--role", "casting", "--maker", "Dunmarrow"), "Dunmarrow"),
    ],
)
def test_a_number_that_is_not_there_is_made_under_the_other_sides_maker(
    said: Said, asked: Asked, words: tuple[str, ...], maker: str | None
) -> None:
    code, _, err = said(*words)
    assert code == 0
    assert "NEW-1 was not in the store: added as mentioned only." in err
    shown = asked("part", "show", "NEW-1")[1]
    assert shown["maker"] == maker
    assert shown["status"] == (
        "superseded" if words[0] == "supersede" and "NEW-1" in words[1] else "mentioned"
    )


def test_the_other_sides_maker_never_chooses_among_old_numbers(said: Said, asked: Asked) -> None:
    for maker in ("Quillfeather", "Dunmarrow"):
        assert said("part", "add", "OLD-1", "--maker", maker)[0] == 0
    for words in (
        ("supersede", "OLD-1", "QF-4471"),
        ("applies", "OLD-1", "--model", "Whimbrel"),
        ("interchange", "OLD-1", "QF-4471", "--grade", "stated"),
    ):
        assert said(*words)[0] == 2
    assert said("supersede", "OLD-1", "QF-4471", "--maker", "Quillfeather")[0] == 0
    assert asked("trace", "Quillfeather:OLD-1")[1]["later"]
    assert not asked("trace", "Dunmarrow:OLD-1")[1]["later"]


def test_every_word_of_a_step_comes_back_from_trace(said: Said, asked: Asked) -> None:
    code, _, _ = said(
        "supersede",
        "QF-4477",
        "NEW-1",
        "NEW-2",
        "--as",
        "set",
        "--serves-back",
        "--quantity",
        "2",
        "--from-serial",
        "QW350",
        "--model",
        "Whimbrel",
        "--with",
        "QF-4490",
        "--with",
        "NEW-3",
        "--source",
        "Whimbrel Service Letters",
        "--date",
        "1959",
        "--reason",
        "stronger",
    )
    assert code == 0
    (step,) = asked("trace", "QF-4477")[1]["later"]
    assert [(new["number"], new["maker"], new["quantity"]) for new in step["new"]] == [
        ("NEW-1", "Quillfeather", 2.0),
        ("NEW-2", "Quillfeather", 2.0),
    ]
    assert {k: step[k] for k in step if k not in ("new", "id")} == {
        "old": "QF-4477",
        "as": "set",
        "serves_back": True,
        "with": ["QF-4490", "NEW-3"],
        "serials": "QW350-up",
        "date": "1959",
        "source": "Whimbrel Service Letters 1958",
        "reason": "stronger",
    }
    assert asked("trace", "QF-4477", "--machine", "QW 312")[1]["later"] == []


@pytest.mark.parametrize("of", [("--model", "Phalarope"), ("--from-serial", "QW350")])
def test_a_step_for_some_machines_leaves_the_part_current_for_the_others(
    said: Said, asked: Asked, of: tuple[str, str]
) -> None:
    assert said("supersede", "QF-4477", "NEW-1", *of)[0] == 0
    assert asked("part", "show", "QF-4477")[1]["status"] == "current"
    told = asked("trace", "QF-4477", "--machine", "QW 312")[1]
    assert [end["number"] for end in told["current"]] == ["QF-4477"]
    assert told["findings"] == []


@pytest.mark.parametrize(
    "words",
    [
        ("supersede", "QF-4477", "NEW-1", "--from-serial", ""),
        ("supersede", "QF-4477", "NEW-1", "--model", " "),
        ("applies", "QF-4477", "--model", "Whimbrel", "--from", ""),
        ("applies", "QF-4477", "--model", "Whimbrel", "--to", ""),
        ("applies", "QF-4477", "--model", "Whimbrel", "--serials", ""),
    ],
)
def test_an_empty_range_is_never_taken_for_every_serial(said: Said, words: tuple[str, ...]) -> None:
    code, _, err = said(*words)
    assert (code, f"{words[-2]} is empty" in err) == (2, True)


def test_a_choice_is_any_and_a_set_is_all(said: Said, asked: Asked) -> None:
    assert said("supersede", "C-1", "C-2", "C-3", "--as", "choice")[0] == 0
    assert said("supersede", "T-1", "T-2", "T-3", "--as", "set")[0] == 0
    assert said("supersede", "U-1", "U-2", "U-3")[0] == 2
    for number, choice in (("C-1", True), ("T-1", False)):
        ends = asked("trace", number)[1]["current"]
        assert [end["choice"] for end in ends] == [choice, choice]
        assert [end["via"] for end in ends] == [[number, end["number"]] for end in ends]


def test_a_cycle_is_refused_unless_the_book_says_so(said: Said, asked: Asked) -> None:
    assert said("supersede", "C-1", "C-2")[0] == 0
    assert said("supersede", "C-2", "C-1")[0] == 2
    assert said("supersede", "C-2", "C-1", "--record-anyway")[0] == 0
    code, document = asked("trace", "C-1")
    assert code == 0
    assert "cycle" in {finding["kind"] for finding in document["findings"]}


@pytest.mark.parametrize(
    ("status", "kinds"),
    [
        ("current", []),
        ("mentioned", ["unknown number"]),
        ("superseded", ["dead end"]),
        ("discontinued", ["dead end"]),
        ("not-sold-separately", []),
        ("buy-to-size", []),
        ("make-to-drawing", []),
    ],
)
def test_the_end_of_a_chain_is_the_status_of_its_part(
    said: Said, asked: Asked, status: str, kinds: list[str]
) -> None:
    assert said("part", "change", "QF-2890", "--status", status)[0] == 0
    document = asked("trace", "QF-2890")[1]
    assert document["current"][0]["status"] == status
    assert [finding["kind"] for finding in document["findings"]] == kinds


def test_a_model_is_made_when_first_named_and_takes_a_maker_once(said: Said, asked: Asked) -> None:
    assert said("applies", "H-1", "--model", "Phalarope", "--from", "10")[0] == 0
    assert (
        said("machine", "add", "first", "--model", "phalarope", "--serial", "12", "--maker", "A")[0]
        == 0
    )
    machine = asked("machine", "list")[1]["machines"][0]
    assert (machine["model"], machine["maker"]) == ("Phalarope", "A")
    assert asked("belongs", "H-1", "--machine", "first")[1]["verdict"] == "listed"
    code, _, err = said(
        "machine", "add", "next", "--model", "Phalarope", "--serial", "13", "--maker", "B"
    )
    assert (code, "on record as A's" in err) == (2, True)
    assert (
        said("machine", "add", "next", "--model", "Phalarope", "--serial", "13", "--maker", "a")[0]
        == 0
    )


def test_a_number_that_a_decision_makes_is_said(said: Said, asked: Asked) -> None:
    assert said("bench", "add", "crate", "--mark", "QF 44?1")[0] == 0
    code, out, err = said("bench", "decide", "1", "QF-4499")
    assert (code, err) == (0, "QF-4499 was not in the store: added as mentioned only.\n")
    assert out.startswith("Label 1 is QF-4499")
    assert said("bench", "decide", "1", "QF-4471")[2] == ""
    assert asked("part", "show", "QF-4499")[1]["status"] == "mentioned"
