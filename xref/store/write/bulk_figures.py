"""What many new parts at once add to the figures of the population."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from itertools import chain

from xref.domain.number import folded
from xref.domain.shape import shape
from xref.domain.words import split_words
from xref.store.index.classes import class_figures
from xref.store.index.tally import COUNTED_SPELLING, Key, size_figure
from xref.store.write.record import Record


def figures_of_singles(records: Sequence[Record], makers: Mapping[int, str]) -> Counter[Key]:
    """What parts count for that each are the only one of their group: as ``tally_of``, quicker.

    ``makers`` are the makers' names by id, as the store writes them.
    """
    patterns: Counter[tuple[str, tuple[str, ...], str]] = Counter()
    for p in records:
        patterns[p.kind, tuple(p.sizes), "w" if p.words else ""] += p.weight  # type: ignore[assignment]
    texts = Counter(
        chain.from_iterable(
            p.folded
            if not p.spellings
            else "".join(folded(s.text) for s in p.spellings if s.weight >= COUNTED_SPELLING)
            for p in records
        )
    )
    words = Counter(p.words for p in records if p.words)
    total = _of_sizes(records)
    total["things", ""] = len(records)
    total["described", ""] = words.total()
    for (kind, sizes, described), weight in patterns.items():
        total["pattern", "|".join((kind, ",".join(sorted(sizes)), described))] += weight
    shapes = Counter((shape(p.number)[:80], p.maker_id) for p in records)
    for (drawn, maker_id), count in shapes.items():
        total["shape", f"{drawn}|{makers[maker_id][:100]}"] += count
    for char, count in texts.items():
        total["char", char] += count
    for said, count in words.items():
        for word in split_words(said):
            total["word", word[:100]] += count
    return total


def _of_sizes(records: Sequence[Record]) -> Counter[Key]:
    """The figures of the parts' sizes, name by name and by boundary dimensions."""
    total: Counter[Key] = Counter()
    for p in records:
        for figure, amount in class_figures(p.sizes, p.kind, p.type, p.weight).items():
            total[figure] += amount  # type: ignore[assignment]
        for name in p.sizes:
            total[size_figure(p.kind, name)] += p.weight  # type: ignore[assignment]
    return total
