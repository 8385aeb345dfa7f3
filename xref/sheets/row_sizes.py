"""The sizes of a row, each in the unit that its heading, its row or its list says."""

from __future__ import annotations

import datetime

from xref.errors import InputError
from xref.sheets.bare_sizes import FRACTION, INCH, MIXED, doubt
from xref.sheets.cells import SizeReader, kept_text, kind_in, text_of, unit_word
from xref.sheets.column import Column
from xref.sheets.described import sizes_described
from xref.sheets.finding import Findings
from xref.sheets.headings import is_size
from xref.sheets.part_row import NAMING, PartRow
from xref.sheets.sheet import Cell
from xref.sheets.size_cell import heading_order, read_size_cell
from xref.sheets.size_order import shim_in
from xref.sheets.table import Table
from xref.sheets.typed import date_of_size, no_size


class RowSizes:
    """Reads the sizes of the rows of one table; what cannot be read is kept and said."""

    def __init__(
        self, table: Table, unit: str, findings: Findings, unit_said: bool = False
    ) -> None:
        self.table = table
        self.findings = findings
        self.loose = 0
        self.unit = unit
        self._unit_said = unit_said or any(c.field == "unit" for c in table.columns)
        self._fractions_doubted = False
        self._formats: dict[tuple[int, int], str] = {}
        self._above: dict[int, Cell] = {}
        fields = {c.field for c in table.columns}
        self._guesses_kinds = "kind" not in fields and "words" in fields
        self._readers: dict[tuple[str, str, str], SizeReader] = {}
        self._naming = [c for c in table.columns if c.field in NAMING and c.field != "number"]
        self._plain = [
            c
            for c in table.columns
            if not is_size(c.field)
            and c.field not in NAMING
            and c.field not in ("extra", "ignore", "sizes", "unit", "cross", "thread")
        ]
        self._sizes = [c for c in table.columns if is_size(c.field)]
        self._together = [c for c in table.columns if c.field == "sizes"]
        self._orders = {c.at: heading_order(c.label) for c in self._together}
        self._crosses = [c for c in table.columns if c.field == "cross"]
        self._unit = next((c for c in table.columns if c.field == "unit"), None)
        self._described = not self._sizes and not self._together
        self._threads = [c for c in table.columns if c.field == "thread"]
        self._extra = [c for c in table.columns if c.field == "extra"]
        [self._number] = [c for c in table.columns if c.field == "number"]

    def _settle_unit(self) -> None:
        """Take all for inches where most sizes are fractions; doubt fractions among others."""
        if self._unit_said or self.unit != "mm":
            return
        found = doubt(self.table.columns, (row for _, row in self.table.sheet.rows))
        self._fractions_doubted = found == MIXED
        if found == INCH:
            self.unit = INCH
            said = "sizes without a unit are taken in inches, for most of them are fractions"
            self.findings.add(self.table.sheet.name, 0, "", "unit", said)

    def _note(self, row: PartRow, column: Column, kind: str, message: str) -> None:
        self.findings.add(self.table.sheet.name, row.line, column.label, kind, message)

    def _unit_of(self, row: PartRow, column: Column | None) -> str:
        """The unit of a bare size: its heading's, else the row's, else the list's."""
        own = column.unit if column is not None else ""
        if own or self._unit is None:
            return own or self.unit
        said = unit_word(text_of(row.cells[self._unit.at]))
        return said or self.unit

    def _reader(self, column: Column, unit: str) -> SizeReader:
        key = (column.field, unit, column.decimal)
        if key not in self._readers:
            self._readers[key] = SizeReader(*key)
        return self._readers[key]

    def _read_sizes(self, row: PartRow) -> None:
        cells = row.cells
        for column in self._sizes:
            if cells[column.at] != "":
                reader = self._reader(column, self._unit_of(row, column))
                self._size(row, column, reader, cells[column.at])
        for column in self._together:
            if cells[column.at] != "":
                self._size_list(row, column, cells[column.at])
        if self._described and "words" in row.told:
            kind = row.told.get("kind", "")
            row.sizes.update(sizes_described(row.told["words"], self._unit_of(row, None), kind))
        bore, outside = row.sizes.get("bore"), row.sizes.get("outside")
        if bore is not None and outside is not None and bore >= outside:
            self._swapped(row)

    def _swapped(self, row: PartRow) -> None:
        """Keep a bore that is not smaller than its outside, with its outside, as they stand."""
        message = "the bore is not smaller than the outside: which is which, and in which unit?"
        for name in ("bore", "outside"):
            del row.sizes[name]
            column = next((c for c in self._sizes if c.field == name), None)
            if column is not None:
                self._unread(row, column, row.cells[column.at], message)

    def _size(self, row: PartRow, column: Column, reader: SizeReader, cell: Cell) -> None:
        if isinstance(cell, str):
            if not cell.strip():
                return
        elif isinstance(cell, bool | datetime.date | datetime.time | datetime.timedelta):
            self._unread(row, column, cell, no_size(cell))
            return
        doubted = self._fractions_doubted and not column.unit and isinstance(cell, str)
        if doubted and FRACTION.fullmatch(str(cell).strip()):
            message = "a fraction among millimetres: in which unit is it? Write it with its unit"
            self._unread(row, column, cell, message)
            return
        try:
            row.sizes[column.field] = reader.read(cell)
        except InputError as error:
            dated = date_of_size(cell) if isinstance(cell, str) else ""
            self._unread(row, column, cell, dated or error.message)

    def _size_list(self, row: PartRow, column: Column, cell: Cell) -> None:
        words = row.told.get("words", "")
        kind = row.told.get("kind", "") or kind_in(words) or shim_in(words)
        found = read_size_cell(
            text_of(cell), self._unit_of(row, column), column.decimal, kind, self._orders[column.at]
        )
        if found.why:
            self._unread(row, column, cell, found.why)
            return
        if found.thread:
            row.extras.append(("thread", found.thread, column.at))
        for name, value in found.sizes.items():
            row.sizes.setdefault(name, value)

    def _unread(self, row: PartRow, column: Column, cell: Cell, message: str) -> None:
        self._note(row, column, "size", message)
        self._keep(row, column, cell)

    def _keep(self, row: PartRow, column: Column, cell: Cell) -> None:
        text = kept_text(cell)
        if text:
            row.extras.append((column.label, text, column.at))
