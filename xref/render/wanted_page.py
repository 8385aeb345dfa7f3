"""One page of what is wanted, for a supplier."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence

from xref.domain.part import Part, is_plain_number
from xref.domain.size import mm_text
from xref.render.wanted import open_lines, total_line
from xref.services.bench.wanted import Line
from xref.services.parts.cautions import DEFER, each_once
from xref.sheets.harmless import harmless

COLUMNS = ("ask for", "quantity", "original number", "description", "sizes", "price", "note")


def _sizes(part: Part | None) -> str:
    """The sizes of a part on one line."""
    if part is None:
        return ""
    return ", ".join(
        f"{name} {held.value if is_plain_number(name) else mm_text(held.value)}"
        for name, held in part.sizes.items()
    )


def _cells(line: Line) -> list[str]:
    part = line.part
    what = (part.words or part.type or part.kind) if part else ""
    original = part.number if part and part.number != line.ask else ""
    each = f"{line.wanted.price} {line.wanted.currency}".strip()
    return [
        line.ask,
        f"{line.wanted.quantity:g}",
        original,
        what,
        _sizes(part),
        each,
        line.wanted.note,
    ]


def page_csv(rows: Sequence[Line]) -> str:
    """The page as CSV, in which a spreadsheet runs nothing as a formula."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(COLUMNS)
    writer.writerows([harmless(cell) for cell in _cells(line)] for line in rows)
    return out.getvalue()


def page_markdown(supplier: str, rows: Sequence[Line]) -> str:
    """The page as Markdown: a table, the totals, the cautions; a sentence where nothing is."""
    if not rows:
        return f"Nothing is wanted{f' from {supplier}' if supplier else ''}."
    head = f"# Wanted from {supplier}" if supplier else "# Wanted"
    told = [head, "", "| " + " | ".join(COLUMNS) + " |", "|" + "---|" * len(COLUMNS)]
    for line in rows:
        told.append("| " + " | ".join(c.replace("|", "\\|") for c in _cells(line)) + " |")
    if total := total_line(rows):
        told += ["", *total]
    if still := open_lines(rows):
        told += ["", *still]
    steps = [f"{line.ask}: {step}" for line in rows if line.order for step in line.order.steps]
    if steps:
        told += ["", *(f"- {step}" for step in dict.fromkeys(steps))]
    said = each_once(text for line in rows for text in line.cautions)
    told += ["", *(f"Caution: {text}" for text in said), DEFER]
    return "\n".join(told)
