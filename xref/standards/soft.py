"""Row readers for O-rings, rotary shaft seals and plain bushes."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from xref.domain.part import Part, Spelling, StoredSize
from xref.standards.rowreader import NM_PER_INCH, NM_PER_MM, make, mm, within
from xref.tables import Row

BARE_NUMBER = 0.5
"""A dash number alone: common, but many other things are three digits. Judged."""


def oring_as568(row: Row) -> Part:
    """O-rings by AS568 dash number; the inch figures are the standard's own."""
    dash = row["dash"]
    sizes = {
        "inside": within(_inch(row["id_in"]), row["id_tol_in"], NM_PER_INCH),
        "section": within(_inch(row["cs_in"]), row["cs_tol_in"], NM_PER_INCH),
    }
    what = ("o-ring", "o-ring", "o-ring" if "gland" in row["kind"] else f"o-ring, {row['kind']}")
    spelled = [Spelling(f"AS568-{dash}"), *_dash_spellings(dash)]
    return make(row, f"AS568-{dash}", what, sizes, spelled, f"o-ring {dash}")


def _inch(text: str) -> StoredSize:
    """An O-ring's inch figure is a decimal by definition, never a rounded fraction."""
    return StoredSize(int(Decimal(text) * NM_PER_INCH))


def _dash_spellings(dash: str) -> list[Spelling]:
    return [Spelling(dash, BARE_NUMBER, "alias"), Spelling(f"2-{dash}", BARE_NUMBER, "alias")]


def oring_iso3601(row: Row) -> Part:
    """O-rings of ISO 3601-1 (the same rings as the dash numbers) and of JIS B 2401."""
    sizes = {
        "inside": within(mm(row["d1_mm"]), row["d1_tol_mm"], NM_PER_MM),
        "section": within(mm(row["d2_mm"]), row["d2_tol_mm"], NM_PER_MM),
    }
    number = row["designation"]
    if row["standard"] == "ISO 3601-1":
        spelled = [Spelling(f"ISO 3601-{number}", BARE_NUMBER), *_dash_spellings(number)]
        full = f"ISO 3601-1 {number}"
        return make(row, full, ("o-ring", "o-ring", "o-ring"), sizes, spelled, f"o-ring {number}")
    words = f"o-ring, series {row['series']}"
    return make(row, number, ("o-ring", "o-ring", words), sizes, [Spelling(number)])


def shaft_seal(row: Row) -> Part:
    """Rotary shaft seals: shaft, housing bore and width are nominal, none is the rubber's own."""
    shaft, bore, width = row["shaft_d1_mm"], row["bore_D_mm"], row["width_b_mm"]
    number = f"{shaft}x{bore}x{width}"
    sizes = {"bore": mm(shaft), "outside": mm(bore), "width": mm(width)}
    spelled = [Spelling(number, takes_suffix=True)]
    what = ("shaft seal", "rotary shaft seal", "rotary shaft seal")
    if all(text.isdigit() and len(text) <= 2 for text in (shaft, bore, width)):
        code = f"{int(shaft):02}{int(bore):02}{int(width):02}"
        if code != number.replace("x", ""):
            spelled.append(Spelling(code, 0.5, "alias"))
    part = make(row, number, what, sizes, spelled)
    return part if row["listed_in_iso6194_1"] == "yes" else _not_listed(part)


def _not_listed(part: Part) -> Part:
    said = "a trade size, not listed in ISO 6194-1"
    return replace(part, note="; ".join(text for text in (part.note, said) if text))


def bush(row: Row) -> Part:
    """Wrapped bushes of ISO 3547 and solid ones to ISO 4379; width is the length."""
    d, outside, length = row["d_mm"], row["D_mm"], row["L_mm"]
    number = f"{d}x{outside}x{length}"
    wrapped = row["type"].startswith("wrapped")
    type_ = "wrapped bush" if wrapped else "solid bush"
    sizes = {"bore": mm(d), "outside": mm(outside), "width": mm(length)}
    spelled = [Spelling(number)]
    return make(row, number, ("bush", type_, type_), sizes, spelled, f"{type_} {number}")
