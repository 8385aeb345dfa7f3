"""How far new rubber may be from its size: ISO 3302-1 for mouldings and extrusions."""

from __future__ import annotations

from xref.domain.part import Part, is_plain_number
from xref.domain.size import NM_PER_MM
from xref.domain.words import split_words
from xref.standards.tolerance import Limits
from xref.tables import read_table

EXTRUSION_CLASS = "class_3"
MOULDING_CLASS = "M3_C"
"""E3 and M3 across the closing face, the widest usual ones: what class a strip was made to is
hardly ever known. Judged."""


STRIP_SECTION = ("width", "thickness", "height", "diameter")
"""Sizes of a strip's section; its length is cut."""

MOULDED = frozenset({"moulded", "molded", "rubber", "nbr", "epdm", "neoprene", "silicone"})
"""Words by which a gasket is known for rubber from a mould: paper, cork and copper ones are cut."""


def rubber_limits(part: Part, name: str) -> Limits | None:
    """How far the size ``name`` of a new strip, boot or gasket may be off, by how it is made.

    Strip is extruded unless its description says moulded; boots are moulded; gaskets only where
    the description names rubber. Common practice, no published source. None for all other parts,
    for a strip's length, and beyond the tables. O-rings are not covered: ISO 3302-1 leaves them to
    their own standard.
    """
    if name not in part.sizes or is_plain_number(name):
        return None
    words = set(split_words(part.words))
    nm = part.sizes[name].value
    if part.kind == "strip":
        if name not in STRIP_SECTION:
            return None
        return moulding_limits(nm) if words & {"moulded", "molded"} else extrusion_limits(nm)
    if part.kind == "boot" or (part.kind == "gasket" and words & MOULDED):
        return moulding_limits(nm)
    return None


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
