"""Published tolerances: ISO 492 Normal class for radial bearings, ISO 286 for bores and shafts."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache, lru_cache

from xref.domain.number import visible
from xref.domain.size import NM_PER_MM, mm_text
from xref.errors import InputError
from xref.standards.bearing_type import iso492_group
from xref.tables import Row, read_table

NM_PER_UM = 1_000

_GROUPS = {"radial": "radial bearings except tapered", "taper": "metric tapered roller (Normal)"}
_PARAMETERS = {
    ("radial", "bore"): ("delta_dmp", "bore"),
    ("radial", "outside"): ("delta_Dmp", "outside"),
    ("radial", "width"): ("delta_Bs", "bore"),
    ("taper", "bore"): ("delta_dmp", "bore"),
    ("taper", "outside"): ("delta_Dmp", "outside"),
    ("taper", "width"): ("delta_Ts", "bore"),
}
"""Which parameter limits a dimension, and by which dimension its range is chosen."""


@dataclass(frozen=True, slots=True)
class Limits:
    """Permissible deviations from the nominal size in nanometres, and where they stand.

    ``note`` is the table's word on another table that differs, "" where none does.
    """

    lower: int
    upper: int
    source: str
    note: str = ""


@cache
def _iso492(group: str, parameter: str) -> tuple[Row, ...]:
    return tuple(
        row
        for row in read_table("iso492_normal")
        if row["bearing_group"] == _GROUPS[group] and row["parameter"] == parameter
    )


def bearing_limits(type_: str, name: str, sizes: Mapping[str, int]) -> Limits | None:
    """The ISO 492 Normal limits of a bearing's boundary dimension.

    ``sizes`` are the bearing's nominals in nanometres. None where ISO 492 says nothing: inch,
    thrust and drawn cup bearings, cages, and sizes outside its ranges. None is not zero.
    """
    group = iso492_group(type_)
    found = _PARAMETERS.get((group, name))
    if found is None or found[1] not in sizes:
        return None
    return _iso492_limits(group, found[0], sizes[found[1]])


@lru_cache(maxsize=16384)
def _iso492_limits(group: str, parameter: str, nm: int) -> Limits | None:
    row = _within(_iso492(group, parameter), nm, "incl_mm")
    return _limits(row) if row else None


def _within(rows: tuple[Row, ...], nm: int, last: str) -> Row | None:
    for row in rows:
        if float(row["over_mm"]) * NM_PER_MM < nm <= float(row[last]) * NM_PER_MM:
            return row
    return None


def _limits(row: Row) -> Limits:
    lower, upper = (round(float(row[c]) * NM_PER_UM) for c in ("lower_um", "upper_um"))
    return Limits(lower, upper, row["standard"], row["table_note"])


_GRADE_12 = (
    (6, 120),
    (10, 150),
    (18, 180),
    (30, 210),
    (50, 250),
    (80, 300),
    (120, 350),
    (180, 400),
    (250, 460),
)
"""ISO 286 grade 12 up to a size in mm, in micrometres."""


def disc_spring_limits(name: str, nm: int) -> Limits | None:
    """DIN 2093 takes h12 for a disc spring's outside and H12 for its inside; None for the rest and
    for sizes over 250 mm."""
    grade = next((um * NM_PER_UM for most, um in _GRADE_12 if nm <= most * NM_PER_MM), None)
    if grade is None or name not in ("outside", "bore"):
        return None
    source = "DIN 2093, ISO 286 grade 12"
    return Limits(-grade, 0, source) if name == "outside" else Limits(0, grade, source)


@cache
def _iso286(class_: str) -> tuple[Row, ...]:
    return tuple(row for row in read_table("iso286") if row["class"] == class_)


@lru_cache(maxsize=4096)
def iso286(class_: str, nm: int) -> Limits:
    """The limits of an ISO 286 class ("H7", "h9", "IT7") at a nominal size in nanometres.

    Capitals are holes, small letters shafts; "IT7" gives the width of the grade above zero.
    Raises InputError for a class or size the tables do not have.
    """
    rows = _iso286(class_)
    if not rows:
        raise InputError(
            f'no tolerance class is called "{visible(class_)}"', "For example H7 or h9."
        )
    row = _within(rows, nm, "up_to_mm")
    if row is None:
        raise InputError(
            f"{class_} is not in the tables for {mm_text(nm)}",
            f"They reach from {rows[0]['over_mm']} to {rows[-1]['up_to_mm']} mm.",
        )
    return _limits(row)


def sintered_bush_limits(name: str, nm: int) -> Limits | None:
    """ISO 2795 makes a loose sintered bush to G7 inside and s7 outside; None for the rest, and
    beyond the tables.

    s7 begins where s6 does and is as wide as IT7 (ISO 286-1: a deviation and a grade).
    """
    try:
        if name == "bore":
            return iso286("G7", nm)
        if name == "outside":
            least = iso286("s6", nm).lower
            return Limits(least, least + iso286("IT7", nm).upper, "ISO 2795, ISO 286 s7")
    except InputError:
        return None
    return None


def bolt_clearance(bore: int) -> int:
    """How much smaller than a washer's hole its bolt may be, in nanometres: what ISO 7089, DIN 127
    and ASME B18.21.1 have lies within, from M1.6 to the wide ones of the largest. Judged."""
    return min(bore * 15 // 100, NM_PER_MM + bore * 6 // 100)
