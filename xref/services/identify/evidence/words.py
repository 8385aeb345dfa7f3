"""What was asked for in words, as the trade says it and as descriptions have it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache, lru_cache

from xref.domain.population import Population
from xref.domain.words import HANDS, split_words
from xref.tables import read_table


@dataclass(frozen=True, slots=True)
class Wanted:
    """One word, or words that mean one thing together, as they were ``said``.

    A description that has every word of one of ``ways`` has it; the first is as it was said.
    """

    said: str
    ways: tuple[tuple[str, ...], ...]

    def way_in(self, held: frozenset[str]) -> tuple[str, ...] | None:
        """The first way whose words are all ``held``; None where there is none."""
        return next((way for way in self.ways if held.issuperset(way)), None)

    def share(self, population: Population) -> float:
        """About the share (0..1, never 0) of descriptions that have it: of the words of a way the
        rarest stands for all, since the store counts words one by one."""
        return min(1.0, sum(min(map(population.word_share, way)) for way in self.ways))


@lru_cache(maxsize=64)
def wanted_in(text: str) -> tuple[Wanted, ...]:
    """What ``text`` asks for, in order, hands left out; the longest words of the trade first, and
    of several things as of one. Kept, for every part is asked of the same words."""
    words = [word for word in split_words(text) if word not in HANDS]
    found = []
    while words:
        longest = min(len(words), _longest())
        count = next(n for n in range(longest, 0, -1) if n == 1 or _also(words[:n]))
        said = tuple(words[:count])
        ways = (said, _of_one(said), *_also(said))
        found.append(Wanted(" ".join(said), tuple(dict.fromkeys(ways))))
        del words[:count]
    return tuple(found)


def _also(said: Sequence[str]) -> tuple[tuple[str, ...], ...]:
    """In which other words a description has it; () for what is no word of the trade."""
    return _trade_words().get(" ".join(said)) or _trade_words().get(" ".join(_of_one(said)), ())


def _of_one(said: Sequence[str]) -> tuple[str, ...]:
    """The words of one thing for those of several: seals, seal."""
    last = said[-1]
    several = len(last) > len("gas") and last.endswith("s") and not last.endswith("ss")
    return (*said[:-1], last[:-1] if several else last)


@cache
def _trade_words() -> dict[str, tuple[tuple[str, ...], ...]]:
    """What the trade says, and the words that descriptions have for it. Common practice."""
    rows = read_table("trade_words", "services/identify/evidence")
    return {row["said"]: (tuple(row["held"].split()),) for row in rows}


@cache
def _longest() -> int:
    return max(len(said.split()) for said in _trade_words())
