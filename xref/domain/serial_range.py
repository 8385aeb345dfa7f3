"""Serial numbers, and the ranges of them that parts books give.

A serial is a prefix, a number and perhaps a suffix letter: ``QW312``, ``QW-312A``, ``312``. Serials
are compared within one prefix only, unless the model lists its prefixes in order of build.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

NEAR_BREAK = 10
"""Serials this near to the end of a range are near a break: makers used up old stock. Judged."""

IN, OUT, UNKNOWN = "in", "out", "unknown"
EARLIER, LATER = "earlier", "later"


@dataclass(frozen=True, slots=True)
class Serial:
    """One serial; ``place`` orders it within its prefix, and there is no order across them."""

    prefix: str
    number: int
    suffix: str = ""

    def __str__(self) -> str:
        return f"{self.prefix}{self.number}{self.suffix}"

    @property
    def place(self) -> tuple[int, int, str]:
        """Where it stands within its prefix: "" before "A", and "Z" before "AA"."""
        return (self.number, len(self.suffix), self.suffix)


@dataclass(frozen=True, slots=True)
class SerialRange:
    """From ``low`` to ``high``, both included; None is an open end, both None every serial.

    A ``high`` without a suffix includes every suffix of that number.
    """

    low: Serial | None
    high: Serial | None

    @property
    def prefix(self) -> str:
        """The prefix its ends share; "" where it has none."""
        end = self.low or self.high
        return end.prefix if end else ""

    def __str__(self) -> str:
        if self.low is None and self.high is None:
            return "all"
        if self.low is None:
            return f"to {self.high}"
        if self.high is None:
            return f"{self.low}-up"
        if self.low == self.high:
            # 101/499 alone would be taken for a range.
            return str(self.low) if self.low.prefix.strip("/0123456789") else self._only()
        # 12A-340 would be one serial of the prefix 12A.
        apart = " to " if self.low.suffix and not self.high.prefix else "-"
        return f"{self.low}{apart}{self.high}"

    def _only(self) -> str:
        return f"{self.low} only" if self.prefix else str(self.low)

    def holds(self, serial: Serial, order: Sequence[str] = ()) -> str:
        """``in``, ``out`` or ``unknown``; across prefixes only where both stand in ``order``."""
        if self.low is None and self.high is None:
            return IN
        if serial.prefix != self.prefix:
            return self._across(serial, order)
        low_ok = self.low is None or serial.place >= self.low.place
        return IN if low_ok and self._under_high(serial) else OUT

    def _under_high(self, serial: Serial) -> bool:
        if self.high is None:
            return True
        if not self.high.suffix:
            return serial.number <= self.high.number
        return serial.place <= self.high.place

    def beside(self, serial: Serial, order: Sequence[str] = ()) -> str:
        """``later`` where it begins after ``serial``, ``earlier`` where it ends before; else ""."""
        if self.holds(serial, order) != OUT:
            return ""
        if serial.prefix != self.prefix:
            return LATER if order.index(self.prefix) > order.index(serial.prefix) else EARLIER
        return LATER if self.low is not None and serial.place < self.low.place else EARLIER

    def _across(self, serial: Serial, order: Sequence[str]) -> str:
        if serial.prefix not in order or self.prefix not in order:
            return UNKNOWN
        later = order.index(serial.prefix) > order.index(self.prefix)
        open_that_way = self.high is None if later else self.low is None
        return IN if open_that_way else OUT


@dataclass(frozen=True, slots=True)
class SerialSet:
    """Several ranges less some exceptions.

    ``unread`` is the text of serials that were not understood: such a set has no ranges, and
    whether it holds a serial is unknown. It is never every serial.
    """

    ranges: tuple[SerialRange, ...]
    exceptions: tuple[SerialRange, ...] = ()
    unread: str = ""

    def __str__(self) -> str:
        """In plain writing that reads back as the same set; "" is never every serial."""
        if self.unread:
            return f'not understood: "{self.unread}"'
        prefix = ""
        told = []
        for held in (*self.ranges, *self.exceptions):
            end = held.low or held.high
            # A serial without letters takes those before it, unless it is said to be bare.
            told.append(f"bare {held}" if end and prefix and not held.prefix else str(held))
            prefix = held.prefix or prefix
        wanted, left_out = told[: len(self.ranges)], told[len(self.ranges) :]
        return ", ".join(wanted) + (" exc. " + ", ".join(left_out) if left_out else "")

    @property
    def every(self) -> bool:
        """Whether it is every serial, with no exception."""
        return self == EVERY_SERIAL

    @property
    def written(self) -> str:
        """As a cell of a list has it: the text itself where it was not understood, "" for every."""
        return self.unread or ("" if self.every else str(self))

    def holds(self, serial: Serial, order: Sequence[str] = ()) -> str:
        """``in``, ``out``, or ``unknown`` where no range can be compared with the serial."""
        if any(r.holds(serial, order) == IN for r in self.exceptions):
            return OUT
        found = [r.holds(serial, order) for r in self.ranges]
        if IN in found:
            return IN
        return UNKNOWN if all(f == UNKNOWN for f in found) else OUT

    def beside(self, serial: Serial, order: Sequence[str] = ()) -> str:
        """``later`` or ``earlier`` where all its ranges are; "" where they are not of one mind."""
        sides = {held.beside(serial, order) for held in self.ranges}
        return sides.pop() if len(sides) == 1 else ""

    def near_break(self, serial: Serial) -> str:
        """The end of a range within NEAR_BREAK of the serial, "" for none.

        A range of one serial is no break.
        """
        for held in (*self.ranges, *self.exceptions):
            if held.low == held.high:
                continue
            for end in (held.low, held.high):
                if end is not None and end.prefix == serial.prefix:
                    apart = abs(end.number - serial.number)
                    if apart <= NEAR_BREAK:
                        return str(end)
        return ""

    def with_prefix(self, prefix: str) -> SerialSet:
        """The same set with ``prefix`` where none was written."""

        def filled(held: SerialRange) -> SerialRange:
            low, high = (
                replace(e, prefix=prefix) if e and not e.prefix else e
                for e in (held.low, held.high)
            )
            return SerialRange(low, high)

        ranges, exceptions = tuple(map(filled, self.ranges)), tuple(map(filled, self.exceptions))
        return replace(self, ranges=ranges, exceptions=exceptions)


EVERY_SERIAL = SerialSet((SerialRange(None, None),))


def not_read(text: str) -> SerialSet:
    """The set of serials that ``text`` means and that was not understood."""
    return SerialSet((), (), text)
