"""What was learned of how a person reads marks, as plain text and JSON."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from xref.domain.habit import Habit


def reading_text(found: Sequence[Habit], characters: int) -> str:
    """One line a habit, the plainest first."""
    if not characters:
        return "Nothing was learned yet: it comes from parts that are decided on the bench."
    head = f"From {characters} characters of decided marks:"
    if not found:
        return f"{head} no habit of misreading shows."
    lines = [head]
    for h in found:
        cheaper = "now expected sooner" if h.now < h.before else "still expected as before"
        lines.append(f"  {h.true} was read as {h.read} in {h.times:g} of {h.of:g} times; {cheaper}")
    return "\n".join(lines)


def reading_json(found: Sequence[Habit], characters: int) -> dict[str, Any]:
    """The same as JSON; costs in nats."""
    return {
        "characters": characters,
        "habits": [
            {
                "true": h.true,
                "read": h.read,
                "times": h.times,
                "of": h.of,
                "cost_shipped": h.before,
                "cost_now": h.now,
            }
            for h in found
        ],
    }
