"""What a spanner fits: the hexagons of the table by their size across the flats."""

from __future__ import annotations

from functools import cache

from xref.designation.spanner import Hexagon, across_flats, hexagons
from xref.domain.number import visible
from xref.domain.part import Part
from xref.domain.size import inch_text, mm_text
from xref.errors import InputError
from xref.standards.families import FAMILIES
from xref.tables import read_table

SAME_NM = 60_000
"""Hexagons this near in size take one spanner: 19 mm and 3/4 in are 0.05 mm apart. Judged."""

NEAR_NM = 400_000
"""Within this a spanner goes on and slips, or nearly goes on. Judged."""

NEVER = "a spanner that is nearly right rounds the corners off"


@cache
def _hexagons() -> tuple[Part, ...]:
    return tuple(FAMILIES["spanner_hex"](row) for row in read_table("spanner_hex"))


def named(hexagon: Hexagon) -> Part | None:
    """The row of a hexagon that is named by its thread; None where the table has none."""
    size = hexagon.size
    numbers = {
        "large": (f"{size} BSW large hexagon",),
        "small": (f"{size} BSF/BSW small hexagon", f"{size} BSF"),
    }.get(hexagon.which, (f"{size} {hexagon.which}",))
    wanted = [f"bolt head and nut {number}" for number in numbers]
    return next((part for part in _hexagons() if part.number in wanted), None)


def opening(text: str) -> int | None:
    """The size across flats in nanometres that a spanner's mark names ("1/2W", "19AF").

    None where it names none. Raises InputError for a mark of two sizes, with both (1/2 BSW had a
    larger hexagon once), and for text that cannot be a mark at all.
    """
    flats = across_flats(text)
    if flats:
        return flats
    sizes = {
        part.sizes["across-flats"].value: hexagon.text
        for hexagon in hexagons(text)
        if (part := named(hexagon))
    }
    if len(sizes) > 1:
        both = " and ".join(f"{name}, {_size(nm)}" for nm, name in sizes.items())
        names = " or ".join(sizes.values())
        raise InputError(
            f'"{visible(text)}" names {len(sizes)} hexagons: {both}',
            f"Write {names}, or what is measured across the flats.",
        )
    return next(iter(sizes), None)


def served(nm: int) -> tuple[Part, ...]:
    """The hexagons that a spanner of ``nm`` nanometres across fits, in the order of the table."""
    return tuple(p for p in _hexagons() if abs(p.sizes["across-flats"].value - nm) <= SAME_NM)


def near(nm: int) -> tuple[Part, ...]:
    """The hexagons easily taken for one of ``nm`` across, the nearest first."""
    gaps = [(abs(part.sizes["across-flats"].value - nm), part) for part in _hexagons()]
    found = [pair for pair in gaps if SAME_NM < pair[0] <= NEAR_NM]
    return tuple(part for _, part in sorted(found, key=lambda pair: pair[0]))


def in_words(nm: int) -> tuple[str, ...]:
    """What a spanner of ``nm`` nanometres serves, what decides, and its near misses, in words."""
    fits = served(nm)
    said = [
        f"serves {_listed(fits)}" if fits else "serves no hexagon of the table",
        "the thread's diameter and pitch decide between them" if len(fits) > 1 else "",
    ]
    misses = near(nm)
    if misses:
        sizes: dict[int, list[Part]] = {}
        for part in misses:
            sizes.setdefault(part.sizes["across-flats"].value, []).append(part)
        twins = "; ".join(f"{_size(value)} is for {_listed(some)}" for value, some in sizes.items())
        said.append(f"easily taken for it, and not the same: {twins} ({NEVER})")
    return tuple(text for text in said if text)


def _listed(parts: tuple[Part, ...] | list[Part]) -> str:
    """The threads once each, with what the hexagon is where it is not both head and nut."""
    names = (part.number.removeprefix("bolt head and nut ") for part in parts)
    return ", ".join(dict.fromkeys(names))


def _size(nm: int) -> str:
    inch = inch_text(nm)
    return mm_text(nm) + (f" ({inch})" if inch else "")
