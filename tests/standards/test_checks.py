"""The tables of checks: every answer is one, and what a type shows stands among them."""

from __future__ import annotations

import math
from collections import defaultdict

import pytest

from xref.domain.kinds import KINDS
from xref.standards.bearing_type import traits as cells
from xref.standards.check import keys, kinds_of, look, sights, size_ask, type_shows
from xref.standards.families import standard_parts
from xref.tables import read_table

ROWS = read_table("check_answer")
TYPES = sorted({(p.kind, p.type) for p in standard_parts() if p.type})


def test_the_answers_of_a_check_share_what_there_is_between_them() -> None:
    whole: dict[tuple[str, str], float] = defaultdict(float)
    for row in ROWS:
        whole[row["check"], row["kinds"]] += float(row["share"])
        assert 0 < float(row["share"]) < 1
    assert all(math.isclose(share, 1.0) for share in whole.values()), whole


def test_each_check_has_two_answers_at_least_on_each_kind_it_is_made_on() -> None:
    for key in keys():
        for kind in kinds_of(key):
            assert kind == "" or kind in KINDS
            assert len(sights(key, kind)) >= 2
            assert look(key, kind) is not None
    assert {row["check"] for row in ROWS} == set(keys())


def test_answers_are_words_one_can_type() -> None:
    for row in ROWS:
        assert row["answer"] == row["answer"].lower()
        assert not set(row["answer"]) & set(" =|'\"")


@pytest.mark.parametrize(("kind", "type_"), TYPES)
def test_what_a_type_shows_is_an_answer_on_its_kind(kind: str, type_: str) -> None:
    for part in (p for p in standard_parts() if p.type == type_):
        shows = type_shows(type_, kind, f"{part.words} {part.maker} {part.number}")
        for key, words in shows.items():
            assert words
            assert set(words) <= set(sights(key, kind)), (key, words)


def test_types_of_one_kind_that_the_table_tells_apart_answer_otherwise() -> None:
    """A cell that is no answer would be a difference that nobody is asked for."""
    by_kind: dict[tuple[str, str], dict[str, object]] = defaultdict(dict)
    for kind, type_ in TYPES:
        shows = type_shows(type_, kind, "")
        for column, text in cells(type_).items():
            by_kind[kind, column][text] = tuple(sorted(shows.items()))
    for (kind, column), told in by_kind.items():
        if kind in ("bearing", "bush", "pin", "key", "washer", "chain") and len(told) > 1:
            assert len(set(told.values())) > 1, (kind, column, told)
    rows = read_table("bearing_type")
    known = {row["cell"] for row in ROWS}
    bearings = {type_ for kind, type_ in TYPES if kind == "bearing"}
    for row in rows:
        if row["type"] in bearings:
            assert {row["comes apart"], row["what rolls"]} - {""} <= known, row["type"]


def test_every_trait_is_of_a_type_that_there_is() -> None:
    held = {type_ for _, type_ in TYPES}
    assert {row["type"] for row in read_table("trait")} <= held


@pytest.mark.parametrize(
    ("type_", "kind", "told", "check", "shows"),
    [
        ("whitworth thread", "thread", "", "flank", ("55",)),  # BS 84
        ("metric thread", "thread", "", "flank", ("60",)),  # ISO 68-1
        ("ba thread", "thread", "", "flank", ("47.5",)),  # BS 93
        ("acme thread", "thread", "", "flank", ("29",)),  # ASME B1.5
        ("trapezoidal thread", "thread", "", "flank", ("30",)),  # ISO 2904
        ("pipe thread", "thread", "thread, npt (taper)", "flank", ("60",)),  # ASME B1.20.1
        ("pipe thread", "thread", "thread, bsp taper (bspt, r)", "taper", ("1-16",)),  # ISO 7-1
        ("pipe thread", "thread", "thread, bsp parallel", "taper", ("straight",)),  # ISO 228-1
        ("taper pin", "pin", "", "taper", ("1-50",)),  # ISO 2339
        ("taper pin, inch", "pin", "", "taper", ("1-48",)),  # ASME B18.8.2
        ("o-ring", "o-ring", "straight-thread tube-fitting boss SAE AS568", "sat", ("port",)),
        ("o-ring", "o-ring", "o-ring ISO 3601-1", "sat", ("metric", "inch")),
        ("spring pin", "pin", "", "made", ("rolled",)),
        ("split pin", "pin", "", "made", ("wire",)),
        ("wrapped bush", "bush", "", "made", ("seam",)),
        ("cylindrical roller NU", "bearing", "", "rings", ("inner-both",)),
        ("angular contact ball, single row", "bearing", "", "shoulders", ("one-cut",)),
        ("internal retaining ring", "retaining ring", "", "lugs", ("in",)),
        ("bush chain", "chain", "", "made", ("bushes",)),
    ],
)
def test_what_a_type_is_told_by(
    type_: str, kind: str, told: str, check: str, shows: tuple[str, ...]
) -> None:
    assert type_shows(type_, kind, told)[check] == shows


def test_a_pitch_is_measured_as_the_kind_has_it() -> None:
    assert "chain" in size_ask("pitch", "chain")
    assert "chain" not in size_ask("pitch", "thread")
    assert size_ask("minor", "other") == ""
