"""Row readers for O-rings, rotary shaft seals and plain bushes."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from xref.domain.part import BOUNDARY, Part, Spelling, StoredSize
from xref.domain.size import NM_PER_INCH, NM_PER_MM
from xref.standards.rowreader import make, mm, within
from xref.tables import Row

BARE_NUMBER = 0.5
"""A dash number alone: common, but many other things are three digits. Judged."""
DIGITS_ALONE = 0.5
"""202320 for a bush 20x23x20, 355207 for a seal: common trade usage. Judged."""
SHAFT_AND_BORE = 0.3
"""035052, the JIS B 2402-1 size code of shaft and bore: the width is left open. Judged."""


def oring_as568(row: Row) -> Part:
    """O-rings by AS568 dash number; the inch figures are the standard's own."""
    dash = row["dash"]
    sizes = {
        "inside": within(_inch(row["id_in"]), row["id_tol_in"], NM_PER_INCH),
        "section": within(_inch(row["cs_in"]), row["cs_tol_in"], NM_PER_INCH),
    }
    what = ("o-ring", "o-ring", "o-ring" if "gland" in row["kind"] else f"o-ring, {row['kind']}")
    if row["in_as568"] == "yes":
        spelled = [Spelling(f"AS568-{dash}"), *_dash_spellings(dash)]
        return make(row, f"AS568-{dash}", what, sizes, spelled, f"o-ring {dash}")
    # The standard's own name for it would be untrue; it is still asked for so.
    spelled = [*_dash_spellings(dash)[:1], Spelling(f"2-{dash}"), Spelling(f"AS568-{dash}", 0.2)]
    part = make(row, f"2-{dash}", what, sizes, spelled, f"o-ring {dash}")
    return _with_note(part, "numbered in the trade after AS568, but not listed in it")


def _inch(text: str) -> StoredSize:
    """An O-ring's inch figure is a decimal by definition, never a rounded fraction."""
    return StoredSize(int(Decimal(text) * NM_PER_INCH))


def _dash_spellings(dash: str) -> list[Spelling]:
    before = "3" if dash.startswith("9") else "2"  # boss gaskets; common usage
    named = Spelling(f"{before}-{dash}", BARE_NUMBER, "alias")
    return [Spelling(dash, BARE_NUMBER, "alias"), named]


def oring_iso3601(row: Row) -> Part:
    """O-rings of ISO 3601-1 (the same rings as the dash numbers) and of JIS B 2401."""
    sizes = {
        "inside": within(mm(row["d1_mm"]), row["d1_tol_mm"], NM_PER_MM),
        "section": within(mm(row["d2_mm"]), row["d2_tol_mm"], NM_PER_MM),
    }
    number = row["designation"]
    if row["standard"] == "ISO 3601-1":
        full = f"ISO 3601-{number}"
        spelled = [Spelling(full), *_dash_spellings(number)]
        return make(row, full, ("o-ring", "o-ring", "o-ring"), sizes, spelled, f"o-ring {number}")
    use = row["series"].partition("(")[2].rstrip(")")
    words = f"o-ring, {use}"
    return make(row, number, ("o-ring", "o-ring", words), sizes, [Spelling(number)])


_LISTED = {
    "yes": "",
    "no": "a trade size, not listed in ISO 6194-1",
    "disputed": "one source lists it in ISO 6194-1, another could not find it there",
    "unknown": "from a trade list; whether ISO 6194-1 lists it is not known",
}
"""What to say of a seal size by the table's column on ISO 6194-1."""


def shaft_seal(row: Row) -> Part:
    """Rotary shaft seals: shaft, housing bore and width are nominal, none is the rubber's own."""
    three = (row["shaft_d1_mm"], row["bore_D_mm"], row["width_b_mm"])
    number = "x".join(three)
    sizes = {name: mm(text) for name, text in zip(BOUNDARY, three, strict=True)}
    spelled = [Spelling(number, takes_suffix=True), Spelling("-".join(three), 1.0, "alias", True)]
    if all(text.isdigit() for text in three):
        shaft_and_bore = "".join(text.zfill(3) for text in three[:2])
        spelled.append(Spelling(shaft_and_bore, SHAFT_AND_BORE, "alias"))
    code = _digits(three)
    if len(code) == 6:
        spelled.append(Spelling(code, DIGITS_ALONE, "alias"))
    what = ("shaft seal", "rotary shaft seal", "rotary shaft lip seal")
    part = make(row, number, what, sizes, spelled)
    return _with_note(part, _LISTED[row["listed_in_iso6194_1"].partition(" (")[0]])


def _digits(three: tuple[str, str, str]) -> str:
    """Three whole sizes run together, two digits or more each (355207); "" where one is broken."""
    return "".join(text.zfill(2) for text in three) if all(t.isdigit() for t in three) else ""


def _with_note(part: Part, said: str) -> Part:
    return replace(part, note="; ".join(text for text in (part.note, said) if text))


def bush(row: Row) -> Part:
    """Wrapped bushes of ISO 3547 and solid ones to ISO 4379; width is the length."""
    three = (row["d_mm"], row["D_mm"], row["L_mm"])
    number = "x".join(three)
    type_ = "wrapped bush" if row["type"].startswith("wrapped") else "solid bush"
    sizes = {name: mm(text) for name, text in zip(BOUNDARY, three, strict=True)}
    spelled = [Spelling(number)]
    if code := _digits(three):
        spelled.append(Spelling(code, DIGITS_ALONE, "alias"))
    return make(row, number, ("bush", type_, type_), sizes, spelled, f"{type_} {number}")
