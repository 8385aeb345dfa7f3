"""A range whose two ends stand in two places: two cells of a list, or two options."""

from __future__ import annotations

from collections.abc import Collection

from xref.domain.number import visible
from xref.domain.serial import WORKS, read_serial, read_serials
from xref.domain.serial_range import EVERY_SERIAL, SerialRange, SerialSet
from xref.domain.serial_tokens import tokens
from xref.domain.serial_words import ONWARD
from xref.errors import InputError


def read_from_to(
    low: str, high: str, known: Collection[str] = (), component: str = WORKS
) -> SerialSet:
    """The serials from ``low`` to ``high``, both included; "" is an open end.

    Each may have words of its own, where they say the same: "4512 on" as the first, "up to 499" or
    "on" as the last. Raises InputError.
    """
    if not low.strip() and not high.strip():
        return EVERY_SERIAL
    if not high.strip():
        return _alone(low, known, component, "")
    if not low.strip():
        found = _alone(high, known, component, high)
        if found.ranges[-1].high is None:
            raise InputError(
                f'"{visible(high)}" has no end and stands as the last serial',
                "Write the last serial, or give it as the first.",
            )
        return found
    first = _one(low, known, component)
    last = None if _is_onward(high) else _one(high, known, component)
    start, end = first.low, last.high if last else None
    up = start is not None and first.high in (None, start)
    down = last is None or (end is not None and last.low in (None, end))
    if not (up and down):
        raise InputError(
            f'"{visible(low)}" and "{visible(high)}" are no two ends of a range',
            "Give one serial for each end.",
        )
    if last is None:
        return SerialSet((SerialRange(start, None),))
    return read_serials(f"{start} to {end}", known, component)


def _alone(text: str, known: Collection[str], component: str, last: str) -> SerialSet:
    """The set of the only end that is given; a bare serial is the ``last`` one or the first."""
    try:
        one = read_serial(text, known, component)
    except InputError:
        return read_serials(text, known, component)
    return SerialSet((SerialRange(None, one) if last else SerialRange(one, None),))


def _one(text: str, known: Collection[str], component: str) -> SerialRange:
    """The only range of a cell. Raises InputError where it has several."""
    try:
        one = read_serial(text, known, component)
    except InputError:
        found = read_serials(text, known, component)
        if len(found.ranges) != 1 or found.exceptions:
            raise InputError(
                f'"{visible(text)}" is no end of a range', "Give one serial."
            ) from None
        return found.ranges[0]
    return SerialRange(one, one)


def _is_onward(text: str) -> bool:
    """Whether a cell says "on" and no more."""
    try:
        found = tokens(text, ())
    except InputError:
        return False
    return bool(found) and all(ONWARD in token.means for token in found)
