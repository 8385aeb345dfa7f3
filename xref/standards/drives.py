"""Row readers for roller chains and V-belts."""

from __future__ import annotations

import re
from functools import cache

from xref.designation.drives import inch_lengths
from xref.domain.part import Part, Spelling, StoredSize
from xref.domain.size import NM_PER_MM
from xref.standards.rowreader import inch, make, mm, noted
from xref.tables import Row, read_table

OTHER_STANDARD = 0.3
"""40 for 08A-1: two or three digits that many other things have. Judged."""

ONE_STRAND = 0.9
"""08B for 08B-1: usual. Judged."""

MEASURE_TEN = "measure over ten pitches pulled tight (pitch=127mm/10): a worn chain reads long"


def roller_chain(row: Row) -> Part:
    """Roller and bush chains by pitch, roller, inner width and strands (``rows``)."""
    text = row["pitch_inch"]
    sizes = {"pitch": mm(row["pitch_mm"]) if "mm" in text else inch(text)}
    cells = (
        ("roller", "roller_dia_max_mm"),
        ("inner-width", "inner_width_min_mm"),
        ("pin", "pin_dia_max_mm"),
        ("height", "inner_plate_height_max_mm"),
        ("strand-pitch", "transverse_pitch_mm"),
    )
    sizes |= {name: mm(row[column]) for name, column in cells if row[column]}
    sizes["rows"] = StoredSize(int(row["strands"]))
    number = row["designation"]
    spelled = [Spelling(number)]
    if row["strands"] == "1":
        spelled.append(Spelling(row["chain_no"], ONE_STRAND, "alias"))
    if row["asme_no"]:
        spelled.append(Spelling(f"ASME {row['asme_no']}", 1.0, "alias"))
        spelled.append(Spelling(row["asme_no"], OTHER_STANDARD, "alias"))
    made = "bush chain" if row["is_bush_chain"] else "roller chain"
    strands = {"1": "single", "2": "double", "3": "triple"}[row["strands"]]
    part = make(row, number, ("chain", made, f"{made}, {strands} strand"), sizes, spelled)
    return noted(part, MEASURE_TEN)


def v_belt(row: Row) -> Part:
    """The section of a V-belt, without a length: top width and height, and what its number means.

    Where the section is an inch and a metric one, the width reaches from the one to the other.
    """
    section = row["section"]
    number = f"V-BELT {section}"
    others = [text.strip() for text in row["alias"].split(",")]
    plain = [text for text in others if re.fullmatch(r"[0-9A-Z.]+", text)]
    spelled = [Spelling(number), *(Spelling(f"V-BELT {t}", 0.5, "alias") for t in plain)]
    if len(section) > 2:
        spelled.append(Spelling(section, 0.9, "alias"))
    what = ("belt", f"v-belt, {_family(row)}", f"v-belt section {section}, {row['family']}".lower())
    part = make(row, number, what, _section(row), spelled)
    near = [text for text in others if "near" in text]
    means = f"the number on it is: {row['number_means']}"
    return noted(part, means, f"near-twin: {', '.join(near)}" if near else "")


def _family(row: Row) -> str:
    return "wedge" if "narrow" in row["family"] else "classical"


def _section(row: Row) -> dict[str, StoredSize]:
    cells = (("top-width", "top_width_mm"), ("height", "height_mm"))
    sizes = {name: mm(row[column]) for name, column in cells if row[column]}
    for name, column in (("top-width", "top_width_inch"), ("height", "height_inch")):
        cell = row[column].partition(" (")[0]
        if cell:
            metric = sizes[name].value
            off = inch(cell).value - metric
            sizes[name] = StoredSize(metric, min(off, 0), max(off, 0))
    return sizes


@cache
def _sections() -> dict[str, Row]:
    return {row["section"]: row for row in read_table("v_belt")}


def v_belt_inch(row: Row) -> Part:
    """One V-belt by its inch number: A46 is 46 in around the inside, 3V250 25.0 in outside.

    Above number 210 a classical belt is shorter than its number says.
    """
    section = _sections()[row["section"]]
    sizes = _section(section)
    around = inch_lengths(row["section"], int(row["inside_inch"])) if row["inside_inch"] else None
    if around is None:
        sizes["outside-length"] = _length(mm(row["outside_mm"]).value, narrow=True)
    else:
        inside, outside = around
        sizes["inside-length"] = _length(inside, narrow=False)
        sizes["outside-length"] = _length(outside, narrow=False)
        if row["pitch_mm"]:
            sizes["length"] = _length(mm(row["pitch_mm"]).value, narrow=False)
    words = f"v-belt, section {row['section'].lower()}, {_family(section)}"
    what = ("belt", f"v-belt, {_family(section)}", words)
    part = make(row, row["number"], what, sizes, [Spelling(row["number"])])
    return noted(
        part,
        "length is the pitch length" if "length" in sizes else "",
        "how far its length may be off is taken from metric belts",
    )


def _length(nominal: int, *, narrow: bool) -> StoredSize:
    """A belt's length with its limits: DIN 2215 for classical belts, DIN 7753-1 for narrow ones.

    Below and above the ranges of the table there are none.
    """
    standard = "DIN 7753-1 / ISO 4184" if narrow else "DIN 2215 / ISO 4184"
    for row in read_table("v_belt_tolerance"):
        in_range = mm(row["over_mm"]).value < nominal <= mm(row["up_to_mm"]).value
        if row["standard"] == standard and in_range:
            plus, minus = (round(float(row[c]) * NM_PER_MM) for c in ("plus_mm", "minus_mm"))
            return StoredSize(nominal, -minus, plus)
    return StoredSize(nominal)
