"""Which spellings lie within a few faults of a reading, all of them at once.

The table of the edit distance, filled in once for all spellings: a cell holds the bitmap of the
spellings whose first ``place`` characters can have been read as the signs so far at that cost or
less. Each step in cost is one more such table, made from the two before. Costs are whole here, in
the rough proportion of the channel model's: a character passed over, two swapped, or up to
``WORN`` gone from an end cost 1; one taken for another or added, 2; look-alikes are one character.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from xref.domain.mark import Mark
from xref.domain.number import skeleton
from xref.store.scan_planes import LONGEST, PLACES, TAKES_SUFFIX, plane_of, plane_of_length

WORN = 3
MOST_PASSED = 2
"""Characters passed over in a reading, beside a worn end; where more are gone, a ``*`` says so."""
SHORTEST_BASE = 3
"""Characters of the shortest designation that a suffix follows."""

Sign = str | None
"""The classes that may stand there, "" for any one, None for a lost stretch."""
Column = dict[int, int]
"""Spellings by how many of their characters are used up. One that is not there is empty."""


def signs_of(mark: Mark) -> tuple[Sign, ...]:
    """The signs of a mark as the classes that skeletons are made of."""
    return tuple(
        None if sign.lost else "".join(sorted({skeleton(c) for c in sign.chars}))
        for sign in mark.signs
    )


def planes_for(signs: Sequence[Sign], cost: int) -> list[int]:
    """The codes of every plane that a scan up to this cost may look at."""
    codes = [plane_of_length(length) for length in range(1, LONGEST + 1)]
    codes.append(TAKES_SUFFIX)
    free = None in signs
    for at, sign in enumerate(signs):
        first, last = (0, PLACES) if free else (at - cost // 2 - 1, at + cost + WORN + 1)
        for char in sign or "":
            codes += [plane_of(place, char) for place in range(max(0, first), min(last, PLACES))]
    return list(dict.fromkeys(codes))


class Scan:
    """One reading against all that is laid out, one more step in cost at a time."""

    def __init__(self, signs: Sequence[Sign], planes: Mapping[int, int]) -> None:
        self.signs = signs
        self.planes = planes
        lengths = ((n, planes[plane_of_length(n)]) for n in range(1, LONGEST + 1))
        self.lengths = {n: bits for n, bits in lengths if bits}
        self.longest = max(self.lengths, default=0)
        self.all = 0
        for bits in self.lengths.values():
            self.all |= bits
        tailed = planes[TAKES_SUFFIX]
        # Intersected first: the result is as short as the shorter of the two.
        self._tailed = {n: bits & tailed for n, bits in self.lengths.items() if bits & tailed}
        self.hits: list[int] = []
        """Bitmaps of the spellings at a cost of 0, 1 … or less."""
        self.tails: list[list[int]] = []
        """The same for spellings that take a suffix and end before the reading does, for each
        number of signs that the spelling may be."""
        self._table: list[Column] = []
        self._less: list[Column] = []
        self._least: list[Column] = []
        self._stands: dict[tuple[int, int], int] = {}
        self._crosses: dict[tuple[int, int], int] = {}

    def one_more(self) -> int:
        """Those found at a cost of one more than before (of none at first), or less."""
        self._least, self._less = self._less, self._table
        self._table = [self._start()]
        for at, sign in enumerate(self.signs):
            self._table.append(self._stretch(at) if sign is None else self._step(at))
        hits = self._ended(self._table[-1], self.lengths)
        if self._less:
            hits |= self._worn(self._less[-1])
        self.hits.append(hits)
        if self._tailed:
            ends = self._tailed
            self.tails.append([self._ended(c, ends) for c in self._table[SHORTEST_BASE:-1]])
        return hits

    def _start(self) -> Column:
        """Before the first sign: nothing struck there, or, at a cost, some worn off."""
        most = WORN if self.hits else 0
        return dict.fromkeys(range(min(most, self.longest) + 1), self.all)

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
                bits |= self.planes[plane_of(place, char)]
            self._stands[at, place] = bits
        return bits

    def _stretch(self, at: int) -> Column:
        """A lost stretch: any number of characters gone, none included."""
        reached = 0
        following: Column = {}
        for place in range(self.longest + 1):
            reached |= self._table[at].get(place, 0)
            following[place] = reached
        return following

    def _step(self, at: int) -> Column:
        """One more sign: read right; or a character passed over, swapped, misread or added."""
        following: Column = {}
        for place, bits in self._table[at].items():
            _put(following, place + 1, bits & self._stand(at, place))
        if self._less:
            for place, bits in self._less[at + 1].items():
                _put(following, place + 1, bits)
            for place, bits in self._less[at - 1].items() if at else ():
                _put(following, place + 2, bits & self._crossed(at, place))
        if self._least:
            for place, bits in self._least[at].items():
                _put(following, place + 1, bits)
                _put(following, place, bits)
        last = self.longest
        if None not in self.signs:
            last = min(last, at + 1 + WORN + MOST_PASSED)
        return {place: bits for place, bits in following.items() if place <= last}

    def _crossed(self, at: int, place: int) -> int:
        """Where sign ``at`` stands at ``place`` and the sign before it behind that."""
        bits = self._crosses.get((at, place))
        if bits is None:
            bits = self._stand(at, place) & self._stand(at - 1, place + 1)
            self._crosses[at, place] = bits
        return bits

    def _ended(self, column: Column, lengths: Mapping[int, int]) -> int:
        """Those that end just where the column stands."""
        hits = 0
        for place, bits in column.items():
            hits |= bits & lengths.get(place, 0)
        return hits

    def _worn(self, column: Column) -> int:
        """Those of which up to ``WORN`` more characters stood at the end."""
        hits = 0
        for place, bits in column.items():
            ends = 0
            for more in range(1, WORN + 1):
                ends |= self.lengths.get(place + more, 0)
            hits |= bits & ends
        return hits


def _put(column: Column, place: int, bits: int) -> None:
    """Add ``bits`` at ``place``, unless there are none."""
    if bits:
        column[place] = column[place] | bits if place in column else bits
