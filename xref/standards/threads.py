"""Row readers for threads, the hexagons that go with them, and grease nipples."""

from __future__ import annotations

import re
from decimal import Decimal
from fractions import Fraction
from functools import cache

from xref.domain.part import Part, Spelling, StoredSize
from xref.domain.size import NM_PER_INCH, mm_text
from xref.standards.rowreader import between, decimal_inch, inch, make, mm, noted
from xref.tables import Row, read_table

_IN_MM = ("ISO metric", "BA", "BSP")
"""Systems whose diameters are defined in millimetres; the others are inch sizes."""

SHORTER = 0.8
"""3/8 UNC for 3/8-16 UNC, 1/4 BSP for G 1/4: common trade usage. Judged."""


def thread(row: Row) -> Part:
    """One thread by its diameter over the crests and its pitch."""
    number, series = row["designation"], row["series"]
    sizes = {"diameter": _under_nominal(_diameter(row), row), "pitch": _pitch(row)}
    if hole := _in_the_nut(row):
        sizes["minor"] = hole
    spelled = [Spelling(number), *_other_names(row)]
    part = make(row, number, ("thread", _type(series), f"thread, {series.lower()}"), sizes, spelled)
    taper = "tapered 1:16: the diameter is that of the table, not one to measure anywhere"
    return noted(part, taper if row["taper"] else "", _turns(row))


def _diameter(row: Row) -> StoredSize:
    if row["series"].startswith(_IN_MM):
        return mm(row["major_diameter_mm"])
    return inch(row["major_diameter_in"])


def _pitch(row: Row) -> StoredSize:
    if row["series"].startswith(("ISO metric", "BA")):
        return mm(row["pitch_mm"])
    return StoredSize(round(NM_PER_INCH / Fraction(row["tpi"])))


def _turns(row: Row) -> str:
    metric = row["series"].startswith(("ISO metric", "BA"))
    return "" if metric else f"{row['tpi']} threads to the inch, {row['flank_angle_deg']}° flanks"


def _under_nominal(size: StoredSize, row: Row) -> StoredSize:
    """A bolt is made under its nominal diameter: by up to the allowance and tolerance 6g.

    ISO 965-1 (from memory): es = 15 + 11 P and Td = 180 P^⅔ − 3.15 / √P, in micrometres for P in
    millimetres. It is taken for inch threads too, whose own limits are of that order. Judged.
    """
    pitch = _pitch(row).value / 1_000_000
    most = 15 + 11 * pitch + 180 * pitch ** (2 / 3) - 3.15 / pitch**0.5
    return StoredSize(size.value, -round(most) * 1000, 0)


_DEPTHS = (
    ("ISO metric", 1.082532),
    ("UN", 1.082532),
    ("BSC", 1.0654),
    ("BA", 1.2),
    ("BSP parallel", 1.280654),
    ("BSW", 1.280654),
    ("BSF", 1.280654),
    ("BSB", 1.280654),
    ("ME", 1.280654),
)
"""Pitches from the diameter over the crests to the nut's own: ISO 68-1 (five eighths of the sharp
triangle), BS 811, BS 93 and BS 84. A tapered thread has no one diameter and is left out."""


def _in_the_nut(row: Row) -> StoredSize | None:
    """The minor diameter of the nut or tapped hole, from its basic size up; None for a taper."""
    depth = next((d for start, d in _DEPTHS if row["series"].startswith(start)), None)
    if depth is None:
        return None
    pitch = _pitch(row).value
    basic = round(_diameter(row).value - depth * pitch)
    return StoredSize(basic, 0, _hole_tolerance(row["series"], pitch))


def _hole_tolerance(series: str, pitch: int) -> int:
    """By how much (nm) the hole in a nut may be over the basic minor diameter. All from memory.

    ISO 965-1, 6H: 433 P − 190 P^1.22 below 1 mm of pitch and 230 P^0.7 from there on, in
    micrometres for P in millimetres, taken for unified and cycle threads too (judged); BS 84 for
    nuts: 0.2 P and 4, 5 or 7 thousandths of an inch by the turns; BS 93: 0.375 P; ISO 228-1 by the
    turns.
    """
    p = pitch / 1_000_000
    if series.startswith("BA"):
        return round(0.375 * pitch)
    turns = NM_PER_INCH / pitch
    if series.startswith("BSP"):
        return next(nm for least, nm in _PIPE_HOLES if turns >= least)
    if series.startswith(("BSW", "BSF", "BSB", "ME")):
        thousandths = 4 if turns > 25 else 5 if turns > 21 else 7
        return round(0.2 * pitch) + thousandths * NM_PER_INCH // 1000
    most: float = 230 * p**0.7 if p >= 1 else 433 * p - 190 * p**1.22
    return round(most) * 1000


_PIPE_HOLES = ((27, 282_000), (18, 445_000), (13, 541_000), (0, 640_000))
"""Turns to the inch from which on, and the tolerance of the hole (ISO 228-1, from memory)."""

_TYPES = (
    ("ISO metric", "metric thread"),
    ("UN", "unified thread"),
    ("BSP", "pipe thread"),
    ("NPT", "pipe thread"),
    ("BA", "ba thread"),
    ("BSC", "cycle thread"),
    ("BSW", "whitworth thread"),
    ("BSF", "whitworth thread"),
    ("BSB", "whitworth thread"),
    ("ME", "whitworth thread"),
)


def _type(series: str) -> str:
    return next(name for start, name in _TYPES if series.startswith(start))


def _other_names(row: Row) -> list[Spelling]:
    number, series, tpi = row["designation"], row["series"], row["tpi"]
    if series.startswith("ISO metric coarse"):
        return [Spelling(f"{number}x{row['pitch_mm']}", 1.0, "alias")]
    if series.startswith(("UN", "NPT")):
        return [Spelling(number.replace(f"-{tpi} ", " "), SHORTER, "alias")]
    if series in ("BSW", "BSF"):
        size = number.removesuffix(f" {series}")
        return [Spelling(f"{size}-{tpi} {series}", 1.0, "alias")]
    if series.startswith("BSP"):
        size = number[2:]
        trade = ("BSPP", "BSP") if number.startswith("G") else ("BSPT",)
        return [Spelling(f"{size} {name}", SHORTER, "alias") for name in trade]
    if series.startswith("BSC"):
        size = number.partition(" BSC")[0]
        return [Spelling(f"{size} {name} {tpi}", 1.0, "alias") for name in ("BSC", "CEI")]
    if series.startswith("ME"):
        size = number.partition(" ME")[0]
        return [Spelling(f"{size}-{tpi} ME", 1.0, "alias")]
    return []


@cache
def _threads() -> dict[str, Row]:
    """The rows of the thread table by every way a hexagon's row may name them."""
    found: dict[str, Row] = {}
    for row in read_table("thread"):
        name = row["designation"]
        found[name] = row
        if row["series"].startswith("UN"):
            found[name.replace(f"-{row['tpi']} ", " ")] = row
        if row["series"].startswith("ISO metric coarse"):
            found[f"{name}x{row['pitch_mm']}"] = row
    return found


def _threads_of(text: str) -> list[Row]:
    """The threads a hexagon serves: "M12", "5/8 UNC/UNF", "1/2 BSF / BSW small hexagon"."""
    size = re.sub(r" (?:large|small) hexagon", "", text)
    bare = size.split(" BS")[0].split(" UN")[0]
    names = {size, *(f"{bare} {s}" for s in ("BSF", "BSW", "UNC", "UNF") if s in size)}
    known = _threads()
    return [known[name] for name in sorted(names) if name in known]


def hexagon(row: Row) -> Part:
    """A hexagon (or square) and the threads it serves; the pitch or diameter decides between them.

    ``diameter`` is the thread's; ``pitch`` stands only where the hexagon has one thread.
    """
    sizes = {"across-flats": _across_flats(row)}
    served = _threads_of(row["thread"])
    if served:
        sizes["diameter"] = _under_nominal(_diameter(served[0]), served[0])
    elif named := re.match(r"M(\d+)|((?:\d+ )?\d+/\d+)", row["thread"]):
        sizes["diameter"] = mm(named[1]) if named[1] else inch(named[2])
    if len(served) == 1:
        sizes["pitch"] = _pitch(served[0])
    number = f"{row['part']} {row['thread']}".replace(" / ", "/")
    if row["era"].startswith("older"):
        number += " older"
    words = f"hexagon {row['part']}, {row['thread']}" if "square" not in row["part"] else number
    group = f"hexagon {row['standard']} {number}"
    spelled = [Spelling(number), Spelling(_on_the_spanner(row), ON_THE_SPANNER, "spanner")]
    part = make(row, number, ("other", "hexagon", words.lower()), sizes, spelled, group)
    pitches = ", ".join(f"{t['designation']} has pitch {mm_text(_pitch(t).value)}" for t in served)
    return noted(part, f"era: {row['era']}", pitches and f"thread {pitches}")


ON_THE_SPANNER = 0.5
"""19AF or 1/2W for a hexagon: stamped on the spanner, not on the bolt. Judged."""


def _on_the_spanner(row: Row) -> str:
    """What the spanner for it says: 19AF, 3/4AF, 1/2W (large hexagon), 7/16BS (small), 2BA."""
    thread = row["thread"]
    size = thread.split(" BS")[0].replace(" ", "-")
    match row["system"]:
        case "metric":
            return f"{row['across_flats_mm']}AF"
        case "unified inch":
            return f"{row['across_flats_inch'].replace(' ', '-')}AF"
        case "Whitworth form":
            return f"{size}{'W' if 'large' in thread else 'BS'}"
    return thread.replace(" ", "")


def _across_flats(row: Row) -> StoredSize:
    text = row["across_flats_inch"]
    own = inch(text) if "/" in text and row["system"] != "metric" else mm(row["across_flats_mm"])
    most, least = row["max_inch"], row["min_inch"]
    if not most:
        return own
    high = decimal_inch(most)
    if "/" not in text:
        own = high
    return between(own, decimal_inch(least) if least else None, high)


def grease_nipple(row: Row) -> Part:
    """Grease nipples of DIN 71412 by thread, hexagon and height."""
    cells = (
        ("across-flats", "across_flats_mm"),
        ("head", "head_dia_mm"),
        ("height", "total_height_mm"),
        ("length", "thread_length_mm"),
    )
    sizes = {name: mm(row[column]) for name, column in cells if row[column]}
    diameter, _, pitch = row["thread"].removeprefix("M").partition("x")
    sizes["diameter"] = mm(diameter)
    if pitch:
        sizes["pitch"] = mm(str(Decimal(pitch)))
    number = f"DIN 71412 {row['form']} {row['thread']}"
    if row["across_flats_mm"]:
        number += f" AF{row['across_flats_mm']}"
    words = f"grease nipple, {row['angle_deg']}°, thread {row['thread'].lower()}"
    spelled = [Spelling(number)]
    if row["across_flats_mm"]:
        spelled.append(Spelling(number.partition(" AF")[0], SHORTER, "alias"))
    return make(row, number, ("other", "grease nipple", words), sizes, spelled)
