"""Reading and writing trade numbers: the grammar only, no size tables."""

from __future__ import annotations

from xref.designation import (
    bearing,
    bush,
    drives,
    fixings,
    oring,
    seats,
    shaft_seal,
    threads,
)
from xref.designation.reading import Feature, Reader, Reading

READERS: tuple[Reader, ...] = (
    bearing.read,
    oring.read,
    shaft_seal.read,
    bush.read,
    fixings.read,
    threads.read,
    drives.read,
    seats.read,
)
"""Every reader of trade numbers, the most usual kind first; a new kind is one more entry."""


def read(text: str) -> tuple[Reading, ...]:
    """All readings of ``text``, best first; () when no reader knows it.

    Raises InputError for text that cannot be a number at all (empty, too long, control characters).
    """
    return tuple(reading for reader in READERS for reading in reader(text))


__all__ = ["READERS", "Feature", "Reader", "Reading", "read"]
