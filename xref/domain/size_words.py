"""What people call sizes, and which sizes they mean by one, two or three figures of a thing.

``size_called.csv`` has the names that people give, out of habit, to sizes that go by another one on
such a thing; "alone" is so only where no other size is given: who measures a ring itself calls its
inside its bore as well.
``size_words.csv`` has the words of several languages; "behind" are those that stand only behind
their figure ("14 wide"). ``size_order.csv`` has the sizes in the order in which they are written
of a kind and sort; ``longer`` stands where the second of two figures is the
larger, ``inch`` where the first is another size in inches. All are common practice, no published
source.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from functools import cache

from xref.domain.kinds import Named
from xref.domain.part import BOUNDARY
from xref.domain.size_names import NAMES
from xref.domain.words import unaccented
from xref.tables import read_table


@dataclass(frozen=True, slots=True)
class SizeWord:
    """The size that a word names, and whether the word stands behind its figure alone."""

    name: str
    behind: bool


THINGS = frozenset({"pin", "roller", "head", "seat", "links", "rows", "holes"})
"""Names of sizes that are words for a thing as well: they name a size only where that is asked."""


def letter_by_letter(text: str) -> str:
    """``text`` in small letters without accents, each letter where it was: ß is s."""
    return "".join((unaccented(char.lower()) or char)[:1] for char in text)


@cache
def size_words() -> dict[str, SizeWord]:
    """Every word for a size, in small letters without accents; its own name too."""
    found = {name.replace("-", " "): SizeWord(name, False) for name in NAMES if name not in THINGS}
    for row in read_table("size_words", "domain"):
        for word in row["words"].split("|"):
            found[letter_by_letter(word)] = SizeWord(row["size"], row["where"] == "behind")
    return found


_COLUMNS = ("one", "two", "three")
"""The columns of so many figures."""


@cache
def _order() -> dict[tuple[str, str], dict[str, tuple[str, ...]]]:
    return {
        (row["kind"], row["sort"]): {
            column: tuple(row[column].split()) for column in (*_COLUMNS, "longer", "inch")
        }
        for row in read_table("size_order", "domain")
    }


def in_order(named: Named | None, count: int, inch: bool = False) -> tuple[str, ...]:
    """The sizes that ``count`` figures (1 to 3) of such a thing are; () where that is not said.

    Nothing named is a thing with bore, outside and width. ``inch``: the first may be another one
    there: a split pin is gone by its hole, and in inches by its own diameter.
    """
    if named is None:
        return BOUNDARY[:count] if count > 1 else ()
    row = _row(named)
    names = row.get(_COLUMNS[count - 1], ())
    return (*row["inch"], *names[1:]) if inch and row.get("inch") else names


def in_order_longer(named: Named | None) -> tuple[str, ...]:
    """The same of two figures of which the second is the larger; () where that is no matter."""
    return _row(named).get("longer", ()) if named else ()


def has_own_order(named: Named) -> bool:
    """Whether the sort that is named is gone by sizes of its own."""
    return (named.kind, named.sort) in _order() and bool(named.sort)


def _row(named: Named) -> dict[str, tuple[str, ...]]:
    every = _order()
    return every.get((named.kind, named.sort), every.get((named.kind, ""), {}))


@cache
def _called() -> dict[tuple[str, str, str], list[tuple[str, bool]]]:
    found: dict[tuple[str, str, str], list[tuple[str, bool]]] = {}
    for row in read_table("size_called", "domain"):
        own = (row["name"], row["alone"] == "yes")
        found.setdefault((row["kind"], row["sort"], row["given"]), []).append(own)
    return found


NOT_OF_RUBBER = frozenset({"width", "length", "housing", "shaft", "height"})
"""Sizes that say a thing with an "inside" is no O-ring, which is named by its section."""


def called(sizes: Collection[str], named: Named | None) -> dict[str, str]:
    """What sizes are called on such a thing that were given by another name: given to own name.

    A size that is given by its own name as well keeps both as they are.
    """
    found = {}
    if named is None:
        if "inside" in sizes and "section" not in sizes and NOT_OF_RUBBER & set(sizes):
            found["inside"] = "bore"
    else:
        every = _called()
        for given in sizes:
            rows = every.get((named.kind, named.sort, given), every.get((named.kind, "", given)))
            free = [own for own, alone in rows or () if len(sizes) == 1 or not alone]
            own = next((own for own in free if own not in sizes), given)
            if own != given:
                found[given] = own
    return {
        given: own
        for given, own in found.items()
        if own not in sizes and list(found.values()).count(own) == 1
    }
