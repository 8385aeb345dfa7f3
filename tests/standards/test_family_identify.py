"""The new families named by their sizes alone, each beside neighbours that must not win."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from xref.services.open import OpenStore, open_store
from xref.standards.families import standard_parts


@pytest.fixture(scope="module")
def opened(seeded_path: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[OpenStore]:
    path = shutil.copy(seeded_path, tmp_path_factory.mktemp("families") / "s.xref")
    with open_store(str(path)) as store:
        yield store


CASES = [
    # kind, sizes as measured, the row, near misses that must stay below 5 %
    (
        "retaining ring",
        {"bore": "23.2mm", "thickness": "1.18mm", "shaft": "25mm"},
        "DIN 471-25x1.2",
        ("DIN 471-24x1.2", "DIN 471-26x1.2", "DIN 472-25x1.2"),
    ),
    (
        "pin",
        {"diameter": "2.8mm", "hole": "3.2mm", "head": "5.4mm"},
        "ISO 1234 3.2",
        ("ISO 1234 2.5", "ISO 1234 4", "ISO 8752 3"),
    ),
    (
        "key",
        {"width": "8mm", "height": "7mm"},
        "ISO 773 8x7",
        ("ISO 773 6x6", "ISO 773 10x8", "ASME B17.1 5/16x5/16"),
    ),
    (
        "thread",
        {"diameter": "9.85mm", "pitch": "1.25mm"},
        "M10x1.25",
        ("M10", "M10x1", "3/8-24 UNF"),
    ),
    (
        "thread",
        {"diameter": "0.495in", "pitch": "1/12in"},
        "1/2 BSW",
        ("1/2 BSF", "1/2-13 UNC", "M12"),
    ),
    (
        "chain",
        {"pitch": "12.75mm", "roller": "8.5mm", "inner-width": "7.8mm", "rows": "1"},
        "08B-1",
        ("08A-1", "08B-2", "081-1"),
    ),
    (
        "belt",
        {"top-width": "12.8mm", "height": "8mm", "outside-length": "1225mm"},
        "A46",
        ("A47", "A45", "B46"),
    ),
    (
        "other",
        {"across-flats": "16.9mm", "diameter": "9.9mm", "pitch": "1.5mm"},
        "bolt head and nut M10 older",
        ("bolt head and nut M10", "bolt head and nut M12", "bolt head 7/16 UNC/UNF"),
    ),
    (
        "washer",
        {"bore": "14.2mm", "outside": "18mm", "thickness": "1.5mm"},
        "DIN 7603 A 14x18x1.5",
        ("DIN 7603 A 14x20x1.5", "DIN 7603 A 16x20x1.5", "ISO 7089 M12"),
    ),
    (
        "bearing",
        {"bore": "25mm", "outside": "52mm", "width": "34.1mm", "ring-width": "17mm"},
        "UC205",
        ("6205", "UC205-16", "SA205"),
    ),
    (
        "other",
        {"splines": "8", "minor": "36mm", "major": "40mm"},
        "8x36x40",
        ("8x36x42", "8x32x36", "8x42x46"),
    ),
    ("other", {"large-end": "0.700in", "small-end": "0.572in"}, "MT 2", ("MT 1", "MT 3", "JT 6")),
    (
        "strip",
        {"thickness": "4mm", "width": "20mm"},
        "GOST 6467 4x20",
        ("GOST 6467 4x16", "GOST 6467 5x25", "GOST 6467 D4"),
    ),
    (
        "bearing",
        {"bore": "20mm", "outside": "47mm", "width": "28mm"},
        "52205",
        ("6204", "51205", "52204"),
    ),
    (
        "bearing",
        {"bore": "25mm", "outside": "37mm", "width": "17mm"},
        "RNA4904",
        ("NA4904", "61805", "NK25/16"),
    ),
    (
        "bearing",
        {"bore": "25mm", "outside": "47mm", "width": "22mm"},
        "NKIS25",
        ("6005", "NKI25/20", "NA4905"),
    ),
    (
        "other",
        {"bore": "45mm", "seat": "50mm", "length": "42mm"},
        "H310",
        ("H210", "H2310", "H309"),
    ),
    (
        "other",
        {"shaft": "45mm", "housing": "90mm", "centre-height": "60mm"},
        "SN 510",
        ("SN 608", "SN 509", "SN 511"),
    ),
    (
        "bush",
        {"bore": "12mm", "outside": "18mm", "width": "16mm"},
        "ISO 2795 12x18x16",
        ("ISO 2795 12x18x12", "ISO 2795 12x17x16", "12x14x15"),
    ),
    (
        "bush",
        {"bore": "0.750in", "outside": "0.875in", "width": "0.750in"},
        "3/4x7/8x3/4 in",
        ("3/4x7/8x1 in", "11/16x25/32x7/8 in", "ISO 2795 20x25x20"),
    ),
    (
        "other",
        {"shaft": "45mm", "bore": "44mm", "outside": "57mm", "width": "5mm"},
        "felt ring 45",
        ("felt ring 40", "felt ring 50", "SN 510"),
    ),
    (
        "washer",
        {"bore": "25.4mm", "outside": "50mm", "thickness": "3mm", "height": "4.1mm"},
        "DIN 2093 A 50",
        ("DIN 2093 B 50", "DIN 2093 A 45", "ISO 7089 M24"),
    ),
    ("pin", {"small-end": "6mm"}, "ISO 2339 6", ("ISO 2339 5", "ISO 2339 8", "ISO 2338 6")),
    (
        "other",
        {"across-flats": "7mm", "diameter": "6mm", "pitch": "1mm", "height": "16mm"},
        "DIN 71412 A M6x1 AF7",
        ("DIN 71412 A M6x1 AF9", "bolt head and nut M4", "DIN 71412 A M8x1 AF9"),
    ),
    (
        "strip",
        {"diameter": "10mm"},
        "GOST 6467 D10",
        ("GOST 6467 D8", "GOST 6467 10x10", "GOST 6467 D14"),
    ),
]


@pytest.mark.parametrize(
    ("kind", "size", "number", "near"), CASES, ids=[f"{case[2]}" for case in CASES]
)
def test_its_sizes_name_the_row_and_no_neighbour(
    opened: OpenStore, kind: str, size: dict[str, str], number: str, near: tuple[str, ...]
) -> None:
    answer = opened.identify(size=size, kind=kind, limit=60)
    odds = {c.part.number: c.probability for c in answer.candidates}
    assert answer.candidates[0].part.number == number, odds
    assert {other: odds[other] for other in near if odds.get(other, 0) > 0.05} == {}


def test_every_near_miss_is_a_row_that_could_have_won() -> None:
    known = {part.number for part in standard_parts()}
    assert {n for *_, near in CASES for n in near} - known == set()


def test_one_spanner_size_names_threads_of_several_systems_and_what_decides(
    opened: OpenStore,
) -> None:
    answer = opened.identify(size={"across-flats": "19mm"}, limit=20)
    numbers = [c.part.number for c in answer.candidates]
    assert {"bolt head and nut M12 older", "bolt head 1/2 UNC/UNF"} <= set(numbers)
    assert answer.verdict == "several"


def test_a_chain_is_told_never_to_lift(opened: OpenStore) -> None:
    answer = opened.identify(mark=["08B-1"], size={"pitch": "12.7mm"})
    assert answer.candidates[0].part.number == "08B-1"
    assert any("lifting" in text for text in answer.candidates[0].cautions)


def test_a_whitworth_and_a_unified_thread_of_one_pitch_are_both_shown(opened: OpenStore) -> None:
    # 3/8 in with 16 threads is BSW (55°) and UNC (60°): diameter and pitch cannot tell them apart.
    answer = opened.identify(size={"diameter": "0.370in", "pitch": "1/16in"}, kind="thread")
    assert answer.verdict == "several"
    assert {c.part.number for c in answer.candidates[:2]} == {"3/8 BSW", "3/8-16 UNC"}
    assert {"55° flanks", "60° flanks"} == {
        c.part.note.rpartition(", ")[2] for c in answer.candidates[:2]
    }


@pytest.mark.parametrize(
    ("mark", "numbers"),
    [
        (
            "1/2W",
            {
                "bolt head and nut 1/2 BSW large hexagon",
                "bolt head and nut 9/16 BSF/BSW small hexagon",
            },
        ),
        (
            "7/16 BS",
            {
                "bolt head and nut M12",
                "bolt head and nut 7/16 BSF/BSW small hexagon",
                "bolt head and nut 3/8 BSW large hexagon",
            },
        ),
        (
            "3/4 AF",
            {
                "bolt head 1/2 UNC/UNF",
                "nut 1/2 UNC/UNF",
                "bolt head and nut M12 older",
                "square nut 7/16 UNC",
            },
        ),
    ],
)
def test_the_spanner_that_fits_names_every_hexagon_it_serves(
    opened: OpenStore, mark: str, numbers: set[str]
) -> None:
    answer = opened.identify(size={"across-flats": mark}, limit=20)
    first = {c.part.number for c in answer.candidates[: len(numbers)]}
    assert first == numbers
    # Nothing that has no flats is left to share the odds with: sleeves, splines, tapers, blocks.
    assert answer.others_probability < 0.25


def test_a_pin_that_tapers_leaves_no_odds_to_straight_ones(opened: OpenStore) -> None:
    answer = opened.identify(size={"small-end": "6.02mm"}, kind="pin")
    assert answer.candidates[0].part.number == "ISO 2339 6"
    # An inch taper pin is named by its large end: what its small end is hangs on its length.
    assert answer.others_probability < 0.5
    assert all("taper pin" in c.part.type for c in answer.candidates)


@pytest.mark.parametrize(
    ("size", "number"),
    [
        ({"outside-length": "4673.6mm", "top-width": "22.02mm"}, "C180"),
        ({"groove": "272.06mm", "bore": "265mm"}, "DIN 471-280x5"),
    ],
)
def test_what_has_wide_limits_does_not_lose_to_none_for_its_own_sizes(
    opened: OpenStore, size: dict[str, str], number: str
) -> None:
    answer = opened.identify(size=size)
    assert answer.candidates[0].part.number == number
    assert answer.candidates[0].probability > 0.6
