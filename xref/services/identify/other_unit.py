"""Bare figures that fit nothing in the store's unit and one thing exactly in the other."""

from __future__ import annotations

from dataclasses import replace

from sqlalchemy import Connection

from xref.domain.size import BARE_UNITS
from xref.errors import InputError
from xref.services.identify.answer import Identified
from xref.services.identify.run import identify
from xref.services.question import Asked, understand

FITS = 0.5
"""The odds from which the first candidates together are worth telling. Judged."""
TOLD = 3


def answer_in(conn: Connection, asked: Asked, limit: int) -> Identified:
    """The answer to ``asked``; where nothing fits, with a note of what would in the other unit."""
    found = identify(conn, understand(asked), limit)
    sizes = [size for size in found.query.sizes.values() if not size.counted]
    if found.verdict != "none" or not sizes or not all(size.assumed for size in sizes):
        return found
    (other,) = (unit for unit in BARE_UNITS if unit != asked.unit)
    try:
        turned = identify(conn, understand(replace(asked, unit=other)), TOLD)
    except InputError:
        return found
    if turned.none_of_these > FITS or not turned.candidates or turned.verdict == "none":
        return found
    numbers = " or ".join(candidate.part.number for candidate in turned.candidates)
    named = "inches" if other == "inch" else "millimetres"
    written = "in" if other == "inch" else "mm"
    first = sizes[0]
    note = (
        f"Taken in {named} these figures fit {numbers}: if so, write the unit "
        f"({first.name} {first.text}{written})."
    )
    return replace(found, notes=(note, *found.notes))
