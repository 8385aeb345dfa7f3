"""Row readers for motorcycle and agricultural chain."""

from __future__ import annotations

from xref.domain.part import Part, Spelling, StoredSize
from xref.domain.size import NM_PER_INCH, NM_PER_MM
from xref.standards.drives import MEASURE_TEN
from xref.standards.rowreader import make, mm, noted
from xref.tables import Row

BARE_NUMBER = 0.3
"""520 for chain 520: three digits that many other things have. Judged."""

STRENGTHS = (
    "letters after the number tell plates and seals (H heavier plates, O or X sealed), not sizes"
)


def motorcycle(row: Row) -> Part:
    """Motorcycle chain: the first digit is eighths of an inch of pitch."""
    digits = row["designation"]
    sizes = _sizes(row)
    sizes["pitch"] = StoredSize(int(digits[0]) * NM_PER_INCH // 8)
    number = f"chain {digits}"
    spelled = [Spelling(number), Spelling(digits, BARE_NUMBER, "alias")]
    what = ("chain", "roller chain", "roller chain, motorcycle, single strand")
    return noted(make(row, number, what, sizes, spelled), STRENGTHS, MEASURE_TEN)


def agricultural(row: Row) -> Part:
    """Steel agricultural roller chain, S and its like."""
    number = row["designation"]
    sizes = _sizes(row)
    sizes |= {"pin": mm(row["pin_dia_mm"]), "height": mm(row["plate_height_mm"])}
    what = ("chain", "agricultural chain", "roller chain, agricultural")
    spelled = [Spelling(number)]
    return noted(make(row, number, what, sizes, spelled), _over_ten(row))


def _sizes(row: Row) -> dict[str, StoredSize]:
    cells = (("pitch", "pitch_mm"), ("roller", "roller_dia_mm"), ("inner-width", "inner_width_mm"))
    return {name: mm(row[column]) for name, column in cells} | {"rows": StoredSize(1)}


def _over_ten(row: Row) -> str:
    ten = mm(row["pitch_mm"]).value * 10 / NM_PER_MM
    return f"measure over ten pitches pulled tight, new {ten:g} mm: a worn chain reads long"
