"""Row readers for what bearings sit on and in: inserts, needles, sleeves, blocks and bushes."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from xref.domain.part import BOUNDARY, Part, Spelling, StoredSize
from xref.domain.size import NM_PER_INCH
from xref.standards.rowreader import inch, make, mm, noted
from xref.tables import Row, read_table


def thrust_double(row: Row) -> Part:
    """Double-direction thrust ball bearings: bore of the shaft washer, width over everything."""
    number = row["designation"]
    cells = ("shaft_washer_bore_mm", "outer_mm", "height_mm")
    what = ("bearing", "double direction thrust ball", "thrust ball bearing, double direction")
    spelled = [Spelling(number, takes_suffix=True)]
    return make(row, number, what, _three(row, cells), spelled)


def _three(row: Row, columns: tuple[str, str, str]) -> dict[str, StoredSize]:
    return {name: mm(row[c]) for name, c in zip(BOUNDARY, columns, strict=True)}


def needle_roller(row: Row) -> Part:
    """Machined needle bearings beside NK, NKI and NA: RNA and NKS have no inner ring."""
    number = row["designation"]
    letters = re.match(r"[A-Z]+", number)
    series = letters[0] if letters else ""
    inner = "with inner ring" if row["inner_ring"] == "yes" else "without inner ring"
    what = ("bearing", f"needle roller {series}", f"needle roller bearing, {inner}")
    sizes = _three(row, ("bore_or_Fw_mm", "outer_mm", "width_mm"))
    return make(row, number, what, sizes, [Spelling(number, takes_suffix=True)])


def insert_bearing(row: Row) -> Part:
    """Insert bearings: width is the inner ring's, ring-width that of the ball-shaped outer one.

    The number after the dash of an inch bore is in sixteenths of an inch, exact.
    """
    number = row["designation"]
    sizes = _three(row, ("bore_mm", "outer_mm", "inner_ring_width_mm"))
    sizes["ring-width"] = mm(row["outer_ring_width_mm"])
    if row["type"].endswith("inch bore"):
        sixteenths = int(number.rpartition("-")[2])
        sizes["bore"] = StoredSize(sixteenths * NM_PER_INCH // 16)
    what = ("bearing", "insert bearing", row["type"].lower())
    part = make(row, number, what, sizes, [Spelling(number, takes_suffix=True)])
    return noted(part, "read the number before the width: makers' ring widths differ")


def sleeve(row: Row) -> Part:
    """Adapter and withdrawal sleeves: bore is the shaft, ``seat`` the bearing's bore."""
    number = row["designation"]
    sizes = {
        "bore": mm(row["shaft_mm"]),
        "seat": mm(row["bearing_bore_mm"]),
        "length": mm(row["length_mm"]),
    }
    part = make(row, number, ("other", row["kind"], row["kind"]), sizes, [Spelling(number)])
    fits = row["fits_bearing"].replace(" ", ", ")
    alone = row["fits_bearing_one_table"].replace(" ", ", ")
    holds = [text for text in (row["nut"], row["lock_washer"]) if text]
    return noted(
        part,
        f"thread {row['thread']}",
        f"with {' and '.join(holds)}" if holds else "",
        f"fits {fits}" if fits else "",
        f"fits {alone} (one table)" if alone else "",
        "fit by the maker's data: the drive-up sets the clearance left in the bearing",
    )


def plummer_block(row: Row) -> Part:
    """Split plummer blocks: shaft, housing bore, centre height, foot and bolts."""
    number = row["housing"]
    cells = (
        ("shaft", "shaft_mm"),
        ("housing", "seat_bore_mm"),
        ("centre-height", "centre_height_mm"),
        ("bolt-spacing", "bolt_spacing_mm"),
        ("length", "length_mm"),
    )
    sizes = {name: mm(row[column]) for name, column in cells if row[column]}
    spelled = [Spelling(number)]
    if row["housing_also_marked"]:
        spelled += [Spelling(text, 0.8, "alias") for text in _snl(row)]
    what = ("other", "plummer block", "plummer block, split")
    part = make(row, number, what, sizes, spelled)
    fits = row["fits"].replace(" | ", "; ")
    return noted(part, f"takes {fits}" if fits else "")


def _snl(row: Row) -> list[str]:
    """SNL 510-608 for SN 510, and SNL 510, or SNL 608 for SN 608: makers' letters."""
    whole = row["housing_also_marked"]
    short = row["housing"].replace("SN ", "SNL ")
    return [whole] if short == whole else [whole, short]


def bush_sintered(row: Row) -> Part:
    """Sintered plain bushes of ISO 2795, and those stocked beside it, one length a row."""
    three = (row["bore_mm"], row["outer_mm"], row["length_mm"])
    listed = row["standard"] == "ISO 2795"
    number = f"{'ISO 2795' if listed else 'sintered bush'} {'x'.join(three)}"
    what = ("bush", "sintered bush", f"plain bush, {row['material']}")
    sizes = _three(row, ("bore_mm", "outer_mm", "length_mm"))
    spelled = [Spelling(number), Spelling("x".join(three), 0.5, "alias")]
    return make(row, number, what, sizes, spelled)


def bush_wrapped_inch(row: Row) -> Part:
    """Inch wrapped bushes, one length a row; the fractions are exact."""
    three = (row["bore_inch"], row["outer_inch"], row["length_inch"])
    number = "x".join(text.replace(" ", "-") for text in three) + " in"
    sizes = {name: inch(text) for name, text in zip(BOUNDARY, three, strict=True)}
    what = ("bush", "wrapped bush, inch", "wrapped bush, inch")
    return make(row, number, what, sizes, [Spelling(number)], f"bush inch {number}")


def felt_ring(row: Row) -> Part:
    """Felt rings by shaft: the felt's own bore is less than the shaft."""
    number = f"felt ring {row['shaft_mm']}"
    sizes = {
        "shaft": mm(row["shaft_mm"]),
        **_three(row, ("felt_inner_mm", "felt_outer_mm", "felt_width_mm")),
        "groove": mm(row["groove_outer_mm"]),
    }
    what = ("other", "felt ring", "felt sealing ring for a shaft")
    return make(row, number, what, sizes, [Spelling(number)])


@cache
def _sleeves_by_bearing() -> dict[str, tuple[Row, ...]]:
    found: dict[str, tuple[Row, ...]] = {}
    for row in read_table("sleeve"):
        for name in (*row["fits_bearing"].split(), *row["fits_bearing_one_table"].split()):
            found[name] = (*found.get(name, ()), row)
    return found


def sleeves_of(bearing: str) -> str:
    """The sleeves that a bearing with a tapered bore ("1210K") sits on, in words; "" for none."""
    told = []
    for row in _sleeves_by_bearing().get(bearing, ()):
        holds = ", ".join(text for text in (row["nut"], row["lock_washer"]) if text)
        with_ = f" with {holds}" if holds else ""
        one = " (one table)" if bearing in row["fits_bearing_one_table"].split() else ""
        told.append(f"{row['kind']} {row['designation']}{with_}, shaft {row['shaft_mm']} mm{one}")
    return f"tapered bore: {' or '.join(told)}; fit by the maker's data" if told else ""


@dataclass(frozen=True, slots=True)
class Holder:
    """A nut or lock washer of sleeves. ``sizes`` are in nanometres; ``mate`` is the other of the
    two, "" where the table names none.
    """

    thread: str
    mate: str
    sleeves: tuple[str, ...]
    sizes: Mapping[str, int]
    tables_agreeing: int


def held_by(number: str) -> Holder | None:
    """The nut (KM10) or lock washer (MB10) that the sleeves of the table name; None for others."""
    rows = [row for row in read_table("sleeve") if number in (row["nut"], row["lock_washer"])]
    if not rows:
        return None
    first = rows[0]
    sizes = {}
    if number == first["nut"]:
        across, _, pitch = first["thread"].removeprefix("M").partition("x")
        sizes = {"diameter": mm(across).value, "pitch": mm(pitch).value}
        if first["nut_outer_mm"]:
            sizes["outside"] = mm(first["nut_outer_mm"]).value
    mate = first["lock_washer"] if number == first["nut"] else first["nut"]
    sleeves = tuple(row["designation"] for row in rows)
    agreeing = max(int(row["tables_agreeing"] or 1) for row in rows)
    return Holder(first["thread"], mate, sleeves, sizes, agreeing)
