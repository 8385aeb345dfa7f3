"""Rows of a list as facts about parts; what cannot be read is a finding and is kept as it is."""

from __future__ import annotations

import datetime
import re
from collections.abc import Iterator

from xref.domain.number import MAX_NUMBER, visible
from xref.errors import InputError
from xref.sheets.cells import SizeReader, kept_text, kind_word, read_sizes, text_of, typed_text
from xref.sheets.column import Column, untitled
from xref.sheets.finding import Findings
from xref.sheets.guard import XLSX
from xref.sheets.headings import is_size
from xref.sheets.part_row import LISTS, MARKS, NAMING, SEVERAL, PartRow, names_of
from xref.sheets.sheet import Cell
from xref.sheets.table import Table
from xref.sheets.typed import Typed, error_said, typed
from xref.sheets.workbook import number_formats

_BETWEEN_MARKS = re.compile(r"\s+\|\s+|\n")
SIZES = ("bore", "outside", "width")


class RowReader:
    """Reads the rows of one table."""

    def __init__(self, table: Table, unit: str, findings: Findings) -> None:
        self.table = table
        self.findings = findings
        self.loose = 0
        self._formats: dict[tuple[int, int], str] = {}
        self._naming = [c for c in table.columns if c.field in NAMING and c.field != "number"]
        self._plain = [
            c
            for c in table.columns
            if not is_size(c.field)
            and c.field not in NAMING
            and c.field not in ("extra", "ignore", "sizes")
        ]
        self._sizes = [
            (c, SizeReader(c.field, c.unit or unit, c.decimal))
            for c in table.columns
            if is_size(c.field)
        ]
        self._together = [(c, c.unit or unit) for c in table.columns if c.field == "sizes"]
        self._extra = [c for c in table.columns if c.field == "extra"]
        [self._number] = [c for c in table.columns if c.field == "number"]

    def rows(self) -> Iterator[PartRow]:
        """Each row in order; rejected ones too, with their reason."""
        self._load_formats()
        for line, cells in self.table.rows(self.findings):
            yield self._row(line, cells)
        if self.loose:
            self.findings.add(
                self.table.sheet.name,
                0,
                self._number.label,
                "number",
                f"part numbers stored as numbers, not as text: {self.loose}; zeros in front may be "
                "gone (0471 would stand as 471)",
            )

    def _load_formats(self) -> None:
        sheet = self.table.sheet
        if sheet.kind != XLSX:
            return
        columns = [self._number.at, *(c.at for c in self._naming)]
        if any(
            not isinstance(row[at], str) for _, row in sheet.rows for at in columns if at < len(row)
        ):
            self._formats = number_formats(sheet, columns)

    def _note(self, row: PartRow, column: Column, kind: str, message: str) -> None:
        self.findings.add(self.table.sheet.name, row.line, column.label, kind, message)

    def _row(self, line: int, cells: list[Cell]) -> PartRow:
        row = PartRow(line, cells)
        self._read_number(row)
        if row.reason:
            self._note(row, self._number, "rejected", row.reason)
            return row
        self._read_plain(row)
        self._read_sizes(row)
        for column in self._extra:
            if cells[column.at] != "":
                self._keep(row, column, cells[column.at])
        if self.table.sheet.errors:
            for column in self.table.columns:
                if column.field not in NAMING:
                    self._error(row, column)
        if len(cells) > len(self.table.columns):
            self._beyond(row)
        return row

    def _read_sizes(self, row: PartRow) -> None:
        cells = row.cells
        for column, reader in self._sizes:
            if cells[column.at] != "":
                self._size(row, column, reader, cells[column.at])
        for column, unit in self._together:
            if cells[column.at] != "":
                self._size_list(row, column, unit, cells[column.at])

    def _read_plain(self, row: PartRow) -> None:
        for column in self._plain:
            cell = row.cells[column.at]
            text = text_of(cell) if cell != "" else ""
            if text:
                row.told[column.field] = text
        if "kind" in row.told:
            self._kind(row)
        for column in self._naming:
            cell = row.cells[column.at]
            if cell != "" or self.table.sheet.errors:
                self._name(row, column, cell)

    def _typed(self, row: PartRow, column: Column, cell: Cell) -> Typed:
        place = (row.line, column.at)
        if place in self.table.sheet.errors:
            cell = self.table.sheet.errors[place]
        return typed(cell, self.table.sheet.kind, self._formats.get(place, ""))

    def _read_number(self, row: PartRow) -> None:
        found = self._typed(row, self._number, row.cells[self._number.at])
        if found.lost or not found.text:
            row.reason = found.message or "there is no part number in this row"
            return
        if len(found.text) > MAX_NUMBER:
            row.reason = f"the part number has {len(found.text)} characters; {MAX_NUMBER} at most"
            return
        row.number = found.text
        try:
            row.key, row.folded = names_of(found.text)
        except InputError as error:
            row.reason = error.message
            return
        if not row.folded:
            row.reason = f'"{visible(found.text)}" has no letter or digit that can be searched'
        if found.kind:
            self._note(row, self._number, found.kind, f"{found.message}; kept as {found.text}")
        self.loose += found.loose

    def _error(self, row: PartRow, column: Column) -> None:
        error = self.table.sheet.errors.get((row.line, column.at))
        if error:
            self._note(row, column, "error", error_said(error))

    def _kind(self, row: PartRow) -> None:
        [column] = [c for c in self._plain if c.field == "kind"]
        found = kind_word(row.told["kind"])
        if found:
            row.told["kind"] = found
            return
        text = row.told.pop("kind")
        self._note(row, column, "kind", f'"{visible(text)}" names no kind of part')
        self._keep(row, column, row.cells[column.at])

    def _name(self, row: PartRow, column: Column, cell: Cell) -> None:
        found = self._typed(row, column, cell)
        if found.kind:
            kept = "left out" if found.lost else f"kept as {found.text}"
            self._note(row, column, found.kind, f"{found.message}; {kept}")
        if found.lost:
            self._keep(row, column, cell)
        if not found.text:
            return
        written = kept_text(cell) if isinstance(cell, str) else found.text
        if column.field in LISTS:
            row.lists = row.lists or {}
            row.lists.setdefault(column.field, []).append(written)
        elif column.field in MARKS:
            for text in _BETWEEN_MARKS.split(written):
                if text.strip():
                    mark = (" ".join(text.split()), MARKS[column.field])
                    row.marks = (*row.marks, mark)
        else:
            row.told[column.field] = written if column.field in SEVERAL else found.text

    def _size(self, row: PartRow, column: Column, reader: SizeReader, cell: Cell) -> None:
        if isinstance(cell, str):
            if not cell.strip():
                return
        elif isinstance(cell, bool | datetime.date | datetime.time | datetime.timedelta):
            self._unread(row, column, cell, f"{typed_text(cell)} is no size; it may have been 3/4")
            return
        try:
            row.sizes[column.field] = reader.read(cell)
        except InputError as error:
            self._unread(row, column, cell, error.message)

    def _size_list(self, row: PartRow, column: Column, unit: str, cell: Cell) -> None:
        try:
            found = read_sizes(text_of(cell), unit, column.decimal)
            if len(found) not in (2, 3):
                count = "one size stands" if len(found) == 1 else f"{len(found)} sizes stand"
                raise InputError(f"{count} here, not bore x outside x width")
            if found[0] >= found[1]:
                raise InputError("bore x outside x width is looked for: the first is not smaller")
        except InputError as error:
            self._unread(row, column, cell, error.message)
            return
        for name, value in zip(SIZES, found, strict=False):
            row.sizes.setdefault(name, value)

    def _unread(self, row: PartRow, column: Column, cell: Cell, message: str) -> None:
        self._note(row, column, "size", message)
        self._keep(row, column, cell)

    def _keep(self, row: PartRow, column: Column, cell: Cell) -> None:
        text = kept_text(cell)
        if text:
            row.extras.append((column.label, text, column.at))

    def _beyond(self, row: PartRow) -> None:
        for at in range(len(self.table.columns), len(row.cells)):
            text = kept_text(row.cells[at])
            if text:
                label = untitled(at)
                row.extras.append((label, text, at))
                self.findings.add(
                    self.table.sheet.name,
                    row.line,
                    label,
                    "beyond the heading",
                    "the row is longer than the heading; kept with the part",
                )
