"""Spellings laid out for the scan: one bitmap for each character at each position.

A *block* holds the spellings of ``SLOTS`` consecutive ids, each at a *slot* of its own; a *plane*
is one bitmap over the slots of a block (or of all of them). There is a plane for every character
(of skeletons) at every position, and one for every length. The slots go by *bands*: first those
that may take a suffix, then the others by length, so that a search can keep to the lengths that it
may find. Bits of slots that nobody has are 0 in every plane.
"""

from __future__ import annotations

import re
import zlib
from array import array
from bisect import bisect_left
from collections.abc import Iterable, Iterator, Mapping

from xref.domain.number import skeleton

SLOTS = 1 << 16
"""Ids a block has room for: few enough to lay out anew whenever some spellings have come."""
PLACES = 24
"""Characters laid out; what stands behind them is left to the next cut."""
LONGEST = 100
"""The longest spelling the store takes."""
BAND_TOPS = (6, 7, 8, 9, 10, 12, LONGEST)
"""The longest spelling of each band but the first, which is of those that may take a suffix."""
BANDS = 1 + len(BAND_TOPS)
TAILED = 0
"""The band of the spellings that may take a suffix."""
ROOM = SLOTS + 8 * BANDS
"""Slots of a block: every band begins at a whole byte."""

_RAW, _PACKED = b"\x00", b"\x01"
_NOTHING = bytes(512)
_SOME = re.compile(rb"[^\x00]")


def plane_of(place: int, char: str) -> int:
    """The code of the plane of ``char`` at ``place`` (from 0)."""
    return place * 128 + ord(char)


def plane_of_length(length: int) -> int:
    """The code of the plane of the spellings that have ``length`` characters."""
    return PLACES * 128 + length


STARTS = PLACES * 128 + 126
"""The code under which a block keeps where its bands start, and where the last one ends."""
ORDER = PLACES * 128 + 127
"""The code under which a block keeps whose each slot is, as id less the block's first id."""


def band_of(text: str, takes_suffix: bool) -> int:
    """The band of a spelling."""
    return TAILED if takes_suffix else 1 + bisect_left(BAND_TOPS, min(len(text), LONGEST))


def arrange(rows: Iterable[tuple[int, str, bool]]) -> tuple[array[int], array[int]]:
    """Where the bands start, and whose each slot is.

    ``rows`` hold the id of the spelling less the block's first, its folded text and whether it may
    take a suffix.
    """
    bands = [array("H") for _ in range(BANDS)]
    for offset, text, takes_suffix in rows:
        bands[band_of(text, takes_suffix)].append(offset)
    starts, order = array("I", [0]), array("H")
    for band in bands:
        order.extend(band)
        order.extend(order[-1:] * (-len(order) % 8))  # nobody's slots: an offset that has one
        starts.append(len(order))
    return starts, order


def slotted(order: Iterable[int], texts: Mapping[int, str]) -> Iterator[tuple[int, str]]:
    """Slot and text of every spelling that has a slot; an offset that comes again fills up."""
    met = set()
    for slot, offset in enumerate(order):
        if offset in texts and offset not in met:
            met.add(offset)
            yield slot, texts[offset]


def lay_out(rows: Iterable[tuple[int, str]]) -> Iterator[tuple[int, int]]:
    """Code and bits of every plane that is not empty, from slots and folded texts."""
    texts = [""] * ROOM
    for slot, text in rows:
        texts[slot] = text
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


_ZEROS = b"0" * 256


def _bits(column: bytes, value: int) -> int:
    """A 1 where ``value`` stands in the column."""
    return int(column.translate(_ZEROS[:value] + b"1" + _ZEROS[value + 1 :]), 2)


def as_bytes(bits: int) -> bytes:
    """The bits as bytes, lowest first."""
    return bits.to_bytes((bits.bit_length() + 7) // 8, "little")


def packed(raw: bytes) -> bytes:
    """The bytes for the store; those of sparse bits shrink to little."""
    small = zlib.compress(raw, 1)
    return _PACKED + small if 3 * len(small) < 2 * len(raw) else _RAW + raw


def unpacked(data: bytes) -> bytes:
    """The bytes that ``packed`` packed."""
    return zlib.decompress(data[1:]) if data[:1] == _PACKED else data[1:]


def slots(bits: int) -> Iterator[int]:
    """The places of the ones, lowest first."""
    data = as_bytes(bits)
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
