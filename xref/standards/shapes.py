"""Row readers for splines, tool tapers and rubber strip."""

from __future__ import annotations

from functools import cache

from xref.domain.part import Part, Spelling, StoredSize
from xref.domain.size import NM_PER_MM
from xref.standards.rowreader import decimal_inch, inch, make, mm, noted, within
from xref.tables import Row, read_table


def spline(row: Row) -> Part:
    """Straight-sided splines: count × minor × major, and the width of a key."""
    number = row["designation"].replace(" ", "")
    sizes = {
        "splines": StoredSize(int(row["splines"])),
        "minor": mm(row["minor_d_mm"]),
        "major": mm(row["major_D_mm"]),
        "width": mm(row["width_b_mm"]),
    }
    words = f"straight-sided spline, {row['series']} series"
    return make(row, number, ("other", "spline", words), sizes, [Spelling(number)])


_TAPERS = {"MT": ("morse taper", "MORSE"), "JT": ("jacobs taper", "JACOBS")}


def tool_taper(row: Row) -> Part:
    """Morse and Jacobs tapers by their two ends; the inch figures are the standard's."""
    number = row["taper"]
    letters, _, size = number.partition(" ")
    type_, full = _TAPERS[letters]
    sizes = {
        "large-end": decimal_inch(row["large_end_inch"]),
        "small-end": decimal_inch(row["small_end_inch"]),
        "length": inch(row.get("shank_length_inch") or row["length_inch"]),
    }
    spelled = [Spelling(number), Spelling(f"{full} {size}", 1.0, "alias")]
    part = make(row, number, ("other", type_, f"{type_}, shank"), sizes, spelled)
    per_foot = row.get("taper_per_foot", "")
    return noted(part, f"tapers {per_foot} in on diameter to the foot" if per_foot else "")


def rubber_cord(row: Row) -> Part:
    """Rubber cord and strip by section: round (``diameter``), else ``width`` and ``thickness``.

    The tolerance is the wider of the soft and the harder rubber's. A rectangle's is that of its
    width; its thickness takes what the same table gives a square of that size.
    """
    thick, wide = row["size_a_mm"], row["size_b_mm"]
    if row["shape"] == "round":
        sizes = {"diameter": _within(thick, row)}
    else:
        side = _squares().get(thick)
        sizes = {
            "width": _within(wide, row),
            "thickness": _within(thick, side) if side else mm(thick),
        }
    number = f"GOST 6467 {'D' if not wide else ''}{thick}{f'x{wide}' if wide else ''}"
    shape = "rubber cord, round" if not wide else f"rubber strip, {row['shape']}"
    return noted(
        make(row, number, ("strip", shape.replace(",", ""), shape), sizes, [Spelling(number)]),
        f"made {_hardness()}",
    )


def _within(text: str, row: Row) -> StoredSize:
    widest = max(row["tol_soft_mm"], row["tol_medium_hard_mm"], key=float)
    return within(mm(text), widest, NM_PER_MM)


@cache
def _squares() -> dict[str, Row]:
    return {r["size_a_mm"]: r for r in read_table("rubber_cord") if r["shape"] == "square"}


@cache
def _hardness() -> str:
    bands = (
        f"{row['standard'].removeprefix('GOST 6467-79 ').partition(' (')[0]} "
        f"{row['low']} to {row['high']} IRHD"
        for row in read_table("rubber_hardness")
    )
    return ", ".join(bands)
