"""Marks on the metal of a part, as they were found."""

from __future__ import annotations

from xref.domain.line import needed_line
from xref.domain.mark import read_mark
from xref.domain.number import MAX_MARK, searchable, visible
from xref.domain.part import PartMark
from xref.errors import InputError
from xref.services.parts.naming import Named, find_or_mention
from xref.services.parts.part import takes_suffix
from xref.services.parts.source import source_id_of
from xref.store.write.unit import UnitOfWork

ROLES = ("number", "casting", "size", "date", "other")


def add(
    unit: UnitOfWork, number: str, text: str, role: str, maker: str | None = None, source: str = ""
) -> Named:
    """Note what is on the metal of a part; a mark that is noted already is not noted again.

    A number that is not there is made as mentioned only. Raises InputError for an unknown role,
    and for a mark of the number role that is not certain or cannot be searched.
    """
    mark = checked(text, role)
    named = find_or_mention(unit, number, maker)
    if mark not in named.part.marks:
        suffixed = role == "number" and takes_suffix(mark.text)
        unit.add_mark(named.part.id, mark, source_id_of(unit, source), takes_suffix=suffixed)
    return named


def checked(text: str, role: str) -> PartMark:
    """The mark as it is kept. Raises InputError as ``add`` does."""
    if role not in ROLES:
        raise InputError(f'no role is called "{visible(role)}"', f"Use {', '.join(ROLES)}.")
    mark = PartMark(needed_line(text, MAX_MARK, "mark"), role)
    if role == "number":
        searchable(text, "mark")
        if not read_mark(text).certain:
            raise InputError(
                "a number mark must be certain", "Search an uncertain one with identify."
            )
    return mark
