"""A box of parts as a plain list: a line a part."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from xref.domain.number import visible
from xref.render.identify import MOSTLY, odds_text, shown
from xref.services.identify.answer import Identified

if TYPE_CHECKING:
    from xref.errors import XrefError

LABEL, ANSWER, ODDS = 20, 22, 11
"""Columns of each; a longer text pushes the rest aside and is never cut."""
MOST_LABEL = 200


def box_line(answer: Identified, number: int, carried: Mapping[str, str]) -> str:
    """Label, answer, odds and the next check of one row.

    The label is what its own columns say that nothing is asked by, else its marks, else the row.
    """
    found = shown(answer)
    odds = found[0].probability if found else answer.none_of_these
    told = found[0].part.number if found else "none of these"
    if found and answer.verdict == "none":
        told, odds = "none of these", answer.none_of_these
    elif found and answer.verdict == "several" and odds < MOSTLY:
        told = f"{told} or others"
    check = answer.next_check[0] if answer.next_check else None
    asked = f"next: {check.check} (--seen {check.key}=…)" if check else "nothing more to check"
    label = _label(carried) or ", ".join(m.shown() for m in answer.query.marks) or f"row {number}"
    return f"{label:<{LABEL}}  {told:<{ANSWER}}  {odds_text(odds):>{ODDS}}  {asked}"


def fault_line(error: XrefError, number: int, carried: Mapping[str, str]) -> str:
    """What stands in the place of a row that cannot be read."""
    label = _label(carried) or f"row {number}"
    return f"{label:<{LABEL}}  not read (row {number}): {error.message}. {error.hint}".rstrip()


def _label(carried: Mapping[str, str]) -> str:
    return visible(" / ".join(carried.values()), MOST_LABEL)
