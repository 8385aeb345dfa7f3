"""What an import did, as plain text."""

from __future__ import annotations

import textwrap
from collections.abc import Collection, Sequence

from xref.services.lists import Imported
from xref.sheets.column_seen import ColumnSeen, WhichColumnError

SHOWN = 20
"""Findings printed; --json has more."""


def imported_text(done: Imported, wide: int) -> str:
    """The mapping with how sure it is, what became of the rows, and the first findings."""
    lines = _columns(done.columns, done.remembered)
    lines += ["", *_before_storing(done, wide), _counts(done), *_outcome(done, wide)]
    if done.findings:
        total = sum(done.counts.values())
        kinds = ", ".join(f"{count} {kind}" for kind, count in sorted(done.counts.items()))
        lines += ["", *textwrap.wrap(f"{total} finding{'s' if total > 1 else ''}: {kinds}", wide)]
        for found in done.findings[:SHOWN]:
            where = " ".join(
                x
                for x in (
                    found.sheet,
                    f"row {found.row}" if found.row else "",
                    f"[{found.column}]" if found.column else "",
                )
                if x
            )
            said = f"{where}: {found.message}" if where else found.message
            lines += textwrap.wrap(
                said, wide, initial_indent="  ", subsequent_indent="    ", break_on_hyphens=False
            )
        if len(done.findings) > SHOWN:
            lines.append(f"  … and more; --json lists {len(done.findings)}.")
    return "\n".join(lines)


def refused_text(refused: WhichColumnError) -> str:
    """The columns of a file that is refused for want of part numbers, with their first cells."""
    return "\n".join(_columns(refused.columns))


def _columns(columns: Sequence[ColumnSeen], remembered: Collection[str] = ()) -> list[str]:
    """What each column was taken for and how sure, with its first cells below."""
    lines = []
    sheet = None
    for column in columns:
        if column.sheet != sheet and column.sheet:
            lines.append(f"sheet {column.sheet}")
        sheet = column.sheet
        label = column.label if len(column.label) <= 30 else f"{column.label[:29]}…"
        if column.by == "kept":
            said = "kept with the part"
            if column.perhaps:
                said += f"; perhaps {column.perhaps} ({column.sure:.0%} sure): say so with --map"
        else:
            unit = f" in {column.unit}" if column.unit else ""
            before = " before" if column.label in remembered else ""
            said = f"{column.field}{unit}  ({_sure(column.sure, column.by)}{before})"
        lines.append(f"  {label:<30}  {said}")
        if column.samples:
            lines.append(f"      {' | '.join(column.samples)}")
    return lines


def _sure(sure: float, by: str) -> str:
    if by == "told":
        return "as told"
    return f"{sure:.0%} sure, by its {by}"


def _before_storing(done: Imported, wide: int) -> list[str]:
    """What else a person should see: the unit that was assumed, and what is new."""
    told = []
    if done.unit_assumed:
        other = "inch" if done.unit == "mm" else "mm"
        told.append(
            f"Sizes without a unit are taken in {done.unit}: nothing in the file says so. "
            f"Otherwise: --units {other}."
        )
    if done.remembered:
        told.append("What you answered before of such a file counts; --forget forgets it.")
    fresh = done.fresh
    for words, names in (
        ("new makers", fresh.makers),
        ("new models", fresh.models),
        ("new sources", fresh.sources),
        ("mentioned only", fresh.mentioned),
    ):
        if names:
            more = f" and {len(names) - NAMED} more" if len(names) > NAMED else ""
            told.append(f"{words}: {', '.join(names[:NAMED])}{more}")
    if done.contradictions:
        told.append(f"{len(done.contradictions)} cells contradict what is on record; see below.")
    return [
        line
        for text in told
        for line in textwrap.wrap(text, wide, subsequent_indent="  ", break_on_hyphens=False)
    ]


NAMED = 8
"""Names of a sort that are printed; --json has more."""


def _counts(done: Imported) -> str:
    return (
        f"{done.read} rows read: {done.added} added, {done.changed} changed, "
        f"{done.unchanged} unchanged, {done.rejected} rejected."
    )


def _outcome(done: Imported, wide: int) -> list[str]:
    if done.preview:
        said = "This was a preview: nothing was changed."
    elif not done.written:
        said = (
            "Nothing was changed, because rows were rejected: mend them, or keep the good ones "
            "with --keep-good."
        )
    elif done.rejects:
        said = f"The rejected rows are in {', '.join(done.rejects)}: mend them and import that."
    else:
        return []
    return textwrap.wrap(said, wide, break_on_hyphens=False, break_long_words=False)
