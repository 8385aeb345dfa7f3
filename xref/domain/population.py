"""What the store as a whole holds: the background against which every agreement is weighed."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property


@dataclass(frozen=True)
class Pattern:
    """Which facts a group of parts has on record: its kind, its named sizes, whether described.

    ``standard``: all its records are rows of a standard, which leave out no size of the thing.
    """

    kind: str
    sizes: frozenset[str]
    described: bool
    standard: bool = False


@dataclass(frozen=True)
class Population:
    """Weights of all physical things by pattern, and counts of characters and words.

    ``characters`` counts each character in the numbers people would look for; ``words`` counts
    the described parts whose description holds the word; ``described`` counts those parts.
    ``things`` is how many parts are on record; ``sizes`` the weight of the parts of a kind that
    have a size of a name, by kind and name.
    """

    patterns: Mapping[Pattern, float]
    characters: Mapping[str, float]
    words: Mapping[str, float]
    described: float
    things: int = 0
    sizes: Mapping[tuple[str, str], float] = field(default_factory=dict)

    @cached_property
    def weight(self) -> float:
        """Σw over every physical thing in the store."""
        return math.fsum(self.patterns.values())

    def kind_share(self, kind: str) -> float:
        """The share (0..1) of the whole weight that things of ``kind`` hold."""
        held = math.fsum(w for p, w in self.patterns.items() if p.kind == kind)
        return held / self.weight if self.weight else 0.0

    def size_weight(self, name: str, kind: str = "") -> float:
        """The weight of the parts (of ``kind``, "" of any) that have a size ``name`` on record."""
        return math.fsum(
            w for (of, held), w in self.sizes.items() if held == name and (not kind or of == kind)
        )

    @cached_property
    def _character_total(self) -> float:
        return math.fsum(self.characters.values())

    def sign_bits(self, chars: str) -> float:
        """−log2 of the share of a sign that may be any of ``chars``; 0 for an illegible one.

        A character the store has never seen counts as seen half a time.
        """
        if not chars:
            return 0.0
        whole = self._character_total + 1.0
        share = sum(max(self.characters.get(c, 0.0), 0.5) for c in chars) / whole
        return max(0.0, -math.log2(min(1.0, share)))

    def word_share(self, word: str) -> float:
        """The share (0..1) of described parts whose description holds ``word``; never 0."""
        return (self.words.get(word, 0.0) + 0.5) / (self.described + 1.0)
