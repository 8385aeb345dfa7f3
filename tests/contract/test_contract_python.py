"""The door for other programs takes the same words as the commands."""

from __future__ import annotations

import dataclasses
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from xref.errors import InputError
from xref.services.open import OpenStore

Said = Callable[..., tuple[int, str, str]]
Asked = Callable[..., tuple[int, dict[str, Any]]]


def test_the_words_of_identify_answer_as_the_command_does(
    whimbrel: OpenStore, asked: Asked
) -> None:
    told = whimbrel.identify(
        mark="QF 44?1",
        cast="QF 4470",
        width="96mm",
        size={"holes": 8},
        kind="casting",
        words="chain case",
        tool="caliper",
        condition="used",
        machine="QW 312",
        cannot="bore",
        built=1951,
        cast_date="3-50",
        limit=3,
    )
    _, document = asked(
        "identify",
        "--mark",
        "QF 44?1",
        "--cast",
        "QF 4470",
        "--width",
        "96mm",
        "--size",
        "holes=8",
        "--kind",
        "casting",
        "--words",
        "chain case",
        "--machine",
        "QW 312",
        "--cannot",
        "bore",
        "--built",
        "1951",
        "--cast-date",
        "3-50",
        "--limit",
        "3",
    )
    assert told.to_json() == document


def test_the_example_of_the_readme_runs(
    path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    shown = (Path(__file__).parents[2] / "README.md").read_text("utf-8")
    (example,) = re.findall(r"^```python\n(.*?)^```$", shown, re.MULTILINE | re.DOTALL)
    monkeypatch.chdir(path.parent)
    assert path.name in example
    exec(example, {})
    assert capsys.readouterr().out == "one 6304\n"


def test_one_text_is_one_mark_and_not_its_characters(whimbrel: OpenStore) -> None:
    assert whimbrel.identify(mark="6204").to_json() == whimbrel.identify(mark=["6204"]).to_json()
    assert whimbrel.donor("QF-4471").to_json() == whimbrel.donor(["QF-4471"]).to_json()


def test_a_mark_that_is_given_twice_is_one_reading(whimbrel: OpenStore) -> None:
    once = whimbrel.identify(mark="6204", cast="QF 4470").to_json()
    again = whimbrel.identify(mark=("6204", "62-04"), cast=("QF 4470", "QF4470")).to_json()
    assert again == once


def test_a_size_may_be_a_number_in_the_unit_of_the_store(whimbrel: OpenStore) -> None:
    told = whimbrel.identify(bore=20, outside=47.02, size={"width": 14}).to_json()
    assert told["query"]["sizes"]["outside"]["mm"] == 47.02
    assert all(size["unit_assumed"] for size in told["query"]["sizes"].values())


def test_the_words_of_equivalents_answer_as_the_command_does(
    whimbrel: OpenStore, asked: Asked
) -> None:
    told = whimbrel.equivalents(bore="25mm", outside="52mm", width="15mm", kind="bearing")
    sizes = ("--bore", "25mm", "--outside", "52mm", "--width", "15mm", "--kind", "bearing")
    assert told.to_json() == asked("equivalents", *sizes)[1]


def test_every_answer_is_a_frozen_dataclass(whimbrel: OpenStore) -> None:
    answers = (
        whimbrel.identify(mark="6204"),
        whimbrel.equivalents("6204"),
        whimbrel.trace("QF-4471"),
        whimbrel.donor("QF-4471"),
    )
    for answer in answers:
        field = dataclasses.fields(answer)[0].name
        with pytest.raises(dataclasses.FrozenInstanceError):
            setattr(answer, field, None)
        assert isinstance(answer.to_json(), dict)


@pytest.mark.parametrize("limit", [0, -1, 1001])
def test_a_limit_out_of_range_is_refused_as_the_command_does(
    whimbrel: OpenStore, limit: int
) -> None:
    with pytest.raises(InputError, match="number of candidates"):
        whimbrel.identify(mark="6204", limit=limit)


def test_what_is_given_twice_or_both_ways_is_refused(whimbrel: OpenStore) -> None:
    with pytest.raises(InputError, match="bore is given twice"):
        whimbrel.identify(bore="20mm", size={"bore": "20mm"})
    with pytest.raises(InputError, match="both given"):
        whimbrel.donor(["QF-4471"], assembly="chain drive")


def test_a_donor_may_be_asked_of_what_lies_on_the_bench(
    whimbrel: OpenStore, said: Said, asked: Asked
) -> None:
    for mark in ("QF 4471", "QF 4477"):
        assert said("bench", "add", "crate", "--mark", mark, "--assembly", "drive")[0] == 0
    told = whimbrel.donor(assembly="drive").to_json()
    assert told == asked("donor", "--assembly", "drive")[1]
    assert told["ranges"][0]["supported_by"] == ["label 1", "label 2"]
