"""Equivalents of the families that have key sizes of their own."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from xref.services import parts
from xref.services.opening import OpenStore, open_store


@pytest.fixture(scope="module")
def opened(tmp_path_factory: pytest.TempPathFactory) -> Iterator[OpenStore]:
    path: Path = tmp_path_factory.mktemp("named") / "n.xref"
    with open_store(str(path)) as store:
        with store.store.writing("own") as unit:
            parts.add(unit, "QF-51", kind="chain",
                      sizes={"pitch": "12.7mm", "roller": "8.51mm", "inner-width": "7.75mm",
                             "rows": "1"})  # fmt: skip
            parts.add(unit, "QF-52", kind="retaining ring",
                      sizes={"shaft": "25mm", "thickness": "1.2mm"})  # fmt: skip
            unit.commit()
        yield store


def graded(store: OpenStore, number: str) -> dict[str, str]:
    return {e.number: e.grade for e in store.equivalents(number).found}


def test_a_whitworth_thread_is_a_near_miss_of_the_unified_one(opened: OpenStore) -> None:
    # 3/8 in, 16 to the inch in both; flanks of 55° (BS 84) and 60° (ASME B1.1).
    found = opened.equivalents("3/8-16 UNC").found
    (miss,) = [e for e in found if e.number == "3/8 BSW"]
    assert miss.grade == "near miss"
    assert any("another thread form" in d.note for d in miss.differences)


def test_an_own_chain_is_the_standard_one_of_its_strands_only(opened: OpenStore) -> None:
    # ISO 606: 08B has pitch 12.7, roller 8.51, inner width 7.75 mm.
    found = graded(opened, "QF-51")
    assert found["08B-1"] == "same boundary dimensions"
    assert "08B-2" not in found


def test_an_own_ring_is_the_standard_one(opened: OpenStore) -> None:
    # DIN 471: a ring for a 25 mm shaft is 1.2 mm thick.
    assert graded(opened, "QF-52")["DIN 471-25x1.2"] == "same boundary dimensions"


def test_a_coarse_and_a_fine_thread_are_not_equivalents(opened: OpenStore) -> None:
    assert not {"M10", "M10x1.5", "M10x1"} & set(graded(opened, "M10x1.25"))
