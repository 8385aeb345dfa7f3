"""Row readers for balls, loose needle rollers, inch taper pins and the square keys of BS 46."""

from __future__ import annotations

from xref.domain.part import Part, Spelling
from xref.standards.rowreader import decimal_inch, inch, make, mm, noted
from xref.tables import Row

ROLLERS_TOGETHER = (
    "rollers of one set go by length and diameter within a few micrometres: replace the whole set"
)


def steel_ball(row: Row) -> Part:
    """Steel balls; where the size is an inch one, the fraction is exact."""
    text, fraction = row["diameter_mm"], row["diameter_inch"]
    number = f"ball {text}"
    spelled = [Spelling(number), Spelling(f"{text} mm ball", 0.9, "alias")]
    words = f"steel ball, {text} mm"
    if fraction:
        spelled.append(Spelling(f"{fraction.replace(' ', '-')} ball", 1.0, "alias"))
        words += f", {fraction} in"
    sizes = {"diameter": inch(fraction) if fraction else mm(text)}
    part = make(row, number, ("ball", "steel ball", words), sizes, spelled)
    return noted(part, "replace all balls of a race together, and count them")


def loose_roller(row: Row) -> Part:
    """Loose needle rollers of GOST 6870 by diameter and length."""
    name = f"{row['diameter_mm']}x{row['length_mm']}"
    sizes = {"diameter": mm(row["diameter_mm"]), "length": mm(row["length_mm"])}
    spelled = [Spelling(f"needle roller {name}"), Spelling(f"roller {name}", 0.8, "alias")]
    what = ("roller", "loose needle roller", f"needle roller, loose, {name} mm")
    return noted(make(row, f"needle roller {name}", what, sizes, spelled), ROLLERS_TOGETHER)


def taper_pin_inch(row: Row) -> Part:
    """Inch taper pins 1:48, numbered by the large end; the small end follows from the length."""
    number = f"taper pin No. {row['number']}"
    large = row["large_end_in"]
    spelled = [Spelling(number), Spelling(f"No. {row['number']} taper pin", 1.0, "alias")]
    what = ("pin", "taper pin, inch", f"taper pin, no. {row['number']}, inch")
    part = make(row, number, what, {"large-end": decimal_inch(large)}, spelled)
    return noted(
        part,
        f"taper 1:48, a quarter inch to the foot: the small end is {large} in less length / 48; "
        "a metric pin tapers 1:50 and does not bed in the same hole",
    )


def key_bs46(row: Row) -> Part:
    """Square parallel keys of BS 46 part 1, by the shaft they serve."""
    side = row["side_in"].replace(" ", "-")
    number = f"BS 46 {side}x{side}"
    size = inch(row["side_in"])
    what = ("key", "parallel key", f"parallel key, square, {side} in")
    part = make(row, number, what, {"width": size, "height": size}, [Spelling(number)])
    return noted(
        part,
        f"for shafts over {row['shaft_over_in']} up to {row['shaft_to_in']} in; keyway at least "
        f"{row['depth_shaft_min_in']} in deep in the shaft, {row['depth_hub_min_in']} in the hub",
    )
