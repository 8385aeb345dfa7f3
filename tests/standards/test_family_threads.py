"""Threads and hexagons; the published figures of their tables stand in test_second_*."""

from __future__ import annotations

import pytest

from xref.domain.part import Part
from xref.standards.families import standard_parts
from xref.standards.lookup import find
from xref.standards.threads import _threads_of
from xref.tables import read_table

MM = 1_000_000
INCH = 25_400_000


def row(number: str, kind: str = "thread") -> Part:
    found = [p for p in standard_parts() if p.number == number and p.kind == kind]
    assert len(found) == 1, [p.maker for p in found]
    return found[0]


def test_inch_pitches_agree_with_the_rounded_millimetres_beside_them() -> None:
    for line in read_table("thread"):
        pitch = row(line["designation"]).sizes["pitch"].value
        assert abs(pitch - round(float(line["pitch_mm"]) * MM)) <= 100, line["designation"]


def test_a_bolt_is_made_under_its_nominal_diameter() -> None:
    # ISO 965-1, memory: M10 × 1.5 6g goes from 9.732 to 9.968.
    size = row("M10").sizes["diameter"]
    assert size.upper == 0
    assert size.lower is not None
    assert size.value + size.lower == pytest.approx(9_732_000, abs=5_000)


def test_a_cap_screws_hexagon_has_its_published_size() -> None:
    # ASME B18.2.1, memory: 3/8 in cap screws have 9/16 in. Others stand in test_second_tables.
    assert row("bolt head 3/8 UNC/UNF", "other").sizes["across-flats"].value == 9 * INCH // 16


def test_one_spanner_serves_threads_of_several_systems() -> None:
    near = [
        p
        for p in standard_parts()
        if p.type == "hexagon" and abs(p.sizes["across-flats"].value - 19 * MM) < 60_000
    ]
    assert {p.number for p in near} >= {"bolt head and nut M12 older", "bolt head 1/2 UNC/UNF"}
    assert len({p.sizes["diameter"].value for p in near}) > 1


def test_a_hexagon_of_one_thread_has_its_pitch_and_one_of_two_has_none() -> None:
    assert "pitch" in row("bolt head and nut M12 older", "other").sizes
    both = row("bolt head 1/2 UNC/UNF", "other")
    assert "pitch" not in both.sizes
    assert "1/2-13 UNC" in both.note
    assert "1/2-20 UNF" in both.note


NO_THREAD = {"13/16 BSW large hexagon", "15/16 BSW large hexagon"} | {
    f"M{size}" for size in (72, 76, 80, 85, 90, 100, 110, 125, 140, 160)
}
"""Hexagons whose thread (coarse of these sizes, or odd Whitworth) the thread table has not."""


def test_every_hexagon_but_these_finds_its_thread_and_all_have_its_diameter() -> None:
    named = {line["thread"] for line in read_table("spanner_hex")}
    assert {thread for thread in named if not _threads_of(thread)} == NO_THREAD
    hexagons = [p for p in standard_parts() if p.type == "hexagon"]
    assert len(hexagons) == 191
    assert all("diameter" in p.sizes for p in hexagons)


@pytest.mark.parametrize(
    "near",
    [
        "M10x1.3",
        "M11.5",
        "3/8-18 UNC",
        "2 BSA",
        "17 BA",  # the table ends at 16
        "M10x1.27",  # 20 threads to the inch is no metric pitch
    ],
)
def test_a_thread_that_is_not_made_finds_nothing(near: str) -> None:
    assert find(near) == ()
