"""Serial numbers and ranges of them, read as people write them.

A prefix is joined to its number (QW312, QW-312), belongs to the model (then "QW 312" too), or is
shown to be one by the line itself ("QW 101 to QW 499"). The words of ranges stand in a table of
several languages; what is not understood is refused with the piece that was not.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Sequence

from xref.domain import serial_words as w
from xref.domain.number import visible
from xref.domain.serial_range import EVERY_SERIAL, IN, Serial, SerialRange, SerialSet
from xref.domain.serial_reader import SerialReader
from xref.domain.serial_tokens import Token, tokens
from xref.errors import InputError

MOST_TEXT = 300
"""Characters that a set of serials may have: what the store keeps of one."""

WORKS = "works"
"""The component whose serial counts unless another is named: the machine's own works number."""

_THOUSANDS = re.compile(r"(?<!\d)\d{1,2},\d{3}(?!\d)")
"""1,234: one serial with its thousands parted, or two serials."""
_APART = re.compile(r"([A-Z]{1,4}) ([0-9]{1,12})([A-Z]{0,2})")


def read_serial(text: str, known: Collection[str] = (), component: str = WORKS) -> Serial:
    """One serial as written, 1,234 being 1234.

    Letters that stand apart are its prefix here ("E 1187"), unless they are a word: a mark, a
    month, a word of ranges. Raises InputError where it is no serial.
    """
    plain = re.sub(r"(?<=\d),(?=\d{3}(?!\d))", "", text)
    _not_long(plain)
    flat = w.flattened(plain)
    apart = _APART.fullmatch(flat)
    if apart and not w.means_of(apart[1]) - {w.AND}:
        flat = f"{apart[1]}-{apart[2]}{apart[3]}"
    try:
        found = _unlabelled(tokens(flat, known), component)
    except InputError as error:
        raise InputError(f'"{visible(text)}" is not a serial', error.hint) from None
    if len(found) != 1 or found[0].serial is None:
        raise InputError(
            f'"{visible(text)}" is not a serial', "Write prefix and number, such as QW312 or 312A."
        )
    return found[0].serial


def read_serials(text: str, known: Collection[str] = (), component: str = WORKS) -> SerialSet:
    """A set of serials as people write it; "" and "all" are every serial.

    ``QW312`` · ``QW312-up`` · ``to QW499`` · ``before QW500`` · ``QW101–499`` · ``ab 4512`` ·
    ``S/N 101 thru 499 exc. 230-240`` · several parted by commas. ``known`` are prefixes of the
    model, ``component`` is the one whose serials are meant. Raises InputError that quotes the piece
    that was not understood, or that may mean two things (1,234 and 12A-340).
    """
    _not_long(text)
    if not text.strip():
        return EVERY_SERIAL
    _one_or_two(text)
    reader = SerialReader(_unlabelled(tokens(text, known), component), text)
    found = reader.whole()
    for left_out in found.exceptions:
        if not any(_meet(held, left_out) for held in found.ranges):
            raise InputError(
                f'"{left_out}" is excepted in "{visible(text)}" from ranges that do not hold it',
                "Write every range before the exceptions.",
            )
    return found


def _not_long(text: str) -> None:
    if len(text) > MOST_TEXT:
        raise InputError(
            f"the serials have {len(text)} characters; the most is {MOST_TEXT}",
            "Give one range at a time.",
        )


def _one_or_two(text: str) -> None:
    found = _THOUSANDS.search(text)
    if found:
        one, two = found[0].replace(",", ""), found[0].replace(",", ", ")
        raise InputError(
            f'"{found[0]}" may be one serial or two', f'Write {one} for one, "{two}" for two.'
        )


def _unlabelled(found: Sequence[Token], component: str) -> list[Token]:
    """The tokens without "S/N" and the like. Raises InputError where they name a component whose
    serials are not the ones meant."""
    kept = []
    for token in found:
        other = token.means & w.COMPONENTS
        if other and component not in other and w.LABEL not in token.means:
            name = min(other)
            raise InputError(
                f'"{visible(token.text)}" counts by the {name} serial',
                f"Say --counts {name}, or leave the word out.",
            )
        if not other and w.LABEL not in token.means:
            kept.append(token)
    return kept


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
