"""Slips in sizes that can be seen without any part: no unit, and two that changed places."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from sqlalchemy import Connection

from xref.domain.part import is_plain_number
from xref.domain.size import parse_length
from xref.services.question import named_sizes
from xref.store.notes.bare_unit import default_unit

WITHIN = (("bore", "outside"), ("inside", "outside"), ("shaft", "housing"))
"""A size, and one of the same part that is always larger."""


def no_unit(assumed: Iterable[tuple[str, str, str]]) -> Iterator[str]:
    """What was taken for a unit, where some were left out; each is (name, as written, unit)."""
    named = ", ".join(f"{name} {text} as {unit}" for name, text, unit in assumed)
    if named:
        yield f"No unit was written: {named}."


def swapped(sizes: Mapping[str, tuple[int, str]]) -> Iterator[str]:
    """A hole that is no smaller than the thing it is in; sizes are (nanometres, as written)."""
    for inner, outer in WITHIN:
        if inner in sizes and outer in sizes and sizes[inner][0] >= sizes[outer][0]:
            yield (
                f"No part has {inner} {sizes[inner][1]} in {outer} {sizes[outer][1]}: "
                "look whether the two are swapped, or a unit is missing."
            )


def slips_of(conn: Connection, written: Mapping[str, str]) -> list[str]:
    """What to say of sizes as they were typed for a part; [] for nothing.

    Raises InputError for a size that cannot be read.
    """
    unit = default_unit(conn)
    lengths = {
        name: parse_length(text, unit)
        for name, text in named_sizes(written).items()
        if not is_plain_number(name)
    }
    assumed = [(name, held.text, held.unit) for name, held in lengths.items() if held.assumed]
    return [
        *no_unit(assumed),
        *swapped({name: (held.nm, held.text) for name, held in lengths.items()}),
    ]
