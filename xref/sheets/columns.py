"""Which column is what: by its heading, by what stands in it, or as somebody told."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from xref.domain.number import visible
from xref.errors import NotFoundError
from xref.sheets.cells import decimal_sign, kind_word
from xref.sheets.headings import KEPT, REPEATED, Meaning, is_size, meaning_of, plain_heading
from xref.sheets.sheet import Cell

MOST_LABEL = 200
_NUMBER_LIKE = re.compile(r"(?=.*[0-9])[0-9A-Za-z][0-9A-Za-z \-/.]{1,29}")
_THREE_SIZES = re.compile(r"[0-9.,/ ]+\s*[xX×*]\s*[0-9.,/ ]+\s*[xX×*]\s*[0-9.,/ ]+\s*(mm|in)?")
_MONEY = re.compile(r"[£€$]\s*[0-9][0-9.,]*|[0-9][0-9.,]*\s*(?:[£€$]|EUR|GBP|USD)")


@dataclass(frozen=True, slots=True)
class Column:
    """One column of a list. ``label`` is its heading, made unique; ``sure`` is 0..1.

    ``by`` says how it was understood: heading, content, told, or kept where it was not.
    ``unit`` is "" where the heading names none; ``decimal`` is "," or "." or "" where the column
    shows neither.
    """

    at: int
    label: str
    field: str
    sure: float
    by: str
    unit: str = ""
    decimal: str = ""


def letters(at: int) -> str:
    """The letters of a column as a spreadsheet shows them: 0 is A, 26 is AA."""
    text = ""
    at += 1
    while at:
        at, rest = divmod(at - 1, 26)
        text = chr(65 + rest) + text
    return text


def understand_columns(
    heading: Sequence[str], sample: Sequence[Sequence[Cell]], told: Mapping[str, str]
) -> list[Column]:
    """What each column is. ``told`` maps headings or letters to fields and outranks all else."""
    columns = _told(_labelled(heading), heading, told)
    columns = _once_each(columns)
    if not any(c.field == "number" for c in columns):
        columns = _number_by_content(columns, sample)
    columns = [_by_content(c, sample) if c.by == "kept" and c.at else c for c in columns]
    columns = _once_each(columns)
    return [_with_decimal(c, sample) for c in columns]


def told_missing(told: Mapping[str, str], lists: Sequence[Sequence[Column]]) -> None:
    """Raise NotFoundError for a column named in --map that no list has."""
    for name in told:
        flat = plain_heading(name)
        if not any(
            flat == plain_heading(c.label) or name.strip().upper() == letters(c.at)
            for columns in lists
            for c in columns
        ):
            shown = ", ".join(visible(c.label) for c in [c for x in lists for c in x][:12])
            raise NotFoundError(f'there is no column "{visible(name)}"', f"Columns: {shown}.")


def _labelled(heading: Sequence[str]) -> list[Column]:
    seen: dict[str, int] = {}
    columns = []
    for at, title in enumerate(heading):
        label = " ".join(title.split())[: MOST_LABEL - 10] or f"column {letters(at)}"
        kept = label.lower().startswith(KEPT)
        shown = label[len(KEPT) :].strip() or label if kept else label
        name = f"{KEPT if kept else ''}{shown.lower()}"
        seen[name] = seen.get(name, 0) + 1
        if seen[name] > 1:
            shown = f"{shown} ({seen[name]})"
        found = meaning_of(title) or Meaning("extra", 0.0)
        by = "heading" if found.sure else "kept"
        columns.append(Column(at, shown, found.field, found.sure, by, found.unit))
    return columns


def _told(columns: list[Column], heading: Sequence[str], told: Mapping[str, str]) -> list[Column]:
    by_name = {plain_heading(name): field for name, field in told.items()}
    by_letter = {name.strip().upper(): field for name, field in told.items()}
    after = []
    for column in columns:
        field = by_name.get(plain_heading(column.label)) or (
            by_letter.get(letters(column.at))
            if plain_heading(letters(column.at)) not in {plain_heading(h) for h in heading}
            else None
        )
        after.append(
            replace(column, field=field, sure=1.0, by="told", unit=column.unit) if field else column
        )
    return after


def _once_each(columns: list[Column]) -> list[Column]:
    """The surest column of each field keeps it; the others are kept as they stand."""
    best: dict[str, Column] = {}
    for column in columns:
        held = best.get(column.field)
        rank = (column.by == "told", column.sure)
        if held is None or rank > (held.by == "told", held.sure):
            best[column.field] = column
    return [
        c
        if c.field in REPEATED or best[c.field] is c
        else replace(c, field="extra", sure=0.0, by="kept", unit="")
        for c in columns
    ]


def _texts(column: Column, sample: Sequence[Sequence[Cell]]) -> list[str]:
    cells = (row[column.at] for row in sample if column.at < len(row))
    return [cell.strip() for cell in cells if isinstance(cell, str) and cell.strip()]


def _number_by_content(columns: list[Column], sample: Sequence[Sequence[Cell]]) -> list[Column]:
    """The column that reads most like part numbers: short, with digits, hardly one twice."""
    best, chosen = 0.0, None
    for column in columns:
        if column.by != "kept":
            continue
        texts = _texts(column, sample)
        if len(texts) < 2:
            continue
        like = sum(bool(_NUMBER_LIKE.fullmatch(t)) for t in texts) / len(texts)
        unlike = len(set(texts)) / len(texts)
        filled = len(texts) / max(1, len(sample))
        score = like * unlike * filled
        if like >= 0.8 and unlike >= 0.8 and score > best + 0.05:
            best, chosen = score, column
    return [
        replace(c, field="number", sure=round(0.7 * best, 2), by="content") if c is chosen else c
        for c in columns
    ]


def _by_content(column: Column, sample: Sequence[Sequence[Cell]]) -> Column:
    texts = _texts(column, sample)
    if len(texts) < 3:
        return column
    tests = {
        "sizes": lambda t: bool(_THREE_SIZES.fullmatch(t)),
        "price": lambda t: bool(_MONEY.fullmatch(t)),
        "kind": lambda t: bool(kind_word(t)),
    }
    for field, fits in tests.items():
        share = sum(map(fits, texts)) / len(texts)
        if share >= 0.9:
            return replace(column, field=field, sure=round(0.7 * share, 2), by="content")
    return column


def _with_decimal(column: Column, sample: Sequence[Sequence[Cell]]) -> Column:
    if not (is_size(column.field) or column.field in ("sizes", "price", "quantity")):
        return column
    return replace(column, decimal=decimal_sign(_texts(column, sample)))
