"""Cautions stand wherever a part is named as the answer, and size alone offers no shear pin."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

import pytest

from tests.cli.conftest import Done

Run = Callable[..., Done]
OLD, NEW, SPARE = "QF-1108", "QF-2208", "D 70-0208"
BRAKE = "Caution: Brake part: a wrong one can kill."
REPLACES = "Because it replaces QF-1108, bush, brake shaft."
PIN = ("--kind", "pin", "--size", "diameter=8mm", "--size", "length=40mm")


SPRING = ("--bore", "20.4mm", "--outside", "40mm")


@pytest.fixture
def brake(xref: Run) -> Run:
    """A store in which QF-2208, of which nothing is said, replaces a bush of a brake shaft."""
    by = ("--maker", "Quillfeather", "--kind", "bush")
    xref("part", "add", OLD, *by, "--words", "bush, brake shaft")
    xref("part", "add", NEW, *by)
    xref("supersede", OLD, NEW)
    xref("machine", "add", "QW 312", "--model", "Whimbrel", "--serial", "QW312")
    xref("applies", OLD, "--model", "Whimbrel", "--from", "QW300")
    xref("bench", "add", "lever, left", "--mark", "QF 2208", "--assembly", "linkage")
    xref("wanted", "add", NEW)
    return xref


ASKED = {
    "identify": ("identify", "--mark", "QF 2208"),
    "equivalents": ("equivalents", NEW),
    "trace": ("trace", NEW),
    "part show": ("part", "show", NEW),
    "belongs": ("belongs", NEW, "--machine", "QW 312"),
    "donor": ("donor", NEW),
    "bench list": ("bench", "list"),
    "wanted list": ("wanted", "list"),
}


@pytest.mark.parametrize("args", ASKED.values(), ids=ASKED)
def test_a_command_that_names_a_part_prints_the_caution_and_because_of_which_part(
    brake: Run, args: tuple[str, ...]
) -> None:
    text = " ".join(brake(*args).stdout.split())
    assert text.count(BRAKE) == 1
    assert REPLACES in text


def cautions_in(told: Any) -> list[str]:
    """Every caution of a JSON document, however deep it stands."""
    if isinstance(told, dict):
        return [*told.get("cautions", ()), *(t for v in told.values() for t in cautions_in(v))]
    return [text for value in told for text in cautions_in(value)] if isinstance(told, list) else []


@pytest.mark.parametrize("args", ASKED.values(), ids=ASKED)
def test_json_holds_the_caution_under_its_key(brake: Run, args: tuple[str, ...]) -> None:
    told = cautions_in(json.loads(brake(*args, "--json").stdout))
    assert any(text.startswith("Brake part") and text.endswith(REPLACES) for text in told)


def test_writing_down_prints_it_too(brake: Run) -> None:
    for args in (
        ("bench", "decide", "1", NEW),
        ("bench", "outcome", "1", "fitted"),
        ("bench", "show", "1"),
        ("wanted", "sheet"),
        ("interchange", SPARE, NEW, "--grade", "same"),
        ("supersede", NEW, "QF-2209"),
        ("part", "show", SPARE),
    ):
        assert BRAKE in " ".join(brake(*args).stdout.split()), args


def test_a_place_and_a_need_in_words_count_as_much_as_a_part(xref: Run) -> None:
    xref("bench", "add", "brake lever, left", "--bore", "22mm")
    assert BRAKE in " ".join(xref("bench", "list").stdout.split())
    xref("wanted", "add", "steering ball joint")
    assert "Caution: Steering part" in xref("wanted", "list").stdout
    assert "Caution: Steering part" in xref("wanted", "sheet").stdout


def test_a_part_that_can_hurt_nobody_prints_no_caution(xref: Run) -> None:
    xref("part", "add", "QF-2140", "--maker", "Quillfeather", "--words", "door handle")
    assert "Caution" not in xref("part", "show", "QF-2140").stdout
    assert json.loads(xref("trace", "QF-2140", "--json").stdout)["cautions"] == []


def test_two_makers_numbers_are_said_to_be_the_same_part(brake: Run) -> None:
    said = brake("interchange", SPARE, NEW, "--grade", "same").stdout
    assert said.startswith(f"{SPARE} ↔ {NEW}: same part.\n")
    (line,) = [
        e
        for e in json.loads(brake("equivalents", NEW, "--json").stdout)["equivalents"]
        if e["number"] == SPARE
    ]
    assert line["grade"] == "same designation"


@pytest.mark.parametrize(
    "args",
    [
        ("--words", "shear pin", *PIN),
        ("--words", "fusible plug", "--kind", "thread", "--size", "diameter=12mm"),
        ("--words", "relief valve spring", *SPRING),
        ("--words", "fusible plug", "--kind", "thread", "--mark", "M12"),
    ],
    ids=["pin", "plug", "spring", "marked with a size"],
)
def test_the_users_own_words_keep_a_part_from_being_offered_by_size(
    xref: Run, args: tuple[str, ...]
) -> None:
    answer = json.loads(xref("identify", "--json", *args).stdout)
    assert answer["candidates"] == []
    assert answer["not_offered_on_size"] > 0
    text = " ".join(xref("identify", *args).stdout.split())
    assert "must not be chosen by its size" in text
    assert "find its number" in text
    assert "ISO" not in text


def test_without_those_words_the_same_sizes_offer_the_standard_pin(xref: Run) -> None:
    answer = json.loads(xref("identify", "--json", "--words", "parallel pin", *PIN).stdout)
    assert answer["candidates"]


def test_equivalents_offer_nothing_by_size_for_what_is_never_chosen_so(xref: Run) -> None:
    done = xref("equivalents", "--words", "relief spring", *SPRING)
    assert done.returncode == 1
    assert "find its number" in " ".join(done.stdout.split())
    assert "DIN 2093" not in done.stdout
    assert "DIN 2093" in xref("equivalents", *SPRING).stdout


def test_each_row_of_a_box_is_held_to_the_same(xref: Run, tmp_path: Any) -> None:
    box = tmp_path / "box.csv"
    box.write_text("words,kind,size:diameter,size:length\nshear pin,pin,8mm,40mm\n,pin,8mm,40mm\n")
    shear, plain = map(
        json.loads, xref("identify", "--from", str(box), "--json").stdout.split("\n")[:2]
    )
    assert shear["candidates"] == []
    assert plain["candidates"]


def test_a_bench_item_off_a_place_of_shear_pins_is_offered_nothing_by_size(xref: Run) -> None:
    xref("bench", "add", "shear pin, jackshaft", *PIN)
    assert "ISO" not in xref("bench", "list").stdout


def test_a_marked_shear_pin_of_the_users_own_is_offered_still(xref: Run) -> None:
    xref("part", "add", "QF-0902", "--words", "shear pin, jackshaft", *PIN)
    answer = json.loads(
        xref("identify", "--json", "--words", "shear pin", "--mark", "QF 0902", *PIN).stdout
    )
    assert [c["number"] for c in answer["candidates"]] == ["QF-0902"]
