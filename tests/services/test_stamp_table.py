"""Designations as they are really stamped: right in 95 of 100, in ``decode`` and by their mark."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from scripts.benches.stamps import PARTS, by_decode, stamps, unfound
from xref.services.open import open_store

AIM = 0.95


@pytest.mark.parametrize("part", PARTS)
def test_of_the_stamps_95_in_100_are_read_as_a_bearing_fitter_would(part: str) -> None:
    told = by_decode()
    of_part = [stamp.text for stamp in stamps() if stamp.part == part]
    wrong = {text: told[text] for text in of_part if told[text]}
    assert len(of_part) >= 100
    assert len(wrong) <= (1 - AIM) * len(of_part), wrong


def test_every_stamp_stands_once_and_names_the_basis_of_what_is_expected() -> None:
    texts = [stamp.text for stamp in stamps()]
    assert len(texts) == len(set(texts)) > 300
    assert all(stamp.basis for stamp in stamps())


@pytest.mark.slow
def test_the_marks_lead_to_the_parts_they_name(seeded_path: Path, tmp_path: Path) -> None:
    shutil.copy(seeded_path, tmp_path / "s.xref")
    every_third = stamps()[::3]
    with open_store(str(tmp_path / "s.xref")) as store:
        told = {s.text: unfound(s, store.identify(mark=[s.text]).candidates) for s in every_third}
    wrong = {text: said for text, said in told.items() if said}
    assert len(wrong) <= (1 - AIM) * len(every_third), wrong


def test_what_a_stamp_says_of_its_bearing_is_said_at_the_counter(
    seeded_path: Path, tmp_path: Path
) -> None:
    shutil.copy(seeded_path, tmp_path / "s.xref")
    with open_store(str(tmp_path / "s.xref")) as store:
        [best, *_] = store.identify(mark=["HALBROOK 6205-2Z/C3 P6 ENGLAND"]).candidates
        bare = store.identify(mark=["6205"]).candidates[0]
    assert best.order is not None
    assert bare.order is not None
    said = " ".join(best.order.steps)
    assert "seals or shields: 2Z, metal shields, both sides" in said
    assert "clearance: C3, radial clearance greater than normal" in said
    assert "besides: P6, tolerance class closer than normal" in said
    assert "not known yet: snap-ring groove, cage" in said
    assert "say at the counter" not in " ".join(bare.order.steps)


@pytest.mark.parametrize(
    ("mark", "number"), [("UCFC 210", "UC210"), ("LJ 1", "RLS8"), ("YAR 206", "UC206")]
)
def test_letters_of_a_series_are_no_makers_name(
    seeded_path: Path, tmp_path: Path, mark: str, number: str
) -> None:
    shutil.copy(seeded_path, tmp_path / "s.xref")
    with open_store(str(tmp_path / "s.xref")) as store:
        assert store.identify(mark=[mark]).candidates[0].part.number == number
