"""The chains of sectors in a compound file, which an xls lies in: none may come round on itself.

A reader that follows one that does never ends. Their layout: [MS-CFB], Microsoft's published
description, 2.2 to 2.6.
"""

from __future__ import annotations

from array import array
from collections.abc import Sequence
from struct import unpack_from

_HEAD = 512
_LARGEST = 0xFFFFFFFA
"""Sector numbers above this stand for an end, a free sector, or a table of sectors."""
_IN_HEAD = 109
"""Places of the table of sectors that stand in the head."""


def check_chains(data: bytes) -> None:
    """Raise ValueError where a chain is cyclic, leads out of the file, or the head is wrong."""
    shift = unpack_from("<H", data, 30)[0]
    if shift not in (9, 12):
        raise ValueError("the sectors are of a size that there is not")
    size = 1 << shift
    sectors = max(0, (len(data) + size - 1) // size - 1)
    table = _table(data, size, sectors)
    _refuse_cycles(table)
    directory, short = unpack_from("<I", data, 48)[0], unpack_from("<I", data, 60)[0]
    _follow(table, directory, sectors)
    if short < _LARGEST:
        small = array("I")
        for at in _follow(table, short, sectors):
            small.extend(_sector(data, at, size))
        _refuse_cycles(small)


def _table(data: bytes, size: int, sectors: int) -> array[int]:
    """Of every sector, which one follows it."""
    places = list(unpack_from(f"<{_IN_HEAD}I", data, 76))
    at, seen = unpack_from("<I", data, 68)[0], 0
    while at < _LARGEST:
        seen += 1
        if at >= sectors or seen > sectors:
            raise ValueError("the table of sectors has no end")
        *more, at = _sector(data, at, size)
        places += more
    table = array("I")
    for place in places:
        if place < sectors:
            table.extend(_sector(data, place, size))
        if len(table) > 2 * sectors + size:
            break
    return table


def _sector(data: bytes, at: int, size: int) -> Sequence[int]:
    """The numbers in a sector; what is cut off at the end of the file counts as free."""
    begin = max(_HEAD, size) + at * size
    piece = data[begin : begin + size].ljust(size, b"\xff")
    return unpack_from(f"<{size // 4}I", piece)


def _follow(table: Sequence[int], at: int, sectors: int) -> list[int]:
    """The sectors of a chain. Raises ValueError where it leads nowhere."""
    found: list[int] = []
    while at < _LARGEST:
        if at >= len(table) or at >= sectors:
            raise ValueError("a chain leads out of the file")
        found.append(at)
        at = table[at]
    return found


def _refuse_cycles(table: Sequence[int]) -> None:
    """Raise ValueError where the successors come round, in time that grows with their number."""
    seen = array("I", bytes(4 * len(table)))
    for first in range(len(table)):
        at = first
        while at < len(table) and not seen[at]:
            seen[at] = first + 1
            at = table[at]
        if at < len(table) and seen[at] == first + 1:
            raise ValueError("a chain comes round on itself")
