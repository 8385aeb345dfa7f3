"""The serials that a row says of its models: read, or kept as what was not understood.

A range that was not understood is never every serial: the model stands without one, what stood
there is kept, and a finding asks.
"""

from __future__ import annotations

from collections.abc import Collection

from xref.domain.number import visible
from xref.domain.serial import MOST_TEXT, read_serials
from xref.domain.serial_beside import component_of, perhaps_serials
from xref.domain.serial_ends import read_from_to
from xref.domain.serial_range import EVERY_SERIAL, SerialSet, not_read
from xref.errors import InputError
from xref.services.lists.links import LinkRow
from xref.sheets.fields import AS_FOUND

Said = tuple[str, str, str]
"""Column, kind and message of a finding."""

SERIALS = ("serials", "serial from", "serial to")


def serials_of(
    row: LinkRow, known: Collection[str], component: str
) -> tuple[SerialSet, tuple[Said, ...]]:
    """The serials that a row says of its models, and what is to be asked of them.

    They are every serial only where the row says "all" or nothing at all that may be a range.
    """
    whole, low, high = (row.told.get(name, "") for name in SERIALS)
    try:
        if whole.strip() and (low.strip() or high.strip()):
            raise InputError("a range is given and its ends as well")
        if whole.strip():
            return read_serials(whole, known, component), ()
        if low.strip() or high.strip():
            return read_from_to(low, high, known, component), ()
    except InputError as error:
        column = next(name for name in SERIALS if row.told.get(name, "").strip())
        message = f"{error.message}; on which serials it belongs is not known"
        return not_read(written(row)), ((column, "serials", message),)
    found = [cell for cell in row.beside if perhaps_serials(*cell)]
    if not found:
        return EVERY_SERIAL, ()
    said = tuple(
        (
            label,
            "serials",
            f'"{visible(text)}" may be serials of the model: on which it belongs is not known; '
            f'say so with --map "{visible(label)}=serials", or =serial from, =serial to',
        )
        for label, text in found
    )
    return not_read(written(row)), said


def counted_beside(row: LinkRow) -> tuple[str, str]:
    """Component and range of the one cell that plainly says on which serials of a component the
    row holds ("Engine No", "4512 on"); ("", "") where none does, or anything else may."""
    if any(row.told.get(name, "").strip() for name in (*SERIALS, "serials of")):
        return "", ""
    found = [cell for cell in row.beside if perhaps_serials(*cell)]
    if len(found) != 1:
        return "", ""
    counted = component_of(*found[0])
    return (counted, found[0][1]) if counted else ("", "")


def written(row: LinkRow) -> str:
    """The serials of a row as they stand in it, on one line; "" where it has none."""
    if row.told.get(AS_FOUND):
        return " ".join(row.told[AS_FOUND].split())[:MOST_TEXT]
    whole, low, high = (" ".join(row.told.get(name, "").split()) for name in SERIALS)
    ends = [f"from {low}"] * bool(low) + [f"to {high}"] * bool(high)
    cells = [whole] * bool(whole) + [" ".join(ends)] * bool(ends)
    if not cells:
        cells = [f"{label} {text}" for label, text in row.beside if perhaps_serials(label, text)]
    return " | ".join(" ".join(cell.split()) for cell in cells)[:MOST_TEXT]
