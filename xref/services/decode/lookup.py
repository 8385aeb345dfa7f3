"""What a look-up knows of one reading, and names listed in its notes."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

_MOST_NAMED = 8
"""Numbers named in a note before it says how many more there are."""


@dataclass(frozen=True, slots=True)
class Found:
    """What is known of one reading's sizes (nanometres), and where from.

    ``tables_agreeing`` is 0 where no table has the reading itself. ``half`` is "cone" or "cup" for
    one half of a taper, "" otherwise. ``standard`` is the row's where it is of another type than
    the reading took it for. ``number`` is the row's where the reading's own name of it would be
    untrue: no other way to write it holds then but those of the row.
    """

    sizes: Mapping[str, int]
    tables_agreeing: int = 0
    notes: tuple[str, ...] = ()
    also_written: tuple[str, ...] = ()
    type: str = ""
    half: str = ""
    standard: str = ""
    number: str = ""


def listed(names: Iterable[str]) -> str:
    """Names in a row, each once: the first eight, and how many more there are."""
    every = list(dict.fromkeys(names))
    more = len(every) - _MOST_NAMED
    return ", ".join(every[:_MOST_NAMED]) + (f" and {more} more" if more > 0 else "")
