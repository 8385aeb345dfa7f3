"""What stands beside a drawing, as plain text."""

from __future__ import annotations

from collections.abc import Sequence

from xref.domain.number import visible
from xref.render.draw.figure import Drawing, Row
from xref.render.lines import wrapped


def drawing_text(drawing: Drawing, width: int) -> str:
    """The title, a line a size with its letter (or a line a range or number), and what to know."""
    lines = wrapped(visible(drawing.title, 200), width)
    if drawing.rows:
        beside = any(row.other is not None for row in drawing.rows)
        lines += _table([_row(row, beside) for row in drawing.rows])
    elif len(drawing.cells) > 1:
        lines += _table(drawing.cells[1:])
    return "\n".join([*lines, *wrapped(visible(drawing.description, 2000), width)])


def _row(row: Row, beside: bool) -> tuple[str, ...]:
    unit = "" if row.plain else " mm"
    cells = (row.letter, row.name, _figure(row.nominal, unit))
    if not beside:
        return cells
    other = _figure(row.other, unit)
    off = row.difference
    return (*cells, other, f"{off:+g}{unit}" if off else "")


def _figure(value: float | None, unit: str) -> str:
    return "" if value is None else f"{round(value, 6):.12g}{unit}"


def _table(rows: Sequence[Sequence[str]]) -> list[str]:
    """Columns as wide as their widest cell, without blanks at the ends."""
    shown = [[visible(cell, 60) for cell in row] for row in rows]
    wide = [max(len(row[i]) for row in shown) for i in range(len(shown[0]))]
    return [
        "  " + "  ".join(f"{cell:<{w}}" for cell, w in zip(row, wide, strict=True)).rstrip()
        for row in shown
    ]
