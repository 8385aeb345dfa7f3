"""What a person is to be asked of a list before it is stored, the likely answer first."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from xref.domain.size import BARE_UNITS
from xref.services.lists.imported import Imported
from xref.sheets.column_seen import ColumnSeen, WhichColumnError
from xref.sheets.headings import is_size

KEPT = "extra"
"""The field of a column that is kept as it stands."""
UNIT = "units"
"""The key of the question what bare sizes are in."""
MOST_CHOICES = 20
"""Columns that are offered as the one of part numbers. Judged."""


@dataclass(frozen=True, slots=True)
class Choice:
    """One answer: ``told`` is what it says of columns by label, ``units`` of bare sizes."""

    text: str
    told: Mapping[str, str]
    units: str = ""


@dataclass(frozen=True, slots=True)
class Question:
    """One question with its answers, the likeliest first. ``key`` names it for good."""

    key: str
    text: str
    choices: tuple[Choice, ...]


def which_column(refused: WhichColumnError) -> list[Question]:
    """The question which column holds the part numbers; none where there is no column."""
    likely = [c for name in refused.likely for c in refused.columns if c.label == name]
    others = [c for c in refused.columns if c not in likely and c.samples]
    choices = [Choice(_shown(c), {c.label: "number"}) for c in (*likely, *others)]
    if not choices:
        return []
    text = "Which column holds the part numbers?"
    return [Question("number", text, tuple(choices[:MOST_CHOICES]))]


def questions(done: Imported) -> list[Question]:
    """What is not certain of a list that was read: columns that look like something, and what
    sizes without a unit are in."""
    found = [_perhaps(column) for column in _once(done.columns) if column.perhaps]
    if done.unit_assumed:
        found.append(_unit(done))
    return found


def _once(columns: Iterable[ColumnSeen]) -> list[ColumnSeen]:
    return list({column.label: column for column in columns}.values())


def _perhaps(column: ColumnSeen) -> Question:
    text = f"Is {_shown(column)} the {column.perhaps}?"
    yes = Choice(f"yes, the {column.perhaps}", {column.label: column.perhaps})
    no = Choice("no, keep it with the part as it stands", {column.label: KEPT})
    likely = (yes, no) if column.sure >= 0.5 else (no, yes)
    return Question(f"column {column.letter}", text, likely)


def _unit(done: Imported) -> Question:
    units = sorted(BARE_UNITS, key=lambda unit: unit != done.unit)
    words = {"mm": "millimetres", "inch": "inches"}
    bare = [c for c in done.columns if not c.unit and (is_size(c.field) or c.field == "sizes")]
    cells = [text for column in bare for text in column.samples]
    text = f"What are the sizes without a unit in? ({', '.join(cells[:3])})"
    return Question(UNIT, text, tuple(Choice(words[unit], {}, unit) for unit in units))


def _shown(column: ColumnSeen) -> str:
    cells = f" ({', '.join(column.samples)})" if column.samples else ""
    return f"{column.letter}, {column.label}{cells}"


def told_by(chosen: Sequence[Choice]) -> tuple[dict[str, str], str]:
    """What the answers say together: fields by column, and what bare sizes are in ("" unsaid)."""
    told: dict[str, str] = {}
    units = ""
    for one in chosen:
        told |= one.told
        units = one.units or units
    return told, units
