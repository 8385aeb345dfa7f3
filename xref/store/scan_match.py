"""Which spellings of a block lie within a few faults of a reading, all spellings at once.

The table of the edit distance, filled in once for a whole block: a cell holds, for each number of
faults, the bitmap of the spellings whose first ``place`` characters can have been read as the
signs so far with no more faults than that. A fault is a character taken for another (look-alikes
are one character here), passed over, added, two swapped, or up to ``WORN`` gone from an end.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from xref.domain.mark import Mark
from xref.domain.number import skeleton
from xref.store.scan_planes import LONGEST, PLACES, TAKES_SUFFIX, plane_of, plane_of_length

WORN = 3
SHORTEST_BASE = 3
"""Characters of the shortest designation that a suffix follows."""

Sign = str | None
"""The classes that may stand there, "" for any one, None for a lost stretch."""
Planes = Callable[[int], int]
Cell = list[int]
Column = dict[int, Cell]


def signs_of(mark: Mark) -> tuple[Sign, ...]:
    """The signs of a mark as the classes that skeletons are made of."""
    return tuple(
        None if sign.lost else "".join(sorted({skeleton(c) for c in sign.chars}))
        for sign in mark.signs
    )


def planes_for(signs: Sequence[Sign], faults: int) -> list[int]:
    """The codes of every plane that ``matches`` may look at."""
    codes = [plane_of_length(length) for length in range(1, LONGEST + 1)]
    codes.append(TAKES_SUFFIX)
    free = None in signs
    for at, sign in enumerate(signs):
        for char in sign or "":
            near = range(PLACES) if free else _band(at, faults)
            codes += [plane_of(place, char) for place in near if place < PLACES]
    return list(dict.fromkeys(codes))


def _band(signs: int, faults: int) -> range:
    """The places that the sign behind so many others may stand at, a swap with it included."""
    return range(max(0, signs - faults - 1), signs + faults + WORN + 1)


class Scan:
    """One reading against one block."""

    def __init__(self, signs: Sequence[Sign], planes: Planes, faults: int) -> None:
        self.signs = signs
        self.faults = faults
        self.planes = planes
        lengths = {n: planes(plane_of_length(n)) for n in range(1, LONGEST + 1)}
        self.lengths = {n: bits for n, bits in lengths.items() if bits}
        self.all = 0
        for bits in self.lengths.values():
            self.all |= bits
        self.longest = max(self.lengths, default=0)
        self.tailed = planes(TAKES_SUFFIX)
        self.hits = [0] * (faults + 1)
        self.tails: list[list[int]] = []

    def run(self) -> list[int]:
        """Bitmaps of the spellings within 0, 1 … faults, each holding those before it.

        Afterwards ``tails`` holds, for each number of signs that may be a designation, the same
        for the spellings that take a suffix and end there.
        """
        before: Column = {}
        column: Column = {0: [self.all] * (self.faults + 1)}
        for place in range(1, min(WORN, self.longest) + 1):
            column[place] = [0] + [self.all] * self.faults
        for at, sign in enumerate(self.signs):
            if sign is None:
                following = self._stretch(column)
            else:
                following = self._step(at, sign, column, before)
            before, column = column, following
            if self.tailed and SHORTEST_BASE <= at + 1 < len(self.signs):
                self.tails.append(self._ended(column, self.tailed))
        self.hits = self._ended(column, self.all)
        self._worn(column)
        return self.hits

    def _stand(self, place: int, sign: str) -> int:
        """Where a character that ``sign`` may be stands at ``place``."""
        if not sign or place >= PLACES:
            return self.all
        bits = 0
        for char in sign:
            bits |= self.planes(plane_of(place, char))
        return bits

    def _stretch(self, column: Column) -> Column:
        """A lost stretch: any number of characters gone, none included."""
        reached = [0] * (self.faults + 1)
        following: Column = {}
        for place in range(self.longest + 1):
            if place in column:
                reached = [a | b for a, b in zip(reached, column[place], strict=True)]
            following[place] = reached
        return following

    def _step(self, at: int, sign: str, column: Column, before: Column) -> Column:
        """One more sign: read right, read wrong, added, a character passed over, or a swap."""
        following: Column = {}
        nothing = [0] * (self.faults + 1)
        over = nothing
        swapped = self.signs[at - 1] if at else None
        for place in range(min(column), min(max(column) + 1, self.longest) + 1):
            stays = column.get(place, nothing)
            comes = column.get(place - 1, nothing)
            stand = self._stand(place - 1, sign) if place else 0
            crossed = 0
            jumps = before.get(place - 2) if swapped and sign else None
            if jumps and swapped:
                crossed = self._stand(place - 2, sign) & self._stand(place - 1, swapped)
            cell = [comes[0] & stand]
            for fault in range(1, self.faults + 1):
                less = fault - 1
                bits = comes[fault] & stand | comes[less] | stays[less] | over[less]
                if crossed and jumps:
                    bits |= jumps[less] & crossed
                cell.append(bits)
            if cell[-1]:
                following[place] = over = cell
            else:
                over = nothing
        return following or {0: nothing}

    def _ended(self, column: Column, among: int) -> list[int]:
        """Those that end just where the column stands."""
        hits = [0] * (self.faults + 1)
        for length, bits in self.lengths.items():
            cell = column.get(length)
            if cell:
                ends = bits & among
                hits = [hit | cell[e] & ends for e, hit in enumerate(hits)]
        return hits

    def _worn(self, column: Column) -> None:
        """Add those of which up to ``WORN`` more characters stood at the end: one fault."""
        for place, cell in column.items():
            ends = 0
            for more in range(1, WORN + 1):
                ends |= self.lengths.get(place + more, 0)
            for fault in range(1, self.faults + 1):
                self.hits[fault] |= cell[fault - 1] & ends
