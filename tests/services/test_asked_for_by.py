"""Parts by what they are asked for by: a washer by its bolt, a pin by its hole, a ring by name."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from xref.services.decode.decode import decode
from xref.services.one_line import taken
from xref.services.open import OpenStore, open_store
from xref.services.question import Asked, understand


@pytest.fixture(scope="module")
def opened(seeded_path: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[OpenStore]:
    path = shutil.copy(seeded_path, tmp_path_factory.mktemp("asked") / "s.xref")
    with open_store(str(path)) as store:
        yield store


def _first(opened: OpenStore, line: str, most: int = 6) -> list[tuple[str, float]]:
    found = opened.answer(taken([line]).asked, most).candidates
    return [(candidate.part.number, candidate.probability) for candidate in found]


@pytest.mark.parametrize("bolt", ["3/8", "1/2", "5/16"])
def test_a_washer_is_found_by_the_bolt_it_sits_on(opened: OpenStore, bolt: str) -> None:
    found = [number for number, _ in _first(opened, f"washer {bolt}", 12)]
    assert any(number.endswith(f" {bolt}") for number in found)


def test_a_pin_in_any_length_loses_nothing_by_it(opened: OpenStore) -> None:
    plain = opened.identify(kind="clevis pin", size={"diameter": "10mm"})
    long = opened.identify(kind="clevis pin", size={"diameter": "10mm", "length": "42mm"})
    assert [c.part.number for c in plain.candidates] == [c.part.number for c in long.candidates]
    assert long.none_of_these == pytest.approx(plain.none_of_these, abs=0.02)


def test_a_section_by_its_fraction_is_the_true_one(opened: OpenStore) -> None:
    """SAE AS568: 1/8 in is called what measures 0.139 in."""
    answer = opened.identify(kind="o-ring", size={"inside": "0.984in", "section": "1/8in"})
    assert answer.candidates[0].part.sizes["section"].value == pytest.approx(3_530_000, abs=30_000)


def test_a_section_may_still_be_named_by_a_wire_gauge() -> None:
    """16 SWG is 0.064 in (BS 3737, from memory)."""
    query = understand(Asked(kind="o-ring", sizes={"inside": "20mm", "section": "16 SWG"}))
    assert query.sizes["section"].value == 1_625_600


@pytest.mark.parametrize(
    ("text", "number"),
    [
        ("split pin 1/8", "ASME B18.8.1 1/8"),
        ("cotter 1/8 x 1-1/2", "ASME B18.8.1 1/8"),
        ("3.2x40 split pin", "ISO 1234 3.2"),
        ("5x30 roll pin", "ISO 8752 5"),
        ("dowel pin 8 x 30", "ISO 8734 8"),
        ("clevis pin 10", "ISO 2341 10"),
        ("taper pin 6 x 50", "ISO 2339 6"),
        ("taper pin 4", "taper pin No. 4"),
        ("key 8x7x40", "ISO 773 8x7"),
        ("10x8 parallel key", "ISO 773 10x8"),
    ],
)
def test_a_pin_or_a_key_is_read_as_it_is_asked_for(text: str, number: str) -> None:
    reading = decode(text).readings[0]
    assert reading.designation == number
    assert not reading.unknown


@pytest.mark.parametrize(
    ("sizes", "number", "unit"),
    [
        ({"bore": "0.787", "outside": "1.85", "width": "0.551"}, "6204", "in"),
        ({"bore": "1.0", "outside": "2.25", "width": "0.625"}, "RLS8", "in"),
    ],
)
def test_bare_figures_that_fit_only_in_the_other_unit_are_told(
    opened: OpenStore, sizes: dict[str, str], number: str, unit: str
) -> None:
    answer = opened.identify(size=sizes)
    assert answer.verdict == "none"
    assert number in answer.notes[0]
    assert f"{sizes['bore']}{unit}" in answer.notes[0]
    written = opened.identify(size={name: f"{text}mm" for name, text in sizes.items()})
    assert not any("Taken in" in note for note in written.notes)


@pytest.mark.parametrize(
    ("kind", "sizes", "own"),
    [
        ("bearing", {"diameter": "52mm", "width": "15mm"}, "outside"),
        ("bearing", {"diameter": "25mm", "outside": "52mm"}, "bore"),
        ("circlip", {"bore": "47mm"}, "housing"),
        ("bearing", {"inside": "25mm", "outside": "52mm"}, "bore"),
    ],
)
def test_a_size_has_the_name_that_such_a_thing_gives_it(
    opened: OpenStore, kind: str, sizes: dict[str, str], own: str
) -> None:
    query = opened.identify(kind=kind, size=sizes).query
    assert own in query.sizes
    assert list(query.called) == [own]
