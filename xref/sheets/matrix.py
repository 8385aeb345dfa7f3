"""Machines as columns: a cross, "all" or a range in the cell says that a part belongs."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from xref.domain.serial import read_serials
from xref.errors import InputError
from xref.sheets.column import Column, untitled
from xref.sheets.headings import meanings_of
from xref.sheets.profile import CROSSES, Profile
from xref.sheets.remarks import says_every, says_none

_RANGE_SIGN = re.compile(r"\d\s*(?:[-–+>]|\bto\b|\bbis\b)|[<>≤≥]|[^\W\d_]{2,}")

_LEAST_READ = 0.6
"""Share of a column's cells that must say that a part belongs or does not. Judged."""


def crossed(columns: Sequence[Column], profiles: Sequence[Profile]) -> list[Column]:
    """The same columns, two or more of them that hold crosses and ranges taken for machines.

    One of them at least must have a cross or "all": columns of figures alone may be anything.
    """
    marks = [
        c.at
        for c in columns
        if c.by == "kept"
        and c.label != untitled(c.at)
        and _share(profiles[c.at]) >= _LEAST_READ
        and not {m.field for m in meanings_of(c.label)} & {"extra"}
    ]
    plain = [at for at in marks if any(says_fits(t) and not _ranged(t) for t in profiles[at].texts)]
    if len(marks) < 2 or not plain:
        return list(columns)
    return [
        replace(c, field="cross", sure=0.7, by="content") if c.at in marks else c for c in columns
    ]


def says_fits(text: str) -> bool:
    """Whether a cell says that a part belongs, on every serial or on a range of them."""
    return text.casefold() in CROSSES or says_every(text) or _ranged(text)


def serials_in(text: str) -> str:
    """The range that a cell gives; "" for a plain cross."""
    return text if _ranged(text) and not says_every(text) else ""


def _ranged(text: str) -> bool:
    """Whether a cell is a range: one figure alone may be a number of pieces, or a shelf."""
    if not any(c.isdigit() for c in text) or not _RANGE_SIGN.search(text):
        return False
    try:
        read_serials(text)
    except InputError:
        return False
    return True


def _share(cells: Profile) -> float:
    """Share of the filled cells that speak of belonging; 0 where none says that it does."""
    if not any(map(says_fits, cells.texts)):
        return 0.0
    return sum(says_fits(t) or says_none(t) for t in cells.texts) / len(cells.texts)
