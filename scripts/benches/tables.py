"""Plain tables: columns aligned, two spaces apart."""

from __future__ import annotations

from collections.abc import Sequence


def aligned(rows: Sequence[Sequence[str]]) -> str:
    """``rows`` as lines with every column as wide as its widest cell."""
    widths = [max(len(cell) for cell in column) for column in zip(*rows, strict=True)]
    return "\n".join(
        "  ".join(cell.ljust(w) for cell, w in zip(row, widths, strict=True)).rstrip()
        for row in rows
    )
