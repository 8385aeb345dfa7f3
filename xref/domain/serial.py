"""Serial numbers and ranges of them, read as people write them."""

from __future__ import annotations

import re

from xref.domain.number import visible
from xref.domain.serial_range import EVERY_SERIAL, IN, Serial, SerialRange, SerialSet
from xref.errors import InputError

MOST_TEXT = 300
"""Characters that a set of serials may have: what the store keeps of one."""

_SERIAL = re.compile(
    r"(?P<prefix>(?:[A-Z0-9/]*[A-Z/])?)[ \-.]*(?P<number>\d{1,12})(?P<suffix>[A-Z]{0,2})"
)
_LABEL = re.compile(r"\b(?:S/N|SN|SERIALS?|SER\.?|NUMBERS?|NOS?\.?|MACHINES?)(?=[\s:.]|$)[\s:.]*")
_EXCEPT = re.compile(
    r"\s*\b(?:EXCEPT(?: FOR)?|EXC\b\.?|EXCLUDING|EXCL\b\.?|BUT NOT|LESS|WITHOUT)\s*"
)
_AND = re.compile(
    r"\s*(?:,|;|\+(?=\s*\S)|(?:&|\bAND\b)(?!\s*(?:INCL|UP|ON|ABOVE|LATER|AFTER|SUBS|EARLIER|BEFORE|BELOW)))"
    r"\s*"
)
_UP = re.compile(
    r"(?:\s*[-–]\s*|\s+(?:AND|OR)\s+|\s*&\s*|\s+)"
    r"(?:UP|ON|ONWARDS?|ABOVE|LATER|AFTER|UPWARDS?|SUBS(?:EQUENT|EQ)?\.?)$|\s*\+$|\s*[-–]\s*$"
)
_FROM = re.compile(r"^(?:FROM|SINCE|STARTING(?: AT)?)\s+")
_INCLUDING = r"(?:\s*(?:AND|&)\s*INCL(?:UDING|\.)?)?"
_UP_TO = re.compile(rf"^(?:(?:UP\s+)?TO{_INCLUDING}|UNTIL|THRU|THROUGH|[-–])\s*")
_BEFORE = re.compile(r"^BEFORE\s+")
_EARLIER = re.compile(r"(?:\s+(?:AND|OR)\s+|\s*&\s*)(?:EARLIER|BEFORE|BELOW)$")
_BETWEEN = re.compile(rf"\s*(?:–|\.\.\.?|…|\bTHRU\b|\bTHROUGH\b|\b(?:UP\s+)?TO\b{_INCLUDING}|-)\s*")
_BRACKETS = re.compile(r"[()\[\]]")
"""Exceptions often stand in brackets."""
_NO_PREFIX = frozenset(
    {
        "ABOUT",
        "ABOVE",
        "AFTER",
        "APPROX",
        "BEFORE",
        "BELOW",
        "BEYOND",
        "CIRCA",
        "EARLY",
        "FROM",
        "LATE",
        "NEAR",
        "NOT",
        "ONLY",
        "OVER",
        "PAST",
        "ROUND",
        "SINCE",
        "THROUGH",
        "THRU",
        "TO",
        "UNDER",
        "UNTIL",
        "UP",
    }
)
"""Words that say something about a serial: read as its prefix they would be lost in silence."""
_THOUSANDS = re.compile(r"(?<!\d)\d{1,2},\d{3}(?!\d)")
"""1,234: one serial with its thousands parted, or two serials."""
_EVERY = frozenset({"ALL", "EVERY", "ANY"})


def read_serial(text: str) -> Serial:
    """One serial as written, 1,234 being 1234. Raises InputError where it has no number."""
    plain = re.sub(r"(?<=\d),(?=\d{3}(?!\d))", "", _plain(text))
    found = _match(plain)
    if found is None:
        raise InputError(
            f'"{visible(text)}" is not a serial', "Write prefix and number, such as QW312 or 312A."
        )
    return Serial(found["prefix"], int(found["number"]), found["suffix"])


def read_serials(text: str) -> SerialSet:
    """A set of serials as people write it; "" and "all" are every serial.

    ``QW312`` · ``QW 312-up`` · ``to QW499`` · ``before QW500`` · ``QW101–499`` ·
    ``S/N 101 thru 499 exc. 230-240`` · several parted by commas. Raises InputError that quotes the
    piece that was not understood, or that may be one serial or two (1,234).
    """
    plain = _plain(text)
    if not plain or plain in _EVERY:
        return EVERY_SERIAL
    _one_or_two(plain)
    wanted, *excepted = _EXCEPT.split(plain)
    prefix = ""
    read: list[list[SerialRange]] = []
    for part in (wanted, *excepted):
        ranges = []
        for piece in _AND.split(part):
            if piece in _EVERY:
                ranges.append(SerialRange(None, None))
                continue
            held = _piece(piece, prefix, text)
            prefix = held.prefix or prefix
            ranges.append(held)
        read.append(ranges)
    found = SerialSet(tuple(read[0]), tuple(r for ranges in read[1:] for r in ranges))
    for left_out in found.exceptions:
        if not any(_meet(held, left_out) for held in found.ranges):
            raise InputError(
                f'"{left_out}" is excepted in "{visible(text)}" from ranges that do not hold it',
                "Write every range before the exceptions.",
            )
    return found


def _one_or_two(plain: str) -> None:
    found = _THOUSANDS.search(plain)
    if found:
        one, two = found[0].replace(",", ""), found[0].replace(",", ", ")
        raise InputError(
            f'"{found[0]}" may be one serial or two', f'Write {one} for one, "{two}" for two.'
        )


def _meet(held: SerialRange, left_out: SerialRange) -> bool:
    """Whether an exception takes anything from a range; an open one may run into other prefixes."""
    if held.prefix != left_out.prefix:
        return held.low is None or held.high is None
    ends = [
        (held, left_out.low),
        (held, left_out.high),
        (left_out, held.low),
        (left_out, held.high),
    ]
    every = left_out.low is None and left_out.high is None
    return every or any(end and wide.holds(end) == IN for wide, end in ends)


def _match(text: str) -> re.Match[str] | None:
    found = _SERIAL.fullmatch(text)
    return None if found is None or found["prefix"] in _NO_PREFIX else found


def _plain(text: str) -> str:
    if len(text) > MOST_TEXT:
        raise InputError(
            f"the serials have {len(text)} characters; the most is {MOST_TEXT}",
            "Give one range at a time.",
        )
    flat = " ".join(_BRACKETS.sub(" ", text.upper().replace("—", "–")).split())
    return _LABEL.sub("", flat).strip()


def _piece(piece: str, prefix: str, whole: str) -> SerialRange:
    before = _BEFORE.match(piece)
    if before:
        end = _one(piece[before.end() :], prefix, whole)
        if end.number == 0:
            raise _refused(piece, whole)
        return SerialRange(None, Serial(end.prefix, end.number - 1))
    up_to = _UP_TO.match(piece)
    if up_to:
        return SerialRange(None, _one(piece[up_to.end() :], prefix, whole))
    earlier = _EARLIER.search(piece)
    if earlier:
        return SerialRange(None, _one(piece[: earlier.start()], prefix, whole))
    bare = _FROM.sub("", piece)
    up = _UP.search(bare)
    if up:
        return SerialRange(_one(bare[: up.start()], prefix, whole), None)
    if bare != piece and not _BETWEEN.search(bare):
        return SerialRange(_one(bare, prefix, whole), None)
    return _two(bare, prefix, whole)


def _two(piece: str, prefix: str, whole: str) -> SerialRange:
    single = _match(piece)
    if single:
        one = _one(piece, prefix, whole)
        return SerialRange(one, one)
    for cut in _BETWEEN.finditer(piece):
        left, right = piece[: cut.start()], piece[cut.end() :]
        if _match(left) and _match(right):
            low = _one(left, prefix, whole)
            high = _one(right, low.prefix, whole)
            if high.prefix != low.prefix:
                raise InputError(
                    f'"{visible(piece)}" runs from one prefix to another',
                    f"Write {low}-up and to {high} as two ranges.",
                )
            if high.place < low.place:
                raise InputError(
                    f'"{visible(piece)}" runs backwards', "Write the lower serial first, in full."
                )
            return SerialRange(low, high)
    raise _refused(piece, whole)


def _one(piece: str, prefix: str, whole: str) -> Serial:
    found = _match(piece.strip())
    if found is None:
        raise _refused(piece, whole)
    return Serial(found["prefix"] or prefix, int(found["number"]), found["suffix"])


def _refused(piece: str, whole: str) -> InputError:
    if not piece.strip():
        hint = 'Write for example "QW101-QW499 exc. QW230".'
        return InputError(f'a serial is missing in "{visible(whole)}"', hint)
    within = "" if piece == _plain(whole) else f' in "{visible(whole)}"'
    return InputError(
        f'"{visible(piece)}"{within} is not understood as serials',
        'Write for example "QW101-QW499 exc. QW230-240", "QW312-up" or "to QW300".',
    )
