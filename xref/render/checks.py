"""What a check found, as plain text and JSON."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from xref.domain.number import visible
from xref.render.lines import wrapped
from xref.store.upkeep.checking import Fault


def checks_text(faults: Sequence[Fault], width: int) -> str:
    """Each finding with how to mend it; one line where there is none."""
    if not faults:
        return "Everything is in order."
    lines = []
    for fault in faults:
        lines += wrapped(_shown(f"{fault.check}: {fault.message}."), width, "    ", "")
        lines += wrapped(_shown(fault.mend), width, "    ", "    ")
    return "\n".join(lines)


def _shown(text: str) -> str:
    return visible(text, len(text))


def checks_json(faults: Sequence[Fault]) -> dict[str, Any]:
    """The findings as one JSON document."""
    return {"findings": [{"check": f.check, "message": f.message, "mend": f.mend} for f in faults]}
