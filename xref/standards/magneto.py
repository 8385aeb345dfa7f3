"""Row readers for magneto bearings and spherical plain bearings."""

from __future__ import annotations

import re

from xref.domain.part import BOUNDARY, Part, Spelling, StoredSize
from xref.standards.rowreader import make, mm, noted
from xref.tables import Row

COMES_APART = "the outer ring lifts off: keep it with its own inner ring and cage"
PLUS_OUTSIDE = "the outside of the E series carries a plus tolerance, of EN the normal one"


def _three(row: Row, columns: tuple[str, str, str]) -> dict[str, StoredSize]:
    return {name: mm(row[c]) for name, c in zip(BOUNDARY, columns, strict=True)}


def magneto(row: Row) -> Part:
    """Magneto bearings: a ball bearing with one shoulder, whose outer ring lifts off."""
    number = row["designation"]
    spelled = [Spelling(number, takes_suffix=True)]
    what = ("bearing", "magneto ball", "magneto ball bearing")
    part = make(row, number, what, _three(row, ("d_mm", "D_mm", "B_mm")), spelled)
    return noted(part, PLUS_OUTSIDE if number.startswith("E") else "", COMES_APART)


def spherical_plain(row: Row) -> Part:
    """Spherical plain bearings: width is the inner ring's, ring-width the outer one's."""
    number = row["designation"]
    sizes = _three(row, ("bore_mm", "outside_mm", "inner_width_mm"))
    sizes["ring-width"] = mm(row["outer_width_mm"])
    spelled = [Spelling(number, takes_suffix=True)]
    found = re.match(r"(GEH?\d+)E", number)
    stem = found[1] if found else number
    others = (f"{stem}E", f"{stem}ES", f"{stem}ES-2RS", f"{stem}DO")
    spelled += [Spelling(text, 0.9, "alias") for text in others if text != number]
    what = ("bearing", "spherical plain", "spherical plain bearing, steel on steel")
    part = make(row, number, what, sizes, spelled)
    return noted(
        part,
        f"tilts {row['tilt_deg']}°",
        "rings of the same sizes run dry or greased: look for a groove and holes",
    )
