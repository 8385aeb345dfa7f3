"""Which column is what: by its heading, by what stands in it, or as somebody told."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from xref.domain.number import visible
from xref.errors import InputError, NotFoundError
from xref.sheets.cells import decimal_sign
from xref.sheets.column import Column, letters, untitled
from xref.sheets.content import by_content, texts_of
from xref.sheets.headings import KEPT, REPEATED, is_size, meanings_of, unit_of
from xref.sheets.matrix import crossed
from xref.sheets.plain import plain_heading
from xref.sheets.profile import profile_of
from xref.sheets.ranked import Around, Ranked, rank
from xref.sheets.sheet import Cell
from xref.sheets.size_columns import by_letter

MOST_LABEL = 200

MOST_NAMED = 12
"""Columns that an error names."""


def understand_columns(
    heading: Sequence[str],
    sample: Sequence[Sequence[Cell]],
    told: Mapping[str, str],
    around: Around = Around(),  # noqa: B008 (frozen, so that it is the same for all)
) -> list[Column]:
    """What each column is. ``told`` maps headings or letters to fields and outranks all else.

    No column is the number where only its cells look like it, or where two headings are as good:
    those are marked with ``perhaps``. Raises InputError where two columns are told to be one field
    that only one can be.
    """
    columns = _told(_labelled(heading), heading, told)
    _refuse_two(columns)
    profiles = [profile_of(at, sample) for at in range(len(heading))]
    named = {c.at: c.field for c in columns if c.by == "told"}
    ranked = rank(heading, profiles, named, around)
    columns = [_ranked(c, ranked) for c in columns]
    drawn = {
        c.at: m.letter
        for c in columns
        if c.by == "kept" and c.field == "extra"
        for m in meanings_of(heading[c.at])
        if m.letter
    }
    columns = by_letter(columns, drawn, sample)
    columns = crossed(columns, profiles)
    columns = _once_each(by_content(columns, sample))
    return [_with_decimal(c, sample) for c in columns]


def _ranked(column: Column, ranked: Ranked) -> Column:
    if column.by == "told":
        return column
    if column.at in ranked.rivals and len(ranked.rivals) > 1:
        return replace(column, perhaps="number", sure=0.5)
    found = ranked.chosen.get(column.at)
    if found is None:
        return column
    unit = found.unit if found.measured else ""
    return replace(column, field=found.field, sure=round(found.sure, 2), by="heading", unit=unit)


def told_missing(told: Mapping[str, str], lists: Sequence[Sequence[Column]]) -> None:
    """Raise NotFoundError for a column named in --map that no list has."""
    for name in told:
        flat = plain_heading(name)
        if not any(
            flat == plain_heading(c.label) or name.strip().upper() == letters(c.at)
            for columns in lists
            for c in columns
        ):
            shown = ", ".join(visible(c.label) for c in [c for x in lists for c in x][:MOST_NAMED])
            raise NotFoundError(f'there is no column "{visible(name)}"', f"Columns: {shown}.")


def _labelled(heading: Sequence[str]) -> list[Column]:
    """Each column as it stands, with a label of its own."""
    seen: dict[str, int] = {}
    columns = []
    for at, title in enumerate(heading):
        label = " ".join(title.split())[: MOST_LABEL - 10] or untitled(at)
        kept = label.lower().startswith(KEPT)
        shown = label[len(KEPT) :].strip() or label if kept else label
        # Of a drawing's letters, d is another than D.
        letter = next((m for m in meanings_of(title) if m.letter), None)
        name = f"{KEPT}{shown}" if kept else shown if letter else shown.lower()
        seen[name] = seen.get(name, 0) + 1
        if seen[name] > 1:
            shown = f"{shown} ({seen[name]})"
        unit = letter.unit if letter else ""
        by = "heading" if kept else "kept"
        columns.append(Column(at, shown, "extra", 1.0 if kept else 0.0, by, unit))
    return columns


def _told(columns: list[Column], heading: Sequence[str], told: Mapping[str, str]) -> list[Column]:
    labels, titles = {c.label for c in columns}, {plain_heading(h) for h in heading}
    by_name = {plain_heading(name): field for name, field in told.items() if name not in labels}
    by_place = {
        name.strip().upper(): field
        for name, field in told.items()
        if plain_heading(name) not in titles
    }
    after = []
    for column in columns:
        field = (
            told.get(column.label)
            or by_name.get(plain_heading(column.label))
            or by_place.get(letters(column.at))
        )
        after.append(
            replace(column, field=field, sure=1.0, by="told", unit=unit_of(heading[column.at]))
            if field
            else column
        )
    return after


def _refuse_two(columns: Sequence[Column]) -> None:
    seen: dict[str, Column] = {}
    for column in columns:
        if column.by == "told" and column.field not in REPEATED:
            held = seen.setdefault(column.field, column)
            if held is not column:
                raise InputError(
                    f'"{visible(held.label)}" and "{visible(column.label)}" are both mapped to '
                    f"{column.field}",
                    "Only one column can be; map the other to another field, or to extra.",
                )


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


def _with_decimal(column: Column, sample: Sequence[Sequence[Cell]]) -> Column:
    if not (is_size(column.field) or column.field in ("sizes", "price", "quantity")):
        return column
    return replace(column, decimal=decimal_sign(texts_of(column, sample)))
