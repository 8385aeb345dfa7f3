"""Published limits of size: ISO 492 Normal class for bearings, ISO 286 for shafts and holes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from xref.domain.number import visible
from xref.domain.size import NM_PER_MM, mm_text
from xref.errors import InputError
from xref.tables import Row, read_table

_RADIAL = "radial bearings except tapered"
_TAPER = "metric tapered roller (Normal)"

_GROUP_OF = {
    **dict.fromkeys(
        (
            "deep groove ball",
            "double row deep groove ball",
            "angular contact ball, single row",
            "angular contact ball, double row",
            "self-aligning ball",
            "spherical roller",
            "needle roller NK",
            "needle roller NKI",
            "needle roller NA",
            *(f"cylindrical roller {form}" for form in ("N", "NU", "NJ", "NUP")),
        ),
        _RADIAL,
    ),
    "tapered roller": _TAPER,
}
"""The types ISO 492 covers, by its tables. Thrust bearings follow ISO 199, inch tapers ABMA 19.2
and drawn cups ISO 3245: no limits of those are in the tables, and none are pretended."""

_ONLY_OUTSIDE = ("needle roller NK",)
"""Without an inner ring the bore is the circle the needles leave, which ISO 492 does not limit,
and there is no bore by which to look the width up."""

_PARAMETER = {
    _RADIAL: {
        "bore": ("delta_dmp", "bore"),
        "outside": ("delta_Dmp", "outside"),
        "width": ("delta_Bs", "bore"),
    },
    _TAPER: {
        "bore": ("delta_dmp", "bore"),
        "outside": ("delta_Dmp", "outside"),
        "width": ("delta_Ts", "bore"),
        "cone-width": ("delta_Bs", "bore"),
    },
}
"""Which row limits a size, and by which size that row is looked up."""


@dataclass(frozen=True, slots=True)
class Limits:
    """The published deviations from nominal, ``lower`` to ``upper``, in nanometres.

    ``note`` says where one table disagrees; "" where none does.
    """

    lower: int
    upper: int
    source: str
    note: str = ""


def bearing_limits(type_: str, name: str, sizes: Mapping[str, int]) -> Limits | None:
    """The Normal class limits of ISO 492 for one size of a bearing.

    ``name`` is bore, outside, width (of a taper the assembled T) or cone-width, ``sizes`` the
    bearing's nominal sizes in nanometres. None where no limit is published in our tables: other
    types, other sizes, beyond the ranges, or the size that picks the row is unknown.
    """
    group = _GROUP_OF.get(type_)
    if group is None or (type_ in _ONLY_OUTSIDE and name != "outside"):
        return None
    parameter, by = _PARAMETER[group].get(name, ("", ""))
    nominal = sizes.get(by)
    if nominal is None:
        return None
    row = _within(_bearing_rows(group, parameter), nominal, "over_mm", "incl_mm")
    return _limits(row, f"{row['standard']} Normal class") if row else None


def iso286(class_: str, nm: int) -> Limits:
    """The limits of a tolerance class ("H7", "g6") at ``nm`` nanometres nominal.

    For a grade alone ("IT7") lower is 0 and upper its width. Capital letters are holes, small
    ones shafts. Raises InputError for a class or a size that is not in the table (up to 500 mm).
    """
    rows = _class_rows().get(class_.strip())
    if rows is None:
        raise InputError(
            f'tolerance class "{visible(class_)}" is not in the table',
            "Classes: " + ", ".join(_class_rows()) + ".",
        )
    row = _within(rows, nm, "over_mm", "up_to_mm")
    if row is None:
        raise InputError(
            f"{class_.strip()} has no limits for {mm_text(nm)}",
            f"The table runs to {rows[-1]['up_to_mm']} mm.",
        )
    return _limits(row, row["standard"])


@cache
def _bearing_rows(group: str, parameter: str) -> tuple[Row, ...]:
    return tuple(
        row
        for row in read_table("iso492_normal")
        if row["bearing_group"] == group and row["parameter"] == parameter
    )


@cache
def _class_rows() -> dict[str, tuple[Row, ...]]:
    found: dict[str, tuple[Row, ...]] = {}
    for row in read_table("iso286"):
        found[row["class"]] = (*found.get(row["class"], ()), row)
    return found


def _within(rows: tuple[Row, ...], nm: int, over: str, up_to: str) -> Row | None:
    """The row whose range holds ``nm``: over the one end, up to and including the other."""
    for row in rows:
        if float(row[over]) * NM_PER_MM < nm <= float(row[up_to]) * NM_PER_MM:
            return row
    return None


def _limits(row: Row, source: str) -> Limits:
    lower, upper = (round(float(row[end]) * 1000) for end in ("lower_um", "upper_um"))
    return Limits(lower, upper, source, row["table_note"])
