"""The last step by which a number that is looked up finds its part: as a trade number."""

from __future__ import annotations

from sqlalchemy import Connection

from xref.domain.number import visible
from xref.domain.part import Part
from xref.errors import NotFoundError
from xref.store.read.queries import find_part, resolve
from xref.store.read.resolving import ambiguous


def look_up(conn: Connection, number: str, maker: str | None = None) -> Part:
    """The part that ``number`` names; where none does, the standard row of its designation.

    Only for what is looked up: what is written down keeps the suffixes ("6204-2RS") that the row
    has not. Raises NotFoundError with the nearest numbers, and AmbiguousError where several parts
    have the number or its designation.
    """
    try:
        return resolve(conn, number, maker)
    except NotFoundError:
        rows = {} if maker is not None else _rows(conn, number)
        if len(rows) > 1:
            said = f'"{visible(number)}" reads as {len(rows)} parts'
            raise ambiguous(said, [*rows.values()]) from None
        for part in rows.values():
            return part
        raise


def _rows(conn: Connection, text: str) -> dict[str, Part]:
    """The standard row of each reading that leaves nothing of ``text`` over, by its group."""
    # Imported when a number is nowhere: the readers cost more than a look-up.
    from xref.services.decode.decode import decode

    rows: dict[str, Part] = {}
    for reading in decode(text).readings:
        part = None if reading.unknown else find_part(conn, reading.designation)
        if part and part.is_standard:
            rows.setdefault(part.group, part)
    return rows
