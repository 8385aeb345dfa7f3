"""Limits of ISO 492 and ISO 286, against published figures and an independent package."""

from __future__ import annotations

import pressfit  # type: ignore[import-untyped]  # it ships no types
import pytest

from xref.domain.size import NM_PER_MM
from xref.errors import InputError
from xref.standards.tolerance import Limits, bearing_limits, iso286, sintered_bush_limits
from xref.tables import read_table

DEEP = "deep groove ball"
SIZES_6204 = {"bore": 20 * NM_PER_MM, "outside": 47 * NM_PER_MM, "width": 14 * NM_PER_MM}
SIZES_30206 = {"bore": 30 * NM_PER_MM, "outside": 62 * NM_PER_MM, "width": 17_250_000}


def _um(limits: Limits | None) -> tuple[float, float] | None:
    return None if limits is None else (limits.lower / 1000, limits.upper / 1000)


# ISO 492 Normal class; d over 18 to 30 and D over 30 to 50: from memory, and
# the table's own rows.
@pytest.mark.parametrize(
    ("type_", "name", "sizes", "limits_um"),
    [
        (DEEP, "bore", SIZES_6204, (-10, 0)),
        (DEEP, "outside", SIZES_6204, (-11, 0)),
        (DEEP, "width", SIZES_6204, (-120, 0)),
        ("cylindrical roller NU", "bore", SIZES_6204, (-10, 0)),
        ("tapered roller", "bore", SIZES_30206, (-12, 0)),
        ("tapered roller", "width", SIZES_30206, (0, 200)),
    ],
    ids=["6204 d", "6204 D", "6204 B", "NU204 d", "30206 d", "30206 T"],
)
def test_metric_radial_bearings_have_their_normal_limits(
    type_: str, name: str, sizes: dict[str, int], limits_um: tuple[float, float]
) -> None:
    assert _um(bearing_limits(type_, name, sizes)) == limits_um


@pytest.mark.parametrize(
    "type_",
    [
        "deep groove ball, inch",
        "tapered roller, inch",
        "thrust ball",
        "spherical roller thrust",
        "drawn cup needle, open",
        "drawn cup needle, inch",
        "needle cage",
        "rotary shaft seal",
        "",
        "no such type",
    ],
)
@pytest.mark.parametrize("name", ["bore", "outside", "width"])
def test_no_limits_are_pretended_where_iso_492_has_none(type_: str, name: str) -> None:
    assert bearing_limits(type_, name, SIZES_6204) is None


def test_unknown_sizes_have_no_limits() -> None:
    assert bearing_limits(DEEP, "cone-width", SIZES_6204) is None
    assert bearing_limits(DEEP, "width", {"width": 14 * NM_PER_MM}) is None
    assert bearing_limits(DEEP, "bore", {"bore": 9000 * NM_PER_MM}) is None


def test_a_range_ends_with_its_own_size() -> None:
    at_30, over_30 = ({"bore": nm} for nm in (30 * NM_PER_MM, 30 * NM_PER_MM + 1))
    assert _um(bearing_limits(DEEP, "bore", at_30)) == (-10, 0)
    assert _um(bearing_limits(DEEP, "bore", over_30)) == (-12, 0)


@pytest.mark.parametrize(("bore_mm", "other"), [(15, "-8"), (30, "-10"), (100, "-120")])
def test_limits_on_which_tables_differ_say_so(bore_mm: int, other: str) -> None:
    # The three rows of iso492_normal.csv with a table_note.
    limits = bearing_limits("tapered roller", "bore", {"bore": bore_mm * NM_PER_MM})
    assert limits is not None
    assert limits.note == f"disagrees: {other} in another table"


def test_limits_on_which_tables_agree_have_no_note() -> None:
    limits = bearing_limits(DEEP, "bore", SIZES_6204)
    assert limits is not None
    assert limits.note == ""
    assert iso286("H7", 25 * NM_PER_MM).note == ""


def test_every_note_of_the_fit_table_comes_with_its_limits() -> None:
    noted = [row for row in read_table("iso286") if row["table_note"]]
    assert noted
    for row in noted:
        last = round(float(row["up_to_mm"]) * NM_PER_MM)
        assert iso286(row["class"], last).note == row["table_note"]


# ISO 286-2. From memory; they agree with the table.
@pytest.mark.parametrize(
    ("class_", "mm", "limits_um"),
    [
        ("H7", 25, (0, 21)),
        ("g6", 25, (-20, -7)),
        ("h6", 25, (-13, 0)),
        ("h9", 40, (-62, 0)),
        ("h11", 25, (-130, 0)),
        ("H7", 50, (0, 25)),
        ("g6", 50, (-25, -9)),
        ("p6", 50, (26, 42)),
        ("H8", 52, (0, 46)),
        ("k6", 25, (2, 15)),
        ("js6", 25, (-6.5, 6.5)),
        ("IT7", 25, (0, 21)),
    ],
)
def test_a_fit_has_its_handbook_limits(
    class_: str, mm: int, limits_um: tuple[float, float]
) -> None:
    assert _um(iso286(class_, mm * NM_PER_MM)) == limits_um


SHAFTS = sorted({row["class"] for row in read_table("iso286") if row["kind"] == "shaft"})


@pytest.mark.parametrize("class_", SHAFTS)
def test_shafts_agree_with_an_independent_package(class_: str) -> None:
    # Our hole rows were computed with pressfit 0.1.0, so only the shafts check anything.
    for row in read_table("iso286"):
        if row["class"] != class_:
            continue
        mm = float(row["up_to_mm"])
        theirs = pressfit.fit(f"H7/{class_}", mm)
        ours = iso286(class_, round(mm * NM_PER_MM))
        assert _um(ours) == (theirs.shaft_ei_um, theirs.shaft_es_um), f"{mm} mm"


@pytest.mark.parametrize("class_", ["", "Z99", "h 7", "7h", "H7\x00", "H" * 1000])
def test_an_unknown_class_is_refused(class_: str) -> None:
    with pytest.raises(InputError) as caught:
        iso286(class_, 25 * NM_PER_MM)
    assert caught.value.message.isprintable()
    assert len(caught.value.message) < 100


@pytest.mark.parametrize("nm", [0, -1, 9000 * NM_PER_MM])
def test_a_size_outside_the_tables_is_refused(nm: int) -> None:
    with pytest.raises(InputError, match="not in the tables"):
        iso286("H7", nm)


def test_a_loose_sintered_bush_is_over_its_nominal_inside_and_out() -> None:
    # ISO 286-2 for 18 to 24 mm, as handbooks print it: G7 +7 to +28, s7 +35 to +56 micrometres
    # (from memory).
    bore, outside = (sintered_bush_limits(name, 20 * NM_PER_MM) for name in ("bore", "outside"))
    assert bore is not None
    assert outside is not None
    assert _um(bore) == (7, 28)
    assert _um(outside) == (35, 56)
    assert sintered_bush_limits("width", 20 * NM_PER_MM) is None
    assert sintered_bush_limits("bore", 10**12) is None
