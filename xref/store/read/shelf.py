"""What hangs on parts, held while many rows ask for it."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from typing import Generic, TypeVar

T = TypeVar("T")


class Shelf(Generic[T]):
    """What hangs on parts, by id: read for many at once, and for what was not read when asked.

    ``blank`` says of which parts the store is known to have nothing.
    """

    def __init__(
        self,
        load: Callable[[Sequence[int]], Mapping[int, Sequence[T]]],
        blank: Callable[[int], bool],
    ) -> None:
        self._load = load
        self._blank = blank
        self.held: dict[int, list[T]] = {}

    def read(self, ids: Collection[int]) -> None:
        """Read what hangs on these parts."""
        new = [ident for ident in ids if ident not in self.held]
        asked = [ident for ident in new if not self._blank(ident)]
        if asked:
            for ident, rows in self._load(asked).items():
                self.held.setdefault(ident, list(rows))
        for ident in new:
            self.held.setdefault(ident, [])

    def of(self, ident: int) -> list[T]:
        """What hangs on one part."""
        if ident not in self.held:
            self.read((ident,))
        return self.held[ident]
