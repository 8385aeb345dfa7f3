"""The registry of sizes: every name readable, every kind real."""

from __future__ import annotations

import pytest

from xref.domain.kinds import KINDS
from xref.domain.part import BOUNDARY, COUNTS
from xref.domain.size_names import INSIDE, NAMES, ONLY_ON, SIZES, another_sort
from xref.services.question import size_name
from xref.standards.families import standard_parts


@pytest.mark.parametrize("name", NAMES)
def test_every_name_is_one_that_can_be_asked_for(name: str) -> None:
    assert size_name(name) == name


def test_no_name_is_a_size_and_a_count() -> None:
    assert not set(SIZES) & set(COUNTS)


def test_what_is_said_of_a_size_is_said_of_one_that_is_there() -> None:
    assert set(SIZES) >= INSIDE
    assert set(SIZES) >= set(ONLY_ON)
    assert set(SIZES) >= set(BOUNDARY)


def test_a_size_of_one_kind_names_a_real_kind() -> None:
    assert set(ONLY_ON.values()) <= set(KINDS)


@pytest.mark.parametrize("name", ONLY_ON)
def test_a_size_of_one_kind_stands_on_no_standard_part_of_another(name: str) -> None:
    assert {p.kind for p in standard_parts() if name in p.sizes} <= {ONLY_ON[name]}


@pytest.mark.parametrize(
    ("asked", "held", "other"),
    [
        (("across-flats",), ("minor", "major", "splines", "width"), True),
        (("across-flats", "diameter"), ("bore", "seat", "length"), True),
        (("large-end",), ("shaft", "housing", "centre-height"), True),
        (("across-flats",), ("across-flats", "diameter"), False),
        (("across-flats",), ("bore", "outside"), False),  # it may only not be on record
        (("diameter",), ("minor", "major"), False),
        (("across-flats", "splines"), ("splines", "minor"), False),
        ((), (), False),
    ],
)
def test_sizes_of_two_sorts_never_stand_on_one_part(
    asked: tuple[str, ...], held: tuple[str, ...], other: bool
) -> None:
    assert another_sort(asked, held) is other


def test_no_standard_part_is_of_two_sorts() -> None:
    for part in (p for p in standard_parts() if p.kind == "other"):
        for name in part.sizes:
            assert not another_sort((name,), part.sizes), part.number
