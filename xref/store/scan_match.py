"""Which spellings lie within a few faults of a reading, all of them at once.

The table of the edit distance, filled in once for all spellings: a cell holds the bitmap of the
spellings of which so many characters can have been read as the signs so far. Costs are whole here,
in the rough proportion of the channel model's: a character passed over, two swapped, or up to
``WORN`` gone from an end cost 1; one taken for another or added, 2; look-alikes are one character.

A cell is named by how many signs are read and by its *shift*: characters used less signs read. What
must still come is counted in: where the signs left cannot fit the characters left of any spelling
here, the cell is filled only at a cost that leaves enough for that (this is the A* search of the
textbooks). Spellings of one length at a time therefore leave most cells untouched.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from xref.domain.mark import Mark
from xref.domain.number import skeleton
from xref.store.scan_planes import LONGEST, PLACES, plane_of, plane_of_length

WORN = 3
SHORTEST_BASE = 3
"""Characters of the shortest designation that a suffix follows."""

Sign = str | None
"""The classes that may stand there, "" for any one, None for a lost stretch."""
Column = dict[int, int]
"""Spellings by shift, after the same signs. A cell that is not there is empty."""


def signs_of(mark: Mark) -> tuple[Sign, ...]:
    """The signs of a mark as the classes that skeletons are made of."""
    return tuple(
        None if sign.lost else "".join(sorted({skeleton(c) for c in sign.chars}))
        for sign in mark.signs
    )


def planes_for(signs: Sequence[Sign], cost: int) -> list[int]:
    """The codes of every plane that a scan up to this cost may look at."""
    codes = [plane_of_length(length) for length in range(1, LONGEST + 1)]
    free = None in signs
    for at, sign in enumerate(signs):
        first, last = (0, PLACES) if free else (at - cost // 2 - 1, at + cost + WORN + 1)
        for char in sign or "":
            codes += [plane_of(place, char) for place in range(max(0, first), min(last, PLACES))]
    return list(dict.fromkeys(codes))


def _gone(count: int) -> int:
    """The least that so many characters gone cost: an end worn, and more passed over."""
    return count if count < 2 else max(1, count - WORN + 1)


class Scan:
    """One reading against some spellings, one more step in cost at a time.

    ``tails`` says that a suffix may follow these spellings.
    """

    def __init__(
        self, signs: Sequence[Sign], planes: Mapping[int, int], tails: bool = False
    ) -> None:
        self.signs = signs
        self.planes = planes
        lengths = ((n, planes.get(plane_of_length(n), 0)) for n in range(1, LONGEST + 1))
        self.lengths = {n: bits for n, bits in lengths if bits}
        self.all = 0
        for bits in self.lengths.values():
            self.all |= bits
        self.hits: list[int] = []
        """Bitmaps of the spellings at a cost of 0, 1 … or less."""
        self.tails: list[list[int]] = []
        """The same for spellings that end before the reading does, for each number of signs that
        the spelling may be."""
        self._open = tails
        self._tables: list[list[Column]] = []
        """By cost, what must still come counted in, and signs read."""
        self._stands: dict[tuple[int, int], int] = {}
        self._crosses: dict[tuple[int, int], int] = {}
        self._used = [sum(sign is not None for sign in signs[:at]) for at in range(len(signs) + 1)]
        lost = [at for at, sign in enumerate(signs) if sign is None]
        first, last = (lost[0], lost[-1]) if lost else (len(signs), -1)
        self._to_come = [self._rests(at <= last) for at in range(len(signs) + 1)]
        self._least = [self._leasts(at, at > first) for at in range(len(signs) + 1)]

    def _rests(self, lost_ahead: bool) -> dict[int, int]:
        """The least that what must still come costs, by shift."""
        if not self.lengths:
            return {}
        shortest, longest, size = min(self.lengths), max(self.lengths), self._used[-1]
        costs = {}
        for shift in range(-size, longest + 1):
            wanted = size + shift
            costs[shift] = 0
            if wanted > longest and not self._open:
                costs[shift] = 2 * (wanted - longest)
            elif wanted < shortest and not lost_ahead:
                costs[shift] = _gone(shortest - wanted)
        return costs

    def _leasts(self, at: int, lost_before: bool) -> dict[int, int]:
        """The least cost of any way through the cell after ``at`` signs, by shift."""
        most = max(self.lengths, default=0) - self._used[at]
        costs = {}
        for shift, rest in self._to_come[at].items():
            if -self._used[at] <= shift <= (most if at else min(most, WORN)):
                before = -2 * shift if shift < 0 else 0 if lost_before else _gone(shift)
                costs[shift] = before + rest
        return costs

    def one_more(self) -> int:
        """Those found at a cost of one more than before (of none at first), or less."""
        cost = len(self._tables)
        start = {s: self.all for s, least in self._least[0].items() if s >= 0 and least <= cost}
        self._tables.append([start])
        for at, sign in enumerate(self.signs):
            self._tables[cost].append(
                self._stretch(cost, at) if sign is None else self._step(cost, at)
            )
        hits = self._ended(cost, len(self.signs)) | self._worn(cost)
        self.hits.append(hits)
        if self._open:
            ends = range(SHORTEST_BASE, len(self.signs))
            self.tails.append([self._ended(cost, at) for at in ends])
        return hits

    def _cell(self, cost: int, at: int, shift: int) -> int:
        return self._tables[cost][at].get(shift, 0) if cost >= 0 else 0

    def _stand(self, at: int, place: int) -> int:
        """Where a character that sign ``at`` may be stands at ``place``."""
        sign = self.signs[at]
        if sign is None or place < 0:
            return 0
        if not sign or place >= PLACES:
            return self.all
        bits = self._stands.get((at, place))
        if bits is None:
            bits = 0
            for char in sign:
                bits |= self.planes.get(plane_of(place, char), 0)
            self._stands[at, place] = bits
        return bits

    def _crossed(self, at: int, place: int) -> int:
        """Where sign ``at`` stands at ``place`` and the sign before it behind that."""
        bits = self._crosses.get((at, place))
        if bits is None:
            bits = self._stand(at, place) & self._stand(at - 1, place + 1)
            self._crosses[at, place] = bits
        return bits

    def _stretch(self, cost: int, at: int) -> Column:
        """A lost stretch: any number of characters gone, none included."""
        here, there = self._to_come[at], self._to_come[at + 1]
        following: Column = {}
        for shift, least in self._least[at + 1].items():
            if least > cost:
                continue
            bits = 0
            for before in self._least[at]:
                if before <= shift:
                    bits |= self._cell(cost - there[shift] + here[before], at, before)
            if bits:
                following[shift] = bits
        return following

    def _step(self, cost: int, at: int) -> Column:
        """One more sign: read right; or a character passed over, swapped, misread or added."""
        used, rest = self._used[at], self._to_come[at]
        right = self._tables[cost][at]
        misread = self._tables[cost - 2][at] if cost > 1 else {}
        swapped = self._tables[cost - 1][at - 1] if cost and at else {}
        following: Column = {}
        self._tables[cost].append(following)
        for shift, least in self._least[at + 1].items():
            if least > cost:
                continue
            bits = right.get(shift, 0)
            if bits:
                bits &= self._stand(at, used + shift)
            if shift in misread:
                bits |= misread[shift]
            if shift in swapped:
                bits |= swapped[shift] & self._crossed(at, used - 1 + shift)
            come = rest[shift]
            if shift - 1 in rest:
                bits |= self._cell(cost - 1 - come + rest[shift - 1], at + 1, shift - 1)
            if shift + 1 in rest:
                bits |= self._cell(cost - 2 - come + rest[shift + 1], at, shift + 1)
            if bits:
                following[shift] = bits
        return self._tables[cost].pop()

    def _ended(self, cost: int, at: int) -> int:
        """Those that end where ``at`` signs are read."""
        hits = 0
        for shift, bits in self._tables[cost][at].items():
            hits |= bits & self.lengths.get(self._used[at] + shift, 0)
        return hits

    def _worn(self, cost: int) -> int:
        """Those of which up to ``WORN`` more characters stood at the end."""
        hits = 0
        size = self._used[-1]
        for shift in self._least[-1]:
            rest = self._to_come[-1][shift]
            bits = self._cell(cost - 1 + rest, -1, shift) if rest < 2 else 0
            if bits:
                ends = 0
                for more in range(1, WORN + 1):
                    ends |= self.lengths.get(size + shift + more, 0)
                hits |= bits & ends
        return hits
