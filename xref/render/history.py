"""The history as plain text and JSON."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from xref.render.lines import wrapped
from xref.services.upkeep.history import Told, ToldChange

MOST_LINES = 8


def history_text(told: Sequence[Told], width: int) -> str:
    """One paragraph a command, newest first, each behind the number that undoes it."""
    if not told:
        return "Nothing was changed yet."
    wide = max(len(str(item.action.id)) for item in told)
    lines = []
    for item in told:
        undone = ", taken back" if item.action.undone else ""
        by = f" by {item.action.member}" if item.action.member else ""
        said = f"{item.action.at}  {item.action.command}{by}{undone}"
        lines.append(f"{item.action.id:>{wide}}  {said}")
        for line in plain_lines(item):
            lines += wrapped(line, width, "      ", "    ")
    return "\n".join(lines)


def plain_lines(item: Told) -> list[str]:
    """What one command changed, a line each; of many, the first ``MOST_LINES``."""
    more = len(item.lines) - MOST_LINES
    return [*item.lines[:MOST_LINES], *([f"… {more} more"] if more > 0 else [])]


def history_json(told: Sequence[Told]) -> dict[str, Any]:
    """The history as JSON, in the words of the text: each change with the row before and after,
    null where there was none, or where several added rows are only counted."""
    return {
        "actions": [
            {
                "id": item.action.id,
                "at": item.action.at,
                "command": item.action.command,
                "undone": item.action.undone,
                "member": item.action.member or None,
                "changes": [_change(change) for change in item.changes],
            }
            for item in told
        ]
    }


def _change(told: ToldChange) -> dict[str, Any]:
    rows = {"before": told.before, "after": told.after}
    names = list({**(told.before or {}), **(told.after or {})})
    return {
        "what": told.what,
        "change": told.change,
        "count": told.count,
        "name": told.name,
        **{
            when: None if row is None else {n: row[n].value if n in row else None for n in names}
            for when, row in rows.items()
        },
    }
