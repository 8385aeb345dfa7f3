"""Row reader for the O-rings of GOST 9833: numbered by rod, cylinder and section."""

from __future__ import annotations

from xref.domain.part import Part, Spelling
from xref.standards.rowreader import make, mm, noted
from xref.tables import Row


def oring_gost(row: Row) -> Part:
    """The number names rod and cylinder; the ring itself is smaller inside than the rod."""
    number = row["designation"]
    cells = (
        ("inside", "inside_mm"),
        ("section", "section_mm"),
        ("shaft", "rod_mm"),
        ("housing", "cylinder_mm"),
    )
    sizes = {name: mm(row[column]) for name, column in cells}
    spelled = [Spelling(number), Spelling(f"GOST 9833 {number}", 1.0, "alias")]
    part = make(row, number, ("o-ring", "o-ring", "o-ring, metric"), sizes, spelled)
    return noted(part, "the number is rod, cylinder and section in tenths, not the ring's inside")
