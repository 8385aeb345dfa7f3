"""Equivalents of the families that have key sizes of their own."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from xref.services.open import OpenStore, open_store
from xref.services.parts import part as parts


@pytest.fixture(scope="module")
def opened(seeded_path: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[OpenStore]:
    path = shutil.copy(seeded_path, tmp_path_factory.mktemp("named") / "n.xref")
    with open_store(str(path)) as store:
        with store.store.writing("own") as unit:
            parts.add(
                unit,
                "QF-51",
                kind="chain",
                sizes={"pitch": "12.7mm", "roller": "8.51mm", "inner-width": "7.75mm", "rows": "1"},
            )
            parts.add(
                unit, "QF-52", kind="retaining ring", sizes={"shaft": "25mm", "thickness": "1.2mm"}
            )
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


@pytest.mark.parametrize(
    ("number", "never"),
    [
        ("8x36x40", ("8x36x42", "10x36x45")),  # the same minor diameter, another spline
        ("H210", ("AH310X",)),  # the same shaft, seat and length, another thread
        ("SN 510", ("AH2352", "SN 608", "SN 508")),  # the same length of foot or the same bore
        ("DIN 71412 A M8x1 AF9", ("bolt head and nut M8", "DIN 71412 A M8x1 AF11")),
        ("DIN 2093 A 50", ("DIN 2093 B 50",)),  # 3 mm and 2 mm thick
        ("MT 2", ("MT 1", "JT 6")),
        ("felt ring 45", ("felt ring 40", "felt ring 50")),
    ],
)
def test_a_part_that_shares_one_size_is_no_equivalent(
    opened: OpenStore, number: str, never: tuple[str, ...]
) -> None:
    assert not set(never) & set(graded(opened, number))


@pytest.mark.parametrize(
    ("number", "other", "types"),
    [
        # ISO 2338 and ISO 2340 both have 6 mm pins; the second has holes for split pins.
        ("ISO 2338 6", "ISO 2340 6", ("parallel pin", "clevis pin")),
        ("ISO 8752 6", "ISO 2338 6", None),
    ],
)
def test_another_type_of_the_same_size_is_a_near_miss(
    opened: OpenStore, number: str, other: str, types: tuple[str, str] | None
) -> None:
    found = [e for e in opened.equivalents(number).found if e.number == other]
    if types is None:  # a spring pin is larger than its hole: not even near
        assert found == []
        return
    assert [e.grade for e in found] == ["near miss"]
    assert (types[0], types[1]) in {(d.this, d.that) for e in found for d in e.differences}


def test_a_flat_washer_of_the_earlier_standard_is_an_equivalent(opened: OpenStore) -> None:
    # ISO 7089 and DIN 125 A: M10 is 10.5 × 20 × 2 in both.
    assert graded(opened, "ISO 7089 M10")["DIN 125 A M10"] == "same boundary dimensions"


def test_what_is_stamped_on_the_spanner_is_no_other_name_of_the_bolt(opened: OpenStore) -> None:
    assert "19AF" not in graded(opened, "bolt head and nut M12 older")
    found = opened.identify(mark=["19AF"])
    assert found.candidates[0].part.number == "bolt head and nut M12 older"
