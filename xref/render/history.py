"""The history as plain text and JSON."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from xref.render.lines import wrapped
from xref.services.recounting import Told

MOST_LINES = 8


def history_text(told: Sequence[Told], width: int) -> str:
    """One paragraph a command, newest first."""
    if not told:
        return "Nothing was changed yet."
    lines = []
    for item in told:
        undone = ", taken back" if item.action.undone else ""
        lines.append(f"{item.action.at}  {item.action.command}{undone}")
        for line in item.lines[:MOST_LINES]:
            lines += wrapped(line, width, "      ", "    ")
        if len(item.lines) > MOST_LINES:
            lines.append(f"    … {len(item.lines) - MOST_LINES} more")
    return "\n".join(lines)


def history_json(told: Sequence[Told]) -> dict[str, Any]:
    """The history as JSON, with every changed row before and after."""
    return {
        "actions": [
            {
                "id": item.action.id,
                "at": item.action.at,
                "command": item.action.command,
                "undone": item.action.undone,
                "changes": [
                    {
                        "table": c.table,
                        "kind": c.kind,
                        "rows": [c.low, c.high],
                        "before": dict(c.before) if c.before else None,
                        "after": dict(c.after) if c.after else None,
                    }
                    for c in item.action.changes
                ],
            }
            for item in told
        ]
    }
