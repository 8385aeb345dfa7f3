"""Reading and writing trade numbers: the grammar only, no size tables."""

from __future__ import annotations

from functools import cache

from xref.designation.reading import Feature, Reader, Reading


@cache
def readers() -> tuple[Reader, ...]:
    """Every reader of trade numbers, the most usual kind first; a new kind is one more entry.

    Imported when first asked for: all their patterns together cost a third of a short command.
    """
    from xref.designation import (
        bearing,
        bearings_more,
        bush,
        chains,
        drives,
        fixings,
        gauge,
        lead_screw,
        oring,
        seal_gost,
        seats,
        shaft_seal,
        small_parts,
        spanner,
        threads,
        track,
    )

    return (
        bearing.read,
        oring.read,
        shaft_seal.read,
        bush.read,
        fixings.read,
        threads.read,
        spanner.read,
        drives.read,
        seats.read,
        small_parts.read,
        bearings_more.read,
        track.read,
        chains.read,
        lead_screw.read,
        gauge.read,
        seal_gost.read,
    )


def read(text: str) -> tuple[Reading, ...]:
    """All readings of ``text``, best first; () when no reader knows it.

    Raises InputError for text that cannot be a number at all (empty, too long, control characters).
    """
    return tuple(reading for reader in readers() for reading in reader(text))


__all__ = ["Feature", "Reader", "Reading", "read", "readers"]
