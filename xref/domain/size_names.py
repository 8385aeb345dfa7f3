"""The sizes of a part by their trade names: one registry for what is asked, stored and listed."""

from __future__ import annotations

from collections.abc import Iterable

from xref.domain.part import COUNTS

SIZES: dict[str, str] = {
    "bore": "inside diameter",
    "outside": "outside diameter",
    "width": "over everything; a bush's length",
    "cone-width": "of a taper's inner ring",
    "cup-width": "of a taper's outer ring",
    "ring-width": "of the outer ring alone, where the inner one is wider",
    "inside": "inside diameter of a rubber ring",
    "section": "thickness of a round rubber section",
    "laid-out": "length of a cut ring, straightened",
    "shaft": "the shaft it sits on",
    "housing": "the bore it sits in",
    "thickness": "of sheet, strip or washer",
    "length": "end to end, or around a belt",
    "diameter": "of a pin, a shank, a thread over its crests",
    "pitch": "from one thread or link to the next",
    "height": "of a key, a belt, a plate, a free spring",
    "hardness": "Shore A",
    "groove": "diameter at the bottom of a ring's groove",
    "groove-width": "width of a ring's groove",
    "hole": "the hole a pin goes in",
    "cross-hole": "the hole through a pin",
    "head": "across a head or an eye",
    "roller": "diameter of a chain's roller or bush",
    "inner-width": "between a chain's inner plates",
    "pin": "diameter of a chain's pin",
    "strand-pitch": "from one strand of a chain to the next",
    "top-width": "of a belt, at its back",
    "inside-length": "around the inside of a belt",
    "outside-length": "around the outside of a belt",
    "seat": "the bearing bore a sleeve fits",
    "across-flats": "of a hexagon or square, the spanner size",
    "small-end": "diameter at the small end of a taper",
    "large-end": "diameter at the large end of a taper",
    "minor": "smaller diameter of a spline; in a nut or tapped hole, over its crests",
    "major": "larger diameter of a spline",
    "centre-height": "from the foot to the shaft",
    "bolt-spacing": "between holding-down bolts",
}
"""Every size the tool knows by name, besides the counts, and what it is measured over."""

INSIDE = frozenset({"bore", "inside", "housing", "hole", "cross-hole", "inner-width"})
"""Sizes measured with the inside jaws."""

ONLY_ON: dict[str, str] = {
    "section": "o-ring",
    "laid-out": "o-ring",
    "inside": "o-ring",
    "cone-width": "bearing",
    "cup-width": "bearing",
    "ring-width": "bearing",
    "groove-width": "retaining ring",
    "cross-hole": "pin",
    "roller": "chain",
    "inner-width": "chain",
    "pin": "chain",
    "strand-pitch": "chain",
    "top-width": "belt",
    "inside-length": "belt",
    "outside-length": "belt",
    "across-flats": "other",
    "seat": "other",
    "major": "other",
    "centre-height": "other",
    "bolt-spacing": "other",
}
"""Sizes that only one kind of part has: to name one names the kind."""

_SORTS: dict[str, str] = {
    "across-flats": "hexagon",
    "seat": "sleeve",
    "splines": "spline",
    "minor": "spline",
    "major": "spline",
    "large-end": "taper",
    "small-end": "taper",
    "hole": "straight pin",
    "cross-hole": "straight pin",
    "centre-height": "block",
    "bolt-spacing": "block",
}
"""The sort of thing that has the size; no other sort of its kind has."""


def another_sort(asked: Iterable[str], held: Iterable[str]) -> bool:
    """Whether the sizes asked for and those a part has belong to two sorts of thing.

    The kind "other" holds hexagons beside sleeves, splines, tapers and blocks: what has flats has
    no splines; and a taper pin has no hole's size. False where either names no sort, since a size
    may only be missing on record.
    """
    wanted = {_SORTS[name] for name in asked if name in _SORTS}
    has = {_SORTS[name] for name in held if name in _SORTS}
    return bool(wanted and has) and not wanted & has


NAMES: tuple[str, ...] = (*SIZES, *COUNTS)
"""Every name a size may have, counts last."""
