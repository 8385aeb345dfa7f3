"""Equivalents: every grade with its differences, direction and cautions; near misses only warn.

Bearing sizes are those of ISO 15 as the shipped tables hold them; O-ring sizes of ISO 3601-1,
AS568 and JIS B 2401.
"""

from __future__ import annotations

from typing import Any

import pytest

from xref.errors import InputError, NotFoundError
from xref.services.fit.equivalents import Equivalent, Equivalents
from xref.services.links.interchange import interchange
from xref.services.links.supersede import supersede
from xref.services.open import OpenStore
from xref.services.parts import part as parts

NEVER = ("near miss", "tried, does not fit")


def add(opened: OpenStore, number: str, **words: Any) -> None:
    with opened.store.writing("part add") as unit:
        parts.add(unit, number, **words)
        unit.commit()


def line(found: Equivalents, number: str) -> Equivalent:
    (held,) = (e for e in found.found if e.number == number)
    return held


def notes(held: Equivalent, about: str) -> list[str]:
    return [d.note for d in held.differences if d.about == about]


def differs(held: Equivalent) -> dict[str, tuple[str, str]]:
    return {d.about: (d.this, d.that) for d in held.differences}


def test_a_designation_written_otherwise_is_the_same(bare: OpenStore) -> None:
    found = bare.equivalents("6204-2RS1")
    held = line(found, "6204-2RSR")
    assert held.grade == "same designation"
    assert held.both
    assert "common usage" in notes(held, "number")[0]
    assert "6204-ZZ" not in {e.number for e in found.found}


def test_a_designation_with_seals_and_its_plain_row_differ_in_the_seals(bare: OpenStore) -> None:
    held = line(bare.equivalents("6204-2RS1"), "6204")
    assert held.grade == "same boundary dimensions"
    assert differs(held)["seals or shields"] == ("rubber contact seals, both sides", "unknown")


def test_the_same_boundary_dimensions_never_mean_the_same_load(bare: OpenStore) -> None:
    held = line(bare.equivalents("6204"), "NU204")
    assert held.grade == "same boundary dimensions"
    assert held.to_json()["direction"] == "both"
    assert differs(held)["type"] == ("deep groove ball", "cylindrical roller NU")
    assert "load rating" in notes(held, "type")[0]
    assert any("load rating" in text for text in held.cautions)


def test_other_sizes_are_no_equivalents(bare: OpenStore) -> None:
    assert not {"6203", "6205", "6304"} & {e.number for e in bare.equivalents("6204").found}


def test_a_narrower_bearing_takes_a_spacer_and_never_a_plain_washer(bare: OpenStore) -> None:
    """6004 is 20 × 42 × 12 and 16004 20 × 42 × 8 (ISO 15)."""
    held = line(bare.equivalents("6004"), "16004")
    assert held.grade == "with work"
    assert held.to_json()["direction"] == "one way"
    (note,) = notes(held, "width")
    assert "4 mm" in note
    assert "DIN 988" in note
    assert "touching one ring only" in note
    assert "never a plain washer" in note


def test_a_wider_bearing_does_not_go_in(bare: OpenStore) -> None:
    assert "6004" not in {e.number for e in bare.equivalents("16004").found}


def test_a_larger_bore_takes_a_sleeve_and_a_smaller_one_nothing(bare: OpenStore) -> None:
    """6304 is 20 × 52 × 15 and 6205 25 × 52 × 15 (ISO 15)."""
    held = line(bare.equivalents("6304"), "6205")
    assert held.grade == "with work"
    assert notes(held, "bore") == [
        "a sleeve with a wall of 2.5 mm, made to the fit the shaft needs"
    ]
    assert "6304" not in {e.number for e in bare.equivalents("6205").found}


def test_an_inch_bore_is_warned_of_its_metric_twins_only(bare: OpenStore) -> None:
    """6205 is 25 × 52 × 15 (ISO 15); 1 in is 25.4 mm (exact by definition)."""
    add(bare, "QF-6001", kind="bearing", sizes={"bore": "1in", "outside": "52mm", "width": "15mm"})
    held = line(bare.equivalents("QF-6001"), "6205")
    assert held.grade == "near miss"
    assert held.to_json()["direction"] == "one way"
    assert "25.4 mm is 1 in, not 25 mm" in notes(held, "bore")[0]


def test_a_near_miss_stands_after_all_that_does(bare: OpenStore) -> None:
    add(bare, "QF-6001", kind="bearing", sizes={"bore": "1in", "outside": "52mm", "width": "15mm"})
    grades = [e.grade for e in bare.equivalents("QF-6001").found]
    first = grades.index("near miss")
    assert set(grades[first:]) == {"near miss"}


def test_an_o_ring_has_its_dash_number_and_its_near_twins_with_their_squeeze(
    whimbrel: OpenStore,
) -> None:
    """3.53 mm squeezed 20 % leaves a groove of 2.824 mm; 3.5 mm in it: (3.5 − 2.824)/3.5."""
    found = whimbrel.equivalents("QF-1422")
    assert line(found, "ISO 3601-214").grade == "same boundary dimensions"
    assert line(found, "AS568-214").grade == "same boundary dimensions"
    twin = line(found, "P25")
    assert twin.grade == "near miss"
    assert differs(twin)["section"] == ("3.53 mm", "3.5 mm")
    assert differs(twin)["inside"] == ("24.99 mm", "24.7 mm")
    assert differs(twin)["squeeze"] == ("20%", f"{(3.5 - 2.824) / 3.5:.1%}")


def test_an_old_seal_leads_to_the_standard_size(whimbrel: OpenStore) -> None:
    held = line(whimbrel.equivalents("QF-1420"), "35x52x7")
    assert held.grade == "same boundary dimensions"
    assert differs(held)["rubber"] == ("unknown", "unknown")
    assert any("must suit the fluid" in text for text in held.cautions)


def test_rubber_and_hardness_differences_are_shown(bare: OpenStore) -> None:
    ring = {"inside": "24.99mm", "section": "3.53mm"}
    add(bare, "QF-1", kind="o-ring", words="ring NBR 70", sizes=ring)
    add(bare, "QF-2", kind="o-ring", words="ring FKM 80", sizes=ring)
    held = line(bare.equivalents("QF-1"), "QF-2")
    assert differs(held) == {"rubber": ("NBR", "FKM"), "hardness": ("70", "80")}


def test_the_same_rubber_and_hardness_are_no_difference(bare: OpenStore) -> None:
    ring = {"inside": "24.99mm", "section": "3.53mm"}
    add(bare, "QF-1", kind="o-ring", words="ring NBR 70", sizes=ring)
    add(bare, "QF-2", kind="o-ring", words="NBR 70", sizes=ring)
    assert line(bare.equivalents("QF-1"), "QF-2").differences == ()


def strip(opened: OpenStore, number: str, width: str, thickness: str, hardness: str) -> None:
    sizes = {"width": width, "thickness": thickness, "hardness": hardness}
    add(opened, number, kind="strip", words="door strip", sizes=sizes)


def test_strip_is_found_by_its_section_whichever_side_is_the_width(bare: OpenStore) -> None:
    strip(bare, "QF-1", "12mm", "10mm", "60")
    strip(bare, "QF-2", "10mm", "12mm", "40")
    strip(bare, "QF-3", "12mm", "12mm", "60")
    found = bare.equivalents("QF-1")
    assert "QF-3" not in {e.number for e in found.found}
    held = line(found, "QF-2")
    assert held.grade == "same boundary dimensions"
    assert differs(held) == {"rubber": ("unknown", "unknown"), "hardness": ("60", "40")}
    assert line(found, "GOST 6467 10x12").grade == "same boundary dimensions"


def test_round_cord_is_found_by_its_diameter(bare: OpenStore) -> None:
    found = bare.equivalents(size={"diameter": "10mm"}, kind="strip")
    assert {e.number for e in found.found} == {"GOST 6467 D10"}


def test_a_shear_pin_has_no_equivalent_by_size(whimbrel: OpenStore) -> None:
    add(
        whimbrel,
        "QF-0999",
        kind="pin",
        words="pin",
        sizes={"diameter": "1/2in", "length": "2-1/2in"},
    )
    assert whimbrel.equivalents("QF-0902").found == ()


def test_what_was_tried_comes_from_the_store_with_its_note(whimbrel: OpenStore) -> None:
    held = line(whimbrel.equivalents("QF-4471"), "QF-2214")
    assert held.grade == "tried, does not fit"
    assert "fouls the brake rod" in notes(held, "interchange")[0]


def test_every_line_carries_what_it_is_sold_as_now(whimbrel: OpenStore) -> None:
    with whimbrel.store.writing("interchange") as unit:
        interchange(unit, "QF-0881", "QF-3311", grade="stated")
        unit.commit()
    held = line(whimbrel.equivalents("QF-0881"), "QF-3311")
    assert held.order is not None
    assert held.order.number == "D 70-0311"
    assert held.to_json()["order"]["number"] == "D 70-0311"


def test_the_part_itself_carries_what_it_is_sold_as_now(whimbrel: OpenStore) -> None:
    with whimbrel.store.writing("supersede") as unit:
        supersede(unit, "QF-1420", ["QF-1499"])
        unit.commit()
    found = whimbrel.equivalents("QF-1420")
    assert found.order is not None
    assert found.order.number == "QF-1499"


def test_the_document_has_the_keys_that_programs_lean_on(whimbrel: OpenStore) -> None:
    told = whimbrel.equivalents("QF-1420").to_json()
    assert told["part"] == {"number": "QF-1420", "maker": "Quillfeather"}
    (held,) = told["equivalents"]
    wanted = {"number", "maker", "from", "grade", "direction", "differences", "cautions"}
    assert wanted <= set(held)
    assert held["from"] == "standard"
    assert {"about", "this", "that", "note"} == set(held["differences"][0])
    by_size = whimbrel.equivalents(
        size={"bore": "35mm", "outside": "52mm"}, kind="shaft seal"
    ).to_json()
    assert "query" in by_size
    assert "part" not in by_size


def test_a_number_or_sizes_must_be_given_and_not_both(bare: OpenStore) -> None:
    for words in ({}, {"number": "6204", "size": {"bore": "20mm"}}):
        with pytest.raises(InputError, match="a number, or sizes"):
            bare.equivalents(**words)  # type: ignore[arg-type]


def test_a_number_that_is_nowhere_is_told_its_neighbours(whimbrel: OpenStore) -> None:
    with pytest.raises(NotFoundError) as missing:
        whimbrel.equivalents("QF-1429")
    assert "QF-142" in missing.value.hint


def test_what_stands_in_for_a_brake_part_carries_the_caution_of_a_brake_part(
    bare: OpenStore,
) -> None:
    sizes = {"bore": "22mm", "outside": "28mm", "width": "30mm"}
    with bare.store.writing("part add") as unit:
        parts.add(unit, "QF-2110", kind="bush", words="bush, brake lever", sizes=sizes)
        unit.commit()
    (bush,) = bare.equivalents("QF-2110").found
    assert (bush.number, bush.grade) == ("ISO 2795 22x28x30", "same boundary dimensions")
    assert any("Brake part" in text for text in bush.cautions)
