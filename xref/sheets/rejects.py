"""Rows that were rejected, in a file beside the one they came from: same columns and a reason."""

from __future__ import annotations

import csv
import re
from collections.abc import Iterable
from pathlib import Path

from xref.domain.number import visible
from xref.errors import FileError
from xref.sheets.cells import typed_text
from xref.sheets.harmless import harmless, restored
from xref.sheets.part_row import PartRow
from xref.sheets.sheet import Cell
from xref.sheets.table import Table

REASON = "reason for rejection"


def write_rejects(path: Path, table: Table, rows: Iterable[PartRow], several: bool) -> Path:
    """Write the rows beside ``path`` and return where; a file that is there is never touched.

    Raises FileError where it cannot be written.
    """
    sheet = re.sub(r"[^\w-]+", "-", table.sheet.name)
    part = f".{sheet}" if several else ""
    columns = table.columns
    titles = [
        table.heading.titles[c.at] or (c.label if c.field == "extra" else c.field) for c in columns
    ]
    try:
        for count in range(1, 1000):
            again = f"-{count}" if count > 1 else ""
            beside = path.with_name(f"{path.stem}{part}.rejected{again}.csv")
            try:
                stream = beside.open("x", encoding="utf-8-sig", newline="")
            except FileExistsError:
                continue
            with stream:
                out = csv.writer(stream)
                out.writerow([*map(harmless, titles), REASON])
                for row in rows:
                    cells = [_shown(c) for c in row.cells[: len(columns)]]
                    out.writerow([*cells, row.reason])
            return beside
    except OSError as error:
        raise FileError(
            f"the rejected rows could not be written beside {visible(path.name, 80)} "
            f"({error.strerror})",
            "Nothing was imported; put the file in a folder that you may write.",
        ) from None
    raise FileError(f"there are a thousand files of rejected rows beside {path.name}")


def _shown(cell: Cell) -> str:
    return harmless(restored(cell)) if isinstance(cell, str) else typed_text(cell)
