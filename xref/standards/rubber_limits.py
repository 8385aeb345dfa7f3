"""How far new rubber may be from its size: ISO 3302-1 for mouldings and extrusions."""

from __future__ import annotations

from xref.domain.size import NM_PER_MM
from xref.standards.tolerance import Limits
from xref.tables import read_table

EXTRUSION_CLASS = "class_3"
MOULDING_CLASS = "M3_C"
"""E3 and M3 across the closing face, the widest usual ones: what class a strip was made to is
hardly ever known. Judged."""


def extrusion_limits(nm: int) -> Limits | None:
    """The deviation of an extruded section of ``nm`` nanometres (class E3); None above 100 mm."""
    return _limits("rubber_extrusion_tolerance", EXTRUSION_CLASS, nm, "cross section E1 E2 E3")


def moulding_limits(nm: int) -> Limits | None:
    """The deviation of a moulded size of ``nm`` nanometres (class M3 C); None above 160 mm."""
    return _limits("rubber_mould_tolerance", MOULDING_CLASS, nm)


def _limits(table: str, column: str, nm: int, what: str = "") -> Limits | None:
    mm = nm / NM_PER_MM
    for row in read_table(table):
        if row["unit"] != "mm" or row.get("what", "") != what:
            continue
        if float(row["over_mm"]) < mm <= float(row["up_to_mm"]):
            allowed = round(float(row[column]) * NM_PER_MM)
            return Limits(-allowed, allowed, row["standard"])
    return None
