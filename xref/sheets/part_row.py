"""What one row of a list says of a part."""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from xref.domain.number import folded, key
from xref.sheets.fields import MODELS
from xref.sheets.sheet import Cell

SEVERAL = frozenset({*MODELS, "change with"})
"""Fields of one cell that may name several things: its lines are kept apart."""

NAMING = SEVERAL | frozenset(
    {"number", "replaces", "replaced by", "interchange", "mark", "cast", "mark:size"}
    | {"mark:date", "mark:other", "serial from", "serial to", "serials", "replaced on serials"}
)
"""Fields whose cells name something: what a spreadsheet made of them matters."""

LISTS = frozenset({"replaces", "replaced by", "interchange"})
MARKS = {
    "mark": "number",
    "cast": "casting",
    "mark:size": "size",
    "mark:date": "date",
    "mark:other": "other",
}
_ITS_OWN_KEY = re.compile(r"[0-9A-Z/]+(?:-[0-9A-Z/]+)*").fullmatch


@dataclass(slots=True)
class PartRow:
    """What one row says. ``reason`` is "" unless the row must be rejected.

    ``told`` holds the plain fields that are filled; ``key`` and ``folded`` are the number's.
    ``lists`` holds cells that may name several numbers, whole: which of them are one number
    only the store can tell. ``section`` is the assembly that the lines above it name, and
    ``guessed_kind`` what its description says where the list has no kinds; "" for none.
    """

    line: int
    cells: list[Cell]
    number: str = ""
    key: str = ""
    folded: str = ""
    told: dict[str, str] = field(default_factory=dict)
    sizes: dict[str, int] = field(default_factory=dict)
    marks: tuple[tuple[str, str], ...] = ()
    lists: dict[str, list[str]] | None = None
    extras: list[tuple[str, str, int]] = field(default_factory=list)
    reason: str = ""
    section: str = ""
    guessed_kind: str = ""


def names_of(number: str) -> tuple[str, str]:
    """``key`` and ``folded`` of a number. Raises InputError as ``key`` does.

    A number in plain capitals and digits is its own key, which is most of them.
    """
    if _ITS_OWN_KEY(number):
        return number, number.replace("-", "").replace("/", "")
    return key(number), folded(number)
