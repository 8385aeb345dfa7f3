"""Small parts named by their sizes alone, each beside neighbours that must not win."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from xref.services.open import OpenStore, open_store
from xref.standards.families import standard_parts


@pytest.fixture(scope="module")
def opened(seeded_path: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[OpenStore]:
    path = shutil.copy(seeded_path, tmp_path_factory.mktemp("small") / "s.xref")
    with open_store(str(path)) as store:
        yield store


CASES = [
    # kind, sizes as measured, the row, near misses that must stay behind
    ("ball", {"diameter": "6.35mm"}, "ball 6.35", ("ball 6", "ball 6.5", "ball 6.747")),
    (
        "roller",
        {"diameter": "2.99mm", "length": "15.8mm"},
        "needle roller 3x15.8",
        ("needle roller 3x13.8", "needle roller 2.5x15.8", "needle roller 3.5x15.8"),
    ),
    (
        "retaining ring",
        {"groove": "9mm", "thickness": "1.08mm"},
        "DIN 6799-9",
        ("DIN 6799-8", "DIN 6799-10", "MS16633 0.437x0.035 groove 0.343"),
    ),
    (
        "washer",
        {"bore": "8.2mm", "outside": "14.7mm", "thickness": "1.95mm"},
        "DIN 127 M8",
        ("DIN 127 M7", "ISO 7089 M8", "DIN 7603 A 8x14x1"),
    ),
    (
        "chain",
        {"pitch": "15.9mm", "roller": "10.1mm", "inner-width": "6.4mm"},
        "chain 520",
        ("10B-1", "10A-1", "chain 525"),
    ),
    ("thread", {"diameter": "19.8mm", "pitch": "4mm"}, "Tr 20x4", ("M20", "Tr 20x2", "Tr 22x5")),
    (
        "key",
        {"width": "0.4375in", "height": "0.4375in"},
        "BS 46 7/16x7/16",
        ("BS 46 3/8x3/8", "BS 46 1/2x1/2", "ISO 773 12x8"),
    ),
    (
        "bearing",
        {"bore": "15mm", "outside": "40mm", "width": "10mm"},
        "BO15",
        ("6202", "EN15", "E15"),
    ),
    (
        "bearing",
        {"bore": "20mm", "outside": "35mm", "width": "16mm", "ring-width": "12mm"},
        "GE20ES",
        ("GE17ES", "GE25ES", "GEH20ES-2RS"),
    ),
    ("other", {"large-end": "0.720in", "small-end": "0.6in"}, "Brown & Sharpe 7", ("MT 2", "JT 6")),
]


@pytest.mark.parametrize(("kind", "sizes", "number", "near"), CASES, ids=[c[2] for c in CASES])
def test_its_sizes_name_the_row_and_no_neighbour(
    opened: OpenStore, kind: str, sizes: dict[str, str], number: str, near: tuple[str, ...]
) -> None:
    answer = opened.identify(size=sizes, kind=kind)
    assert answer.candidates[0].part.number == number
    chances = {c.part.number: c.probability for c in answer.candidates}
    first = chances[number]
    assert all(chances.get(other, 0) < first / 4 for other in near), chances


@pytest.mark.parametrize(
    ("mark", "number"),
    [("030-035-30", "030-035-30"), ("E15", "E15"), ("DIN 6799-9", "DIN 6799-9"), ("S55", "S55")],
)
def test_its_mark_names_the_row(opened: OpenStore, mark: str, number: str) -> None:
    answer = opened.identify(mark=mark)
    assert number in [c.part.number for c in answer.candidates[:2]]


def test_every_near_miss_is_a_row_that_could_have_won() -> None:
    known = {part.number for part in standard_parts()}
    assert {other for *_, near in CASES for other in near} - known == set()
