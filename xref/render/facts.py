"""Single facts, and what became of them, as plain text."""

from __future__ import annotations

from collections.abc import Sequence

from xref.render.lines import wrapped
from xref.services.changing.fact import Changed, Fact


def facts_text(facts: Sequence[Fact], width: int) -> str:
    """One line a fact, behind the number that it is changed and removed by."""
    if not facts:
        return "Nothing is on record."
    wide = max(len(str(fact.id)) for fact in facts)
    lines = []
    for fact in facts:
        told = "  ".join(text for text in (fact.of, fact.says) if text)
        lines += wrapped(told, width, " " * (wide + 6), f"  {fact.id:>{wide}}  ")
    return "\n".join(lines)


def changed_lines(done: Changed) -> list[str]:
    """What became of one fact, and what else that brought about."""
    before, after = done.before, done.after
    of = f" of {before.of}" if before.of else ""
    named = f"{before.kind} {before.id}{of}"
    if after is None:
        said = f"Removed {named}: {before.says}."
    elif after.says == before.says:
        said = f"{'Kept' if done.also else 'Nothing changed in'} {named}: {before.says}."
    else:
        said = f"Changed {named}: it was {before.says}; it is {after.says}."
    return [said, *done.also]


def named_lines(done: Changed) -> list[str]:
    """As ``changed_lines``, of what goes by a name of its own instead of a number."""
    before, after = done.before, done.after
    if after is None:
        said = f"Removed the {before.kind} {before.says}."
    elif after.says == before.says:
        said = f"Nothing changed in the {before.kind} {before.says}."
    else:
        said = f"Changed the {before.kind} {before.says}; it is {after.says}."
    return [said, *done.also]
