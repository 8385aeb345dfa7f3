"""Numbers that commands name: found, or written down as mentioned only."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Protocol

from sqlalchemy import Connection

from xref.domain.part import Part
from xref.errors import AmbiguousError
from xref.services.parts.part import own_part
from xref.store.read.queries import find_own_first
from xref.store.write.unit import UnitOfWork


@dataclass(frozen=True, slots=True)
class Named:
    """A part that a command named; ``made`` where it was not there and is now mentioned only."""

    part: Part
    made: bool


class Names(Protocol):
    """Where numbers are looked up, and new ones written down."""

    def find(self, text: str, maker_name: str | None) -> Part | None:
        """The part that ``text`` names; None for none. Raises AmbiguousError for several."""

    def add(self, new: Part) -> Part:
        """Write a part down and return it with its id."""


@dataclass(frozen=True, slots=True)
class _Stored:
    """The numbers in the store itself."""

    unit: UnitOfWork

    def find(self, text: str, maker_name: str | None) -> Part | None:
        return find_own_first(self.unit.conn, text, maker_name)

    def add(self, new: Part) -> Part:
        return replace(new, id=self.unit.add_part(new))


def find_or_mention(
    unit: UnitOfWork, number: str, maker: str | None = None, other_maker: str = ""
) -> Named:
    """As ``named_in``, in the store."""
    return named_in(_Stored(unit), number, maker, other_maker)


def mention_beside(unit: UnitOfWork, number: str, maker: str | None, other_maker: str) -> Named:
    """As ``find_or_mention``, but the other side's maker is only whose a new number is.

    Among several of ``number`` it never chooses. Raises AmbiguousError for those.
    """
    there = find_own_first(unit.conn, number, maker)
    return find_or_mention(unit, number, maker, "" if there else other_maker)


def maker_beside(conn: Connection, number: str) -> str:
    """Whose the numbers beside ``number`` are taken to be: its part's maker, else the one in
    ``M:NUMBER``; "" where that is not known, or several have it."""
    try:
        there = find_own_first(conn, number)
    except AmbiguousError:
        return ""
    if there is not None:
        return there.own_maker
    before, _, after = number.partition(":")
    return before.strip() if after.strip() else ""


def named_in(names: Names, number: str, maker: str | None = None, other_maker: str = "") -> Named:
    """The part that ``number`` names, written down as mentioned only where it is not there.

    It is looked for under ``maker`` where one is given. A new one goes under ``maker``, else under
    the other side's maker, else under the maker in ``M:NUMBER``. ``:NUMBER`` is one of no known
    maker. Raises InputError and AmbiguousError as ``resolve`` does.
    """
    if maker is None and number[:1] == ":" and number[1:].strip():
        number, maker, other_maker = number[1:], "", ""
    try:
        there = names.find(number, maker)
    except AmbiguousError:
        if maker is not None or not other_maker:
            raise
        there = names.find(number, other_maker)
    if there is not None:
        return Named(there, False)
    whose, text = maker or other_maker, number
    before, colon, after = number.partition(":")
    if maker is None and colon and before.strip() and after.strip():
        whose, text = before.strip(), after.strip()
    return Named(names.add(replace(own_part(text, whose), status="mentioned")), True)
