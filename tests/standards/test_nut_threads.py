"""A thread is found by its hole: the minor diameter of nuts against published limits."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from fixtures.rows import INCH, MM, row
from xref.services.open import open_store
from xref.standards.families import standard_parts

LIMITS = [
    # ISO 965-2:1998, 6H, memory: least and most in millimetres.
    ("M6", 4.917, 5.153),
    ("M8", 6.647, 6.912),
    ("M10", 8.376, 8.676),
    ("M12x1.5", 10.376, 10.676),
    # ISO 228-1:2000, memory.
    ("G 1/4", 11.445, 11.890),
    ("G 1/2", 18.631, 19.172),
    # BS 93:1951, memory.
    ("0 BA", 4.8, 5.175),
    ("2 BA", 3.73, 4.035),
]


@pytest.mark.parametrize(("name", "least", "most"), LIMITS)
def test_the_hole_of_a_nut_is_between_its_published_limits(
    name: str, least: float, most: float
) -> None:
    hole = row(name, "thread").sizes["minor"]
    assert (hole.value + (hole.lower or 0)) / MM == pytest.approx(least, abs=2e-3)
    assert (hole.value + (hole.upper or 0)) / MM == pytest.approx(most, abs=8e-3)


def test_the_hole_of_an_inch_nut_is_between_its_published_limits() -> None:
    # ASME B1.1-2003, class 2B, and BS 84:1956, nuts, memory: inches.
    for name, least, most in [("1/4-20 UNC", 0.196, 0.207), ("1/4 BSW", 0.1860, 0.2030)]:
        hole = row(name, "thread").sizes["minor"]
        assert hole.value / INCH == pytest.approx(least, abs=6e-4)
        assert (hole.value + (hole.upper or 0)) / INCH == pytest.approx(most, abs=6e-4)


def test_a_tapered_thread_has_no_one_hole() -> None:
    tapered = [p for p in standard_parts() if p.kind == "thread" and "tapered 1:16" in p.note]
    assert len(tapered) > 30
    assert not any("minor" in p.sizes for p in tapered)


@pytest.mark.parametrize(
    ("sizes", "kind", "number"),
    [
        ({"minor": "6.7mm", "pitch": "1.25mm"}, "nut", "M8"),
        ({"minor": "5.2mm", "pitch": "20tpi"}, "", "1/4-20 UNC"),
        ({"minor": "8.5mm", "pitch": "1.5mm"}, "thread", "M10"),
        ({"minor": "3.95mm", "pitch": "0.81mm"}, "nut", "2 BA"),
    ],
)
def test_a_nut_or_a_tapped_hole_is_found_by_minor_diameter_and_pitch(
    seeded_path: Path, tmp_path: Path, sizes: dict[str, str], kind: str, number: str
) -> None:
    shutil.copy(seeded_path, tmp_path / "s.xref")
    with open_store(str(tmp_path / "s.xref")) as store:
        best = store.identify(size=sizes, kind=kind).candidates[0]
    assert best.part.number == number


def test_a_bore_of_a_nut_is_its_minor_diameter(seeded_path: Path, tmp_path: Path) -> None:
    shutil.copy(seeded_path, tmp_path / "s.xref")
    with open_store(str(tmp_path / "s.xref")) as store:
        answer = store.identify(bore="6.7mm", size={"pitch": "1.25mm"}, kind="nut")
    assert any("The bore was compared as" in note and "minor" in note for note in answer.notes)
    assert answer.candidates[0].part.number.startswith("M8")


@pytest.mark.parametrize(
    ("over", "said"),
    [
        # Limits: common practice, no published source.
        ("127.4mm/10", "0.3 %: within the usual limits"),
        ("128.5mm/10", "1.2 %: within the usual limit of 2 %, but worn out where the centres"),
        ("130.2mm/10", "2.5 %: worn out"),
        ("13mm", "measured too short a way"),
        ("126.8mm/10", ""),
        ("140mm/10", ""),
    ],
)
def test_a_chain_measured_over_ten_links_is_told_its_wear(
    seeded_path: Path, tmp_path: Path, over: str, said: str
) -> None:
    shutil.copy(seeded_path, tmp_path / "s.xref")
    with open_store(str(tmp_path / "s.xref")) as store:
        sizes = {"pitch": over, "roller": "8.5mm", "inner-width": "7.75mm"}
        notes = [n for n in store.identify(size=sizes, kind="chain").notes if "%" in n]
    assert any(said in note for note in notes) if said else notes == []


@pytest.mark.parametrize(
    ("text", "number"),
    [
        ("52 35 7", "35x52x7"),
        ("35 52 7", "35x52x7"),
        ("SPB 1250", "V-BELT SPB"),
        ("1/4-20", "1/4-20 UNC"),
        ("10-32", "#10-32 UNF"),
        ("No 9 woodruff", "ANSI B17.2 606"),
        ("5/8x3/8", "10B-1"),
        ("1/2 x 5/16 chain", "08B-1"),
        ("4L490", "4L490"),
        ("030-035-30", "030-035-30"),
        ("16tpi", "16 tpi"),
    ],
)
def test_the_same_text_as_mark_and_as_call_out_finds_the_same_row(
    seeded_path: Path, tmp_path: Path, text: str, number: str
) -> None:
    from xref.domain.number import folded
    from xref.services.decode.decode import decode

    readings = decode(text).readings
    names = {folded(t) for r in readings for t in (r.designation, *r.also_written)}
    shutil.copy(seeded_path, tmp_path / "s.xref")
    with open_store(str(tmp_path / "s.xref")) as store:
        best = store.identify(mark=[text]).candidates
    assert folded(number) in names
    assert folded(best[0].part.number) in names
    # 10A and 10B are both called so, and stand side by side.
    assert number in [c.part.number for c in best if c.probability > best[0].probability / 2]
