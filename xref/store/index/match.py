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
from xref.store.index.planes import LONGEST, PLACES, plane_of, plane_of_length

WORN = 3
"""Characters that may be gone from an end at a cost of 1. Judged."""
SHORTEST_BASE = 3
"""Characters of the shortest designation that a suffix follows."""

Sign = str | None
"""The classes that may stand there, "" for any one, None for a lost stretch."""
Column = dict[int, int]
"""Spellings by shift, after the same signs. A cell that is not there is empty."""
Steps = Sequence[Column] | None
"""A table of one cost: a column for each number of signs read; None where there is no such cost."""


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
        lost = [at for at, sign in enumerate(signs) if sign is None] or [len(signs), -1]
        self._lost = [(at > lost[0], at <= lost[-1]) for at in range(len(signs) + 1)]
        """Whether a stretch is lost before the cells after so many signs, and behind them."""
        self._rest = {ahead: self._rests(ahead) for ahead in {ahead for _, ahead in self._lost}}
        self._least = {where: self._leasts(*where) for where in set(self._lost)}
        self._none_before = min(self._start().values(), default=LONGEST)

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

    def _leasts(self, lost_before: bool, lost_ahead: bool) -> dict[int, int]:
        """The least cost of any way through a cell, by shift."""
        costs = {}
        for shift, rest in self._rest[lost_ahead].items():
            before = -2 * shift if shift < 0 else 0 if lost_before else _gone(shift)
            costs[shift] = before + rest
        return costs

    def _start(self) -> dict[int, int]:
        """Before the first sign: the cost of nothing struck there, or of some worn off."""
        return {s: least for s, least in self._least[self._lost[0]].items() if 0 <= s <= WORN}

    def one_more(self) -> int:
        """Those found at a cost of one more than before (of none at first), or less."""
        cost = len(self._tables)
        hits = 0
        if cost < self._none_before:
            self._tables.append([{}] * (len(self.signs) + 1))
        else:
            self._tables.append([{s: self.all for s, c in self._start().items() if c <= cost}])
            moves = self._moves(cost)
            for at, sign in enumerate(self.signs):
                if sign is None:
                    self._stretch(cost, at)
                else:
                    self._step(cost, at, moves[self._lost[at]])
            hits = self._ended(cost, len(self.signs)) | self._worn(cost)
        self.hits.append(hits)
        if self._open:
            ends = range(SHORTEST_BASE, len(self.signs))
            self.tails.append([self._ended(cost, at) for at in ends])
        return hits

    def _moves(self, cost: int) -> dict[tuple[bool, bool], list[tuple[int, Steps, Steps]]]:
        """The shifts that may hold something at this cost, each with the tables from which one
        comes there by passing a character over and by adding one."""
        moves = {}
        for where, leasts in self._least.items():
            rest = self._rest[where[1]]
            moves[where] = [
                (
                    shift,
                    self._at_cost(cost - 1 - rest[shift] + rest.get(shift - 1, LONGEST)),
                    self._at_cost(cost - 2 - rest[shift] + rest.get(shift + 1, LONGEST)),
                )
                for shift, least in leasts.items()
                if least <= cost
            ]
        return moves

    def _at_cost(self, cost: int) -> Steps:
        return self._tables[cost] if 0 <= cost < len(self._tables) else None

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

    def _stretch(self, cost: int, at: int) -> None:
        """A lost stretch: any number of characters gone, none included."""
        here, there = self._rest[self._lost[at][1]], self._rest[self._lost[at + 1][1]]
        following: Column = {}
        for shift, least in self._least[self._lost[at + 1]].items():
            if least > cost:
                continue
            bits = 0
            for before, rest in here.items():
                if before <= shift:
                    bits |= self._cell(cost - there[shift] + rest, at, before)
            _put(following, shift, bits)
        self._tables[cost].append(following)

    def _step(self, cost: int, at: int, moves: Sequence[tuple[int, Steps, Steps]]) -> None:
        """One more sign: read right; or a character passed over, swapped, misread or added."""
        used = self._used[at]
        right = self._tables[cost][at]
        misread = self._tables[cost - 2][at] if cost > 1 else {}
        swapped = self._tables[cost - 1][at - 1] if cost and at else {}
        following: Column = {}
        self._tables[cost].append(following)
        for shift, passed, added in moves:
            bits = right.get(shift, 0)
            if bits:
                bits &= self._stand(at, used + shift)
            if shift in misread:
                bits |= misread[shift]
            if shift in swapped:
                bits |= swapped[shift] & self._crossed(at, used - 1 + shift)
            if passed and shift - 1 in passed[at + 1]:
                bits |= passed[at + 1][shift - 1]
            if added and shift + 1 in added[at]:
                bits |= added[at][shift + 1]
            _put(following, shift, bits)

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
        for shift, rest in self._rest[False].items():
            bits = self._cell(cost - 1 + rest, -1, shift) if rest < 2 else 0
            if bits:
                ends = 0
                for more in range(1, WORN + 1):
                    ends |= self.lengths.get(size + shift + more, 0)
                hits |= bits & ends
        return hits


def _put(column: Column, shift: int, bits: int) -> None:
    if bits:
        column[shift] = bits
