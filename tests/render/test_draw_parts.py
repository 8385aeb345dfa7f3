"""Parts drawn to scale."""

from __future__ import annotations

from collections import defaultdict
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.render.drawn import dimensions, held_well, parsed
from xref.domain.kinds import KINDS
from xref.domain.size_names import SIZES
from xref.render.draw.ink import MM
from xref.render.draw.part import Subject, draw_both, draw_part, subject_of
from xref.standards.families import standard_parts

BEARING = {"bore": 20.0, "outside": 47.0, "width": 14.0}


@cache
def sampled() -> tuple[Subject, ...]:
    """The first, middle and last row of every type in the standards' tables."""
    rows = defaultdict(list)
    for part in standard_parts():
        rows[part.kind, part.type, tuple(part.sizes)].append(part)
    some = [row[i] for row in rows.values() for i in {0, len(row) // 2, len(row) - 1}]
    return tuple(subject_of(part) for part in some)


def test_every_type_of_every_family_is_drawn_inside_its_sheet_and_no_text_lies_on_another() -> None:
    assert len(sampled()) > 200
    for subject in sampled():
        held_well(draw_part(subject))


def test_every_dimension_is_as_long_as_its_size_says() -> None:
    compared = 0
    for subject in sampled():
        drawing = draw_part(subject)
        for name, long in dimensions(parsed(drawing.svg)).items():
            wanted = subject.sizes[name] * drawing.scale * MM
            assert long == pytest.approx(wanted, abs=0.05), (subject.number, name)
            compared += 1
    assert compared > 500


def test_a_bearing_of_each_type_looks_unlike_the_others() -> None:
    types = [
        "deep groove ball",
        "double row deep groove ball",
        "angular contact ball, single row",
        "angular contact ball, double row",
        "four-point contact ball",
        "self-aligning ball",
        "magneto ball",
        "cylindrical roller N",
        "cylindrical roller NU",
        "cylindrical roller NJ",
        "cylindrical roller NUP",
        "tapered roller",
        "spherical roller",
        "spherical roller thrust",
        "cylindrical roller thrust",
        "thrust ball",
        "double direction thrust ball",
        "insert bearing",
        "spherical plain",
        "drawn cup needle, open",
        "drawn cup needle, closed end",
        "needle cage",
        "needle roller NA",
        "needle roller NK",
    ]
    drawn = {
        draw_part(Subject("X", "bearing", name, "one", BEARING), ident="a").svg for name in types
    }
    assert len(drawn) == len(types)


def test_shields_and_seals_are_shown_and_differ() -> None:
    drawn = {
        draw_part(Subject("X", "bearing", "deep groove ball", "", BEARING, closed), ident="a").svg
        for closed in ("", "shield", "shield1", "seal", "seal1")
    }
    assert len(drawn) == 5


@pytest.mark.parametrize(
    ("name", "angle"),
    [
        ("metric thread", "60°"),
        ("whitworth thread", "55°"),
        ("ba thread", "47.5°"),
        ("trapezoidal thread", "30°"),
        ("acme thread", "29°"),
    ],
)
def test_a_thread_shows_the_angle_of_its_flanks(name: str, angle: str) -> None:
    drawing = draw_part(Subject("T", "thread", name, "", {"diameter": 12.0, "pitch": 1.75}))
    assert angle in [t.text for t in parsed(drawing.svg).iter() if t.text]
    assert f"{drawing.rows[-1].nominal:g}°" == angle


def test_what_was_measured_is_laid_over_dashed_and_stands_beside_the_nominal() -> None:
    subject = Subject("6204", "bearing", "deep groove ball", "", BEARING)
    drawing = draw_part(subject, {"bore": 20.6})
    row = next(r for r in drawing.rows if r.name == "bore")
    assert (row.letter, row.nominal, row.other, row.difference) == ("d", 20.0, 20.6, 0.6)
    assert 'class="xd-over"' in drawing.svg
    assert "stroke-dasharray" in drawing.svg
    assert 'class="xd-over"' not in draw_part(subject).svg
    held_well(drawing)


def test_two_parts_laid_over_each_other_have_their_difference_dimensioned() -> None:
    one = Subject("6204", "bearing", "deep groove ball", "", BEARING)
    other = Subject("6304", "bearing", "deep groove ball", "", {**BEARING, "outside": 52.0})
    drawing = draw_both(one, other)
    marked = [
        g.attrib["data-difference"]
        for g in parsed(drawing.svg).iter()
        if "data-difference" in g.attrib
    ]
    assert marked == ["D"]
    held_well(drawing)


def test_sizes_no_part_can_have_are_drawn_as_a_box_and_the_description_says_why() -> None:
    drawing = draw_part(
        Subject("X", "bearing", "deep groove ball", "", {"bore": 50.0, "outside": 40.0})
    )
    assert "the bore on record is not less than the outside" in drawing.description
    assert "not drawn" in drawing.description
    held_well(drawing)


def test_a_part_without_a_shape_says_so() -> None:
    for kind in ("casting", "gasket", "boot", ""):
        drawing = draw_part(Subject("QF-2214", kind, "", "chain case", {"length": 240.0}))
        assert "The shape is not drawn" in drawing.description


def test_only_what_is_on_record_is_dimensioned() -> None:
    drawing = draw_part(Subject("X", "bearing", "deep groove ball", "", {"bore": 20.0}))
    assert set(dimensions(parsed(drawing.svg))) == {"bore"}
    assert [row.name for row in drawing.rows] == ["bore"]
    assert "by proportion" in drawing.description


def test_rubbish_in_a_number_is_escaped_and_stays_well_formed() -> None:
    rubbish = '</title><script>x()</script>"&\x00\x1b\ud800\ufffe'
    drawing = draw_part(Subject(rubbish, "bearing", rubbish, rubbish, BEARING))
    root = parsed(drawing.svg)
    assert root[0].text is not None
    assert "<script>" in root[0].text
    assert "<script" not in drawing.svg
    parsed(drawing.file())


def test_a_drawing_has_a_role_a_title_a_description_and_ids_of_its_own() -> None:
    one = parsed(draw_part(Subject("A", "bearing", "", "", BEARING)).svg)
    two = parsed(draw_part(Subject("B", "bearing", "", "", BEARING)).svg)
    assert one.attrib["role"] == "img"
    ids = [e.attrib["id"] for root in (one, two) for e in root.iter() if "id" in e.attrib]
    assert len(ids) == len(set(ids)) == 4
    assert one.attrib["aria-labelledby"].split() == ids[:2]
    assert one[0].text
    assert one[1].text


def test_a_drawing_in_a_page_needs_no_style_and_a_file_brings_its_own() -> None:
    drawing = draw_part(Subject("A", "bearing", "", "", BEARING))
    assert "style" not in drawing.svg
    assert "prefers-color-scheme:dark" in drawing.file()
    assert "@media print" in drawing.file()


SIZE = st.one_of(
    st.floats(0.001, 100_000),
    st.floats(1, 200),
    st.sampled_from([0.0, -5.0, float("nan"), float("inf"), 1e-300, 1e300]),
)
TYPES = sorted({(s.kind, s.type, s.words) for s in sampled()}) + [(k, "", "") for k in KINDS]


@settings(max_examples=100)
@given(
    st.sampled_from(TYPES),
    st.dictionaries(st.sampled_from([*SIZES, "teeth", "rows", "splines"]), SIZE, max_size=8),
    st.dictionaries(st.sampled_from(["bore", "outside", "width", "length"]), SIZE, max_size=3),
    st.booleans(),
)
def test_whatever_the_sizes_a_drawing_is_well_formed_and_stays_on_its_sheet(
    what: tuple[str, str, str], sizes: dict[str, float], measured: dict[str, float], usual: bool
) -> None:
    if usual:
        sizes = {**BEARING, **sizes}
    kind, name, words = what
    held_well(draw_part(Subject("N", kind, name, words, sizes), measured))
    held_well(
        draw_both(Subject("N", kind, name, words, sizes), Subject("M", kind, name, words, measured))
    )
