"""Parts of the families that are not sized by bore, outside and width: threads, pins, chains …"""

from __future__ import annotations

from collections.abc import Mapping

from sqlalchemy import Connection

from xref.domain.part import BOUNDARY, Part, is_plain_number
from xref.domain.size import mm_text
from xref.services.fit.by_size import SAME_NM, Match
from xref.services.fit.differences import Difference
from xref.store.index.near import parts_with_size
from xref.store.read.load import load_parts

KEYS: dict[str, tuple[str, ...]] = {
    "ball": ("diameter",),
    "roller": ("diameter", "length"),
    "retaining ring": ("shaft", "housing", "groove", "thickness"),
    "pin": ("diameter", "length", "large-end", "small-end"),
    "key": ("width", "height", "length"),
    "thread": ("diameter", "pitch"),
    "chain": ("pitch", "roller", "inner-width", "rows"),
    "belt": ("top-width", "height", "length", "inside-length"),
    "washer": ("bore", "outside", "thickness"),
    "gear": ("teeth", "bore", "pitch"),
    "other": (
        "diameter",
        "bore",
        "across-flats",
        "length",
        "thickness",
        "large-end",
        "small-end",
        "splines",
        "minor",
        "major",
        "seat",
        "shaft",
        "housing",
        "centre-height",
        "outside",
        "width",
    ),
}
"""The sizes by which a kind is chosen: all that are known of the part must agree."""

NEAR_SHARE = 40
"""A key size within a fortieth (2.5 %) that is not the same is a near miss. Judged."""
MOST_GATHERED = 1500

ANOTHER = "another type of the same size: it does not do the same work"
FORMS = "another thread form: the same diameter and pitch do not make it fit"


def named_matches(conn: Connection, wanted: Part) -> list[Match]:
    """Parts of ``wanted``'s kind whose key sizes are the same, and the near misses.

    () for a kind that has no key sizes, or where none of them is known.
    """
    keys = _keys(wanted)
    if not keys:
        return []
    found = []
    for part in load_parts(conn, _near_first(conn, wanted.kind, keys)):
        match = _match(wanted, part, keys)
        if match is not None:
            found.append(match)
    return found


def _keys(wanted: Part) -> dict[str, int]:
    names = KEYS.get(wanted.kind, ())
    return {name: wanted.sizes[name].value for name in names if name in wanted.sizes}


def _near_first(conn: Connection, kind: str, keys: Mapping[str, int]) -> list[int]:
    """Ids of the parts near in the first key size that is not a boundary dimension."""
    for name, value in keys.items():
        if name not in BOUNDARY:
            reach = 0 if is_plain_number(name) else max(SAME_NM, value // NEAR_SHARE)
            window = (value - reach, value + reach)
            return parts_with_size(conn, name, window, MOST_GATHERED, kind)
    return []


def _match(wanted: Part, part: Part, keys: Mapping[str, int]) -> Match | None:
    held = {name: part.sizes[name].value for name in keys if name in part.sizes}
    if len(held) < len(keys):
        return None
    off = {name: held[name] - value for name, value in keys.items()}
    if any(gap for name, gap in off.items() if is_plain_number(name)):
        return None
    another = bool(wanted.type and part.type and wanted.type != part.type)
    if another and wanted.kind == "other":
        return None  # a sleeve is no block, whatever its length
    apart = {name: gap for name, gap in off.items() if abs(gap) > SAME_NM}
    if any(abs(gap) * NEAR_SHARE > keys[name] for name, gap in apart.items()):
        return None
    if apart:
        return Match(part, "near miss", False, _warnings(keys, held, apart))
    if another:
        return _other_type(wanted, part)
    return Match(part, "same boundary dimensions", True)


def _other_type(wanted: Part, part: Part) -> Match:
    """A part of the same sizes and another type is a near miss."""
    name, why = ("thread form", FORMS) if wanted.kind == "thread" else ("type", ANOTHER)
    return Match(part, "near miss", False, (Difference(name, wanted.type, part.type, why),))


def _warnings(
    keys: Mapping[str, int], held: Mapping[str, int], apart: Mapping[str, int]
) -> tuple[Difference, ...]:
    return tuple(
        Difference(
            name,
            mm_text(keys[name]),
            mm_text(held[name]),
            f"{mm_text(abs(gap))} {'larger' if gap > 0 else 'smaller'}: it does not fit",
        )
        for name, gap in apart.items()
    )
