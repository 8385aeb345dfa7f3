"""Codes that a phone's camera reads."""

from __future__ import annotations

import segno

QUIET = 4
"""Modules left white around a code, as ISO/IEC 18004 has it."""


def squares(text: str) -> tuple[int, str]:
    """The code of ``text`` as squares of one path, with the width of the whole in modules."""
    rows = [list(row) for row in segno.make(text, error="m", micro=False).matrix]
    path = "".join(
        f"M{x + QUIET} {y + QUIET}h1v1h-1z"
        for y, row in enumerate(rows)
        for x, dark in enumerate(row)
        if dark
    )
    return len(rows) + 2 * QUIET, path
