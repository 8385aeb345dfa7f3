"""The form in which the store keeps a set of serials: it reads back exactly, and nothing guesses.

``QW:101..QW:499A !QW:230`` is QW101 to QW499A without QW230. Each serial is ``PREFIX:NUMBERSUFFIX``
(``:312`` has no prefix), ``..`` stands between two ends, an open end is empty, ``..`` alone is
every serial and an exception has ``!`` before it. ``?`` is a set that was not understood; its text
is kept beside it.
"""

from __future__ import annotations

import re

from xref.domain.serial_range import Serial, SerialRange, SerialSet, not_read

MOST_STORED = 1000
"""Characters of a stored set."""
EVERY, UNREAD = "..", "?"

_SERIAL = re.compile(r"([A-Z0-9/]*):([0-9]{1,13})([A-Z]{0,2})")


def stored(serials: SerialSet) -> str:
    """``serials`` as the store keeps them."""
    if serials.unread:
        return UNREAD
    kept = [_range(held) for held in serials.ranges]
    return " ".join([*kept, *(f"!{_range(held)}" for held in serials.exceptions)])


def from_stored(text: str, as_found: str = "") -> SerialSet:
    """The set that ``stored`` wrote, ``as_found`` being its text where it was not understood.

    Raises ValueError for anything else.
    """
    if text == UNREAD:
        return not_read(as_found or UNREAD)
    pieces = text.split(" ")
    wanted = tuple(_ends(piece) for piece in pieces if not piece.startswith("!"))
    left_out = tuple(_ends(piece[1:]) for piece in pieces if piece.startswith("!"))
    return SerialSet(wanted, left_out)


def _range(held: SerialRange) -> str:
    if held.low is not None and held.low == held.high:
        return _one(held.low)
    return f"{_one(held.low)}..{_one(held.high)}"


def _one(end: Serial | None) -> str:
    return f"{end.prefix}:{end.number}{end.suffix}" if end else ""


def _ends(piece: str) -> SerialRange:
    low, between, high = piece.partition("..")
    if not between:
        one = _serial(low)
        if one is None:
            raise ValueError(f"{piece!r} is no stored range of serials")
        return SerialRange(one, one)
    return SerialRange(_serial(low), _serial(high))


def _serial(text: str) -> Serial | None:
    if not text:
        return None
    found = _SERIAL.fullmatch(text)
    if found is None:
        raise ValueError(f"{text!r} is no stored serial")
    return Serial(found[1], int(found[2]), found[3])
