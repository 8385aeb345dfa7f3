"""The registry of sizes: every name readable, every kind real."""

from __future__ import annotations

import pytest

from xref.domain.kinds import KINDS
from xref.domain.part import BOUNDARY, COUNTS
from xref.domain.size_names import INSIDE, NAMES, ONLY_ON, SIZES
from xref.services.query import size_name


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
