"""Spellings laid out for the scan: one bitmap for each character at each position.

A *block* holds the spellings of ``SLOTS`` consecutive ids; a *plane* is one bitmap over a block (or
over all of them), a whole number whose bit ``i`` speaks of the i-th id. There is a plane for every
character (of skeletons) at every position, one for every length, and one for the spellings that
may take a suffix. Bits of ids that are not there are 0 in every plane.
"""

from __future__ import annotations

import re
import zlib
from collections.abc import Iterable, Iterator

from xref.domain.number import skeleton

SLOTS = 1 << 16
"""Ids a block has room for: few enough to lay out anew whenever some spellings have come."""
PLACES = 24
"""Characters laid out; what stands behind them is left to the next cut."""
LONGEST = 100
"""The longest spelling the store takes."""

_RAW, _PACKED = b"\x00", b"\x01"
_NOTHING = bytes(512)
_SOME = re.compile(rb"[^\x00]")


def plane_of(place: int, char: str) -> int:
    """The code of the plane of ``char`` at ``place`` (from 0)."""
    return place * 128 + ord(char)


def plane_of_length(length: int) -> int:
    """The code of the plane of the spellings that have ``length`` characters."""
    return PLACES * 128 + length


TAKES_SUFFIX = PLACES * 128 + 127
"""The code of the plane of the spellings that may take a suffix."""


def lay_out(rows: Iterable[tuple[int, str, bool]]) -> Iterator[tuple[int, int]]:
    """Code and bits of every plane that is not empty.

    ``rows`` hold the place of the spelling in the block, its folded text and whether it may take
    a suffix.
    """
    texts = [""] * SLOTS
    tailed = bytearray(b"0" * SLOTS)
    for slot, text, takes_suffix in rows:
        texts[slot] = text
        if takes_suffix:
            tailed[SLOTS - 1 - slot] = 49
    texts.reverse()  # the first sign of a binary number is its highest bit
    square = "".join([text[:PLACES].ljust(PLACES) for text in texts])
    columns = skeleton(square).encode("ascii")
    for place in range(PLACES):
        column = columns[place::PLACES]
        for char in sorted(set(column) - {32}):
            yield place * 128 + char, _bits(column, char)
    lengths = bytes(min(len(text), LONGEST) for text in texts)
    for length in sorted(set(lengths) - {0}):
        yield plane_of_length(length), _bits(lengths, length)
    if 49 in tailed:
        yield TAKES_SUFFIX, int(tailed, 2)


_ZEROS = b"0" * 256


def _bits(column: bytes, value: int) -> int:
    """A 1 where ``value`` stands in the column."""
    return int(column.translate(_ZEROS[:value] + b"1" + _ZEROS[value + 1 :]), 2)


def packed(bits: int) -> bytes:
    """The bits as bytes for the store; sparse ones shrink to little."""
    raw = bits.to_bytes((bits.bit_length() + 7) // 8, "little")
    small = zlib.compress(raw, 1)
    return _PACKED + small if 3 * len(small) < 2 * len(raw) else _RAW + raw


def unpacked(data: bytes) -> bytes:
    """The bits, lowest first, from what ``packed`` made of them."""
    return zlib.decompress(data[1:]) if data[:1] == _PACKED else data[1:]


def slots(bits: int) -> Iterator[int]:
    """The places of the ones, lowest first."""
    data = bits.to_bytes((bits.bit_length() + 7) // 8, "little")
    for start in range(0, len(data), len(_NOTHING)):
        piece = data[start : start + len(_NOTHING)]
        if piece == _NOTHING:
            continue  # most are empty, and comparing is faster than looking for what is in them
        for found in _SOME.finditer(piece):
            byte, first = found[0][0], (start + found.start()) * 8
            while byte:
                low = byte & -byte
                yield first + low.bit_length() - 1
                byte ^= low
