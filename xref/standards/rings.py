"""Row readers for inch retaining rings, E-clips and spring washers."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from functools import cache

from xref.domain.part import Part, Spelling, StoredSize
from xref.domain.size import NM_PER_INCH, inch_text
from xref.standards.rowreader import between, decimal_inch, make, mm, noted
from xref.tables import Row, read_table

BY_SHAFT = 0.9
"""MS16633 1/4 for MS16633 0.25x0.025: the ring of a shaft, whatever its thickness. Judged."""

_FORMS: Mapping[str, tuple[str, str]] = {
    "crescent": ("crescent ring", "crescent retaining ring for a shaft, inch"),
    "E": ("e-clip", "e-ring for a shaft, inch"),
    "external": ("external retaining ring", "retaining ring for a shaft, inch"),
    "internal": ("internal retaining ring", "retaining ring for a bore, inch"),
}

_ROUNDED = Fraction(7, 10_000)
"""Three-place names of sixty-fourths are off by up to this: 0.110 is 7/64 in. Judged."""


def named_inch(text: str) -> StoredSize:
    """An inch size that a table names to three places: 0.156 is 5/32 in; 0.236 stays a decimal."""
    value = Fraction(text)
    whole = round(value * 64)
    if abs(value - Fraction(whole, 64)) <= _ROUNDED:
        return StoredSize(round(Fraction(whole, 64) * NM_PER_INCH))
    return decimal_inch(text)


def plain_inch(size: StoredSize) -> str:
    """The size as a bare fraction ("5/32", "1-1/4"); "" where it is no sixty-fourth."""
    return (inch_text(size.value) or "").removesuffix(" in")


def ring_inch(row: Row) -> Part:
    """Inch rings by shaft or bore and thickness; the free diameter is the ring's own."""
    type_, words = _FORMS[row["form"]]
    inside = row["form"] == "internal"
    nominal, thickness = row["nominal_in"], row["thickness_in"]
    size = named_inch(nominal)
    sizes = {
        "housing" if inside else "shaft": size,
        "outside" if inside else "bore": decimal_inch(row["free_in"]),
        "thickness": decimal_inch(thickness),
        "groove": decimal_inch(row["groove_in"]),
        "groove-width": decimal_inch(row["groove_width_in"]),
    }
    others = _same_nominal(row)
    number = f"{row['standard']} {nominal}x{thickness}"
    shorter = [f"{row['standard']} {nominal}"]
    if any(other["thickness_in"] == thickness for other in others):
        shorter.append(number)
        number += f" groove {row['groove_in']}"
    spelled = [Spelling(number), *(Spelling(text, BY_SHAFT, "alias") for text in shorter)]
    if plain_inch(size) not in ("", nominal):
        spelled.append(Spelling(f"{row['standard']} {plain_inch(size)}", BY_SHAFT, "alias"))
    part = make(row, number, ("retaining ring", type_, words), sizes, spelled)
    more = ", ".join(
        f"{r['thickness_in']} in thick in a groove of {r['groove_in']}" for r in others
    )
    return noted(part, f"for the same shaft or bore there is one {more}" if more else "")


@cache
def _by_nominal() -> dict[tuple[str, str], list[Row]]:
    found: dict[tuple[str, str], list[Row]] = {}
    for row in read_table("retaining_ring_inch"):
        found.setdefault((row["standard"], row["nominal_in"]), []).append(row)
    return found


def _same_nominal(row: Row) -> list[Row]:
    """The other rings of this form for the same shaft or bore."""
    return [other for other in _by_nominal()[row["standard"], row["nominal_in"]] if other != row]


def e_clip(row: Row) -> Part:
    """E-clips of DIN 6799, named by the groove; ``shaft`` reaches from the least to the most."""
    groove = row["groove_mm"]
    shaft = mm(row["shaft_from_mm"])
    sizes = {
        "groove": mm(groove),
        "shaft": between(shaft, shaft, mm(row["shaft_to_mm"])),
        "outside": mm(row["outside_fitted_mm"]),
        "thickness": mm(row["thickness_mm"]),
    }
    if row["groove_width_mm"]:
        sizes["groove-width"] = mm(row["groove_width_mm"])
    number = f"DIN 6799-{groove}"
    words = "e-clip, retaining washer for a shaft"
    spelled = [Spelling(number), Spelling(f"E-CLIP {groove}", 0.8, "alias")]
    part = make(row, number, ("retaining ring", "e-clip", words), sizes, spelled)
    return noted(
        part,
        f"named by its groove, not its shaft: shafts of {row['shaft_from_mm']} to "
        f"{row['shaft_to_mm']} mm; the jaws open {row['opening_mm']} mm; "
        "outside is measured fitted",
    )


def spring_washer(row: Row) -> Part:
    """Spring washers of DIN 127 and ASME B18.21.1: flat ones, measured squashed flat."""
    unit = mm if row["unit"] == "mm" else decimal_inch
    least, most = row["inside_min"], row["inside_max"]
    bore = unit(least)
    sizes = {
        "bore": between(bore, bore, unit(most)) if most else bore,
        "outside": unit(row["outside_max"]),
        "thickness": unit(row["thickness"]),
    }
    nominal = row["nominal"]
    if row["unit"] == "mm":
        number = f"DIN 127 {nominal}"
        others = [f"DIN 127 {nominal.removeprefix('M')}", f"SPRING WASHER {nominal}"]
    else:
        number = f"ASME B18.21.1 spring {nominal}"
        size = nominal.removeprefix("regular ")
        others = [f"SPRING WASHER {size}"]
    spelled = [Spelling(number), *(Spelling(text, 0.9, "alias") for text in others)]
    words = f"spring washer, split, for {nominal.lower()}"
    part = make(row, number, ("washer", "spring washer", words), sizes, spelled)
    return noted(part, f"section {row['width']} x {row['thickness']} {row['unit']}")
