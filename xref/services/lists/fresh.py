"""A part made from a row, as ``parts.own_part`` makes one, without its slow steps where it may."""

from __future__ import annotations

from functools import lru_cache

from xref.domain.number import key, plain
from xref.errors import InputError
from xref.services.parts.part import own_part, plain_words
from xref.sheets.part_row import PartRow
from xref.standards.lookup import find
from xref.store.write.record import Record

MOST_MAKER = 120
MOST_NOTE = 500


def fresh_record(row: PartRow, maker: str, maker_id: int) -> Record:
    """The part of a row that is not on record, with number and maker only.

    Where no standard's table has the number, it has no twin there and takes no suffix.
    """
    if find(row.number):
        return Record.of(own_part(row.number, maker), maker_id)
    group = f"own:{maker_key(maker)}:{row.key}"
    return Record(row.number, row.key, row.folded, maker, maker_id, group)


@lru_cache(maxsize=4096)
def maker_key(maker: str) -> str:
    """The key of a maker's name, "" for none."""
    return key(maker) if maker else ""


@lru_cache(maxsize=4096)
def maker_fault(maker: str) -> str:
    """Why a text can be no maker's name; "" where it can."""
    try:
        plain(maker, MOST_MAKER, "maker")
        key(maker)
    except InputError as error:
        return error.message
    return ""


@lru_cache(maxsize=16_384)
def words_or_fault(words: str) -> tuple[str, str]:
    """A description as it is kept, or "" and why it cannot be."""
    try:
        return plain_words(words), ""
    except InputError as error:
        return "", error.message


def note_or_fault(note: str) -> tuple[str, str]:
    """A note as it is kept, or "" and why it cannot be."""
    try:
        plain(note, MOST_NOTE, "note")
    except InputError as error:
        return "", error.message
    return note, ""
