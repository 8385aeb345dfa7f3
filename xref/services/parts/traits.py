"""What a part would show of each check: by its type, its suffixes, its words and its sizes."""

from __future__ import annotations

from collections.abc import Mapping

from xref.domain.part import Part
from xref.domain.words import hand
from xref.services.parts.features import visible_features
from xref.standards.check import sights, type_shows

STRANDS = {1: "one", 2: "two", 3: "three"}
NEAR_TAPER = 0.04
"""How far a taper that is measured may lie from one that is named, as a share of it. Judged."""


def shown(part: Part) -> dict[str, tuple[str, ...]]:
    """By check, the words for what the part shows, several where it may be any of them.

    A check that is not in it is one that nothing on record answers: that says nothing.
    """
    told = f"{part.words} {part.maker} {part.number}"
    found = type_shows(part.type, part.kind, told)
    for check, text in visible_features(part).items():
        found |= _of_suffix(check, text)
    side = hand(f"{part.words} {part.number}")
    if side:
        found["hand"] = (side,)
    rows = part.sizes.get("rows")
    if part.kind == "chain" and rows is not None and rows.value in STRANDS:
        found["rows"] = (STRANDS[rows.value],)
    found |= _of_ends(part)
    return {check: words for check, words in found.items() if sights(check, part.kind)}


def _of_suffix(group: str, text: str) -> Mapping[str, tuple[str, ...]]:
    """What a suffix says that can be seen, by its meaning in the table of suffixes."""
    both = "both sides" in text
    found: dict[str, tuple[str, ...]] = {}
    if "shield" in text:
        found["closure"] = ("shields" if both else "shield-one",)
    elif "seal" in text:
        found["closure"] = ("seals" if both else "seal-one",)
    if "snap ring groove" in text:
        found["outer-ring"] = ("groove",)
    elif group == "ring" and "flange" in text:
        found["outer-ring"] = ("flange",)
    for taper in ("1:12", "1:30"):
        if taper in text:
            found["taper"] = (taper.replace(":", "-"),)
    return found


def _of_ends(part: Part) -> dict[str, tuple[str, ...]]:
    """The taper that both ends and the length make, as the nearest of those that have a name."""
    sizes = [part.sizes.get(name) for name in ("large-end", "small-end", "length")]
    large, small, length = (size.value if size else 0 for size in sizes)
    if not (large > small > 0 and length > 0):
        return {}
    one_in = length / (large - small)
    named = {
        int(word.partition("-")[2]): word
        for word in sights("taper", part.kind)
        if word.startswith("1-")
    }
    near = min(named, key=lambda n: abs(n - one_in), default=0)
    return {"taper": (named[near],)} if near and abs(near - one_in) <= NEAR_TAPER * near else {}
