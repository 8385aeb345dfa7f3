"""Plain bushes: ``20x23x20``, ``202320``, ``bush 100 x 105 x 60``: bore, outside, length."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import partial

from xref.designation.oring_gost import is_gost_ring
from xref.designation.reading import Reading
from xref.designation.rubber import words
from xref.designation.three_sizes import (
    LIP_OR_METAL,
    ThreeSizes,
    Wall,
    bush_wall,
    like_a_seal,
    size_name,
    three_sizes,
)
from xref.domain.number import plain
from xref.domain.size import NM_PER_MM, mm_number

_NAMED = re.compile(
    r"\b(?:(?:WRAPPED|PLAIN|SOLID)[ -]*)*BUSH(?:ES|ING)?\b|\bISO[ -]?(?:3547|4379)(?:-1)?(?![0-9])"
)
_OTHER_THING = re.compile(
    r"SEAL|O[ -]?RING|(?:DIN|ISO)[ -]?(?:3760|6194|3601)|^\s*(?:HK|BK|NK|AXK|K)[ -]?[0-9]"
)
_DIGITS = re.compile(r"\s*(\d{6,9})(?![0-9.,/xX])(.*)", re.DOTALL)

_SPLITS = {6: ((2, 2, 2),), 7: ((2, 2, 3), (2, 3, 2)), 8: ((2, 3, 3), (3, 3, 2)), 9: ((3, 3, 3),)}
"""How many digits bore, outside and length may have, by the digits there are in all."""

_STANDARD: dict[Wall, str] = {"wrapped": "ISO 3547-1", "solid": "ISO 4379", "none": ""}


def _note(found: ThreeSizes, wall: Wall) -> str:
    half = mm_number((found.outside - found.bore) // 2)
    if wall == "wrapped":
        return (
            f"wall {half} mm, as ISO 3547-1 has it for this bore; a wrapped bush measures its "
            "nominal size only when pressed in"
        )
    return f"wall {half} mm, not the wall of a wrapped bush of this bore in ISO 3547-1"


def _digits(found: ThreeSizes) -> tuple[str, ...]:
    whole = [divmod(nm, NM_PER_MM) for nm in (found.bore, found.outside, found.width)]
    if found.inch or any(part for _, part in whole):
        return ()
    return ("".join(f"{mm:02d}" for mm, _ in whole),)


def _reading(found: ThreeSizes, numbering: str, *, named: bool, certain: bool) -> Reading:
    wall = bush_wall(found.bore, found.outside, found.width)
    seal_too = not named and like_a_seal(found.bore, found.outside, found.width)
    return Reading(
        designation=found.name,
        kind="bush",
        type="wrapped bush" if wall == "wrapped" else "solid bush",
        numbering=numbering,
        standard=_STANDARD[wall],
        sizes=found.sizes,
        dimension_series="",
        features=(),
        canonical=found.name,
        also_written=_digits(found),
        unknown=words(_NAMED.sub(" ", f"{found.before} {found.after}")),
        note=_note(found, wall),
        decided_by=LIP_OR_METAL if seal_too else "",
        needs_table=not (certain or named),
    )


def _splits(digits: str, rest: str) -> Iterator[ThreeSizes]:
    for first, second, _ in _SPLITS[len(digits)]:
        pieces = (digits[:first], digits[first : first + second], digits[first + second :])
        if any(piece.startswith("00") for piece in pieces):
            continue
        bore, outside, length = (int(piece) * NM_PER_MM for piece in pieces)
        if 0 < bore < outside and length:
            name = size_name(bore, outside, length)
            yield ThreeSizes(bore, outside, length, name, after=rest)


def read(text: str) -> tuple[Reading, ...]:
    """The bushes that ``text`` may name; () where none. Sizes in nanometres, as marked.

    A wall that ISO 3547-1 has for this bore tells a bush from a seal; another wall is only worth
    showing when a table has the size. Raises InputError for empty, over-long or unprintable text.
    """
    shown = plain(text)
    if _OTHER_THING.search(shown) or is_gost_ring(shown):
        return ()
    bare = _NAMED.sub(" ", shown)
    named = bare != shown
    read_as = partial(_reading, named=named)
    found = three_sizes(bare) if bare.strip() else None
    if found is not None:
        wall = bush_wall(found.bore, found.outside, found.width)
        if wall == "none" and not named:
            return ()
        return (read_as(found, "inch" if found.inch else "sizes", certain=wall == "wrapped"),)
    match = _DIGITS.match(bare)
    if match is None:
        return ()
    return tuple(
        read_as(
            split,
            "digits for bore, outside and length",
            certain=len(match[1]) == 6 and wall == "wrapped",
        )
        for split in _splits(match[1], match[2])
        if (wall := bush_wall(split.bore, split.outside, split.width)) != "none"
    )
