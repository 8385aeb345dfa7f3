"""Rows of a list as facts about parts; what cannot be read is a finding and is kept as it is."""

from __future__ import annotations

import datetime
import re
from collections.abc import Iterator

from xref.domain.number import MAX_NUMBER, visible
from xref.errors import InputError
from xref.sheets.bare_sizes import FRACTION, INCH, MIXED, doubt
from xref.sheets.cells import (
    SizeReader,
    kept_text,
    kind_in,
    kind_named,
    kind_word,
    text_of,
    unit_word,
)
from xref.sheets.column import Column, untitled
from xref.sheets.finding import Findings
from xref.sheets.guard import XLSX
from xref.sheets.headings import is_size
from xref.sheets.link_cell import read_link_cell, read_number_cell
from xref.sheets.look import CURRENCY
from xref.sheets.part_row import LISTS, MARKS, NAMING, SEVERAL, PartRow, names_of
from xref.sheets.profile import CROSSES
from xref.sheets.remarks import is_ditto, says_nothing
from xref.sheets.seen import Seen
from xref.sheets.sheet import Cell
from xref.sheets.size_cell import heading_order, read_size_cell
from xref.sheets.table import Table
from xref.sheets.typed import Typed, error_said, no_size, typed
from xref.sheets.workbook import number_formats

_BETWEEN_MARKS = re.compile(r"\s+\|\s+|\n")

MOST_DITTO = 16
"""Characters of the longest word for "as above"."""

PLAIN_NUMBER = re.compile(r"(?=\S*\d)[^\s(\[/\"“]+(?: [^\s(\[/\"“]*\d[^\s(\[/\"“]*)*").fullmatch
"""A number of which no part can be anything else."""

_SHOWN = {
    "replaces": "an older number of",
    "replaced by": "a newer number of",
    "interchange": "another number of",
}


class RowReader:
    """Reads the rows of one table."""

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
        self._sections: dict[str, int] = {}
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
        self._threads = [c for c in table.columns if c.field == "thread"]
        self._extra = [c for c in table.columns if c.field == "extra"]
        [self._number] = [c for c in table.columns if c.field == "number"]

    def rows(self) -> Iterator[PartRow]:
        """Each row in order; rejected ones too, with their reason."""
        self._load_formats()
        self._settle_unit()
        seen = Seen(self.table.sheet, self.table.columns, self.findings)
        for line, cells, section in self.table.in_sections(self.findings):
            row = self._row(line, self._dittoed(seen.cells(line, cells)))
            if not row.reason:
                seen.keep(row)
                self._from_around(row, section)
            yield row
        if self.loose:
            self.findings.add(
                self.table.sheet.name,
                0,
                self._number.label,
                "number",
                f"part numbers stored as numbers, not as text: {self.loose}; zeros in front may be "
                "gone (0471 would stand as 471)",
            )

    def _from_around(self, row: PartRow, section: str) -> None:
        """What the lines above and the sheet's name say of the row, where it is silent."""
        what, name = self.table.by_sheet
        if section or what == "assembly":
            row.told.setdefault("assembly", section or name)
        if what == "model" and "does not fit" not in row.told:
            row.told.setdefault("model", f'"{name}"')
        elif what == "year" and "price" in row.told:
            row.told.setdefault("price date", name)
        elif what == "year":
            row.extras.append(("sheet", name, len(row.cells)))

    def _dittoed(self, cells: list[Cell]) -> list[Cell]:
        """The cells, those that say "as above" with what stands above."""
        above = self._above
        for at, cell in enumerate(cells):
            if cell == "":
                continue
            if (
                isinstance(cell, str)
                and len(cell) < MOST_DITTO
                and not (cell[-1].isdigit() or cell[0].isdigit())
                and at in above
                and is_ditto(cell)
            ):
                cells[at] = above[at]
            else:
                above[at] = cell
        return cells

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

    def _load_formats(self) -> None:
        sheet = self.table.sheet
        if sheet.kind != XLSX or sheet.turned:
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
        self._read_kept(row)
        if self.table.sheet.errors:
            for column in self.table.columns:
                if column.field not in NAMING:
                    self._error(row, column)
        if len(cells) > len(self.table.columns):
            self._beyond(row)
        return row

    def _read_kept(self, row: PartRow) -> None:
        for column in self._extra:
            if row.cells[column.at] != "":
                self._keep(row, column, row.cells[column.at])
        for column in self._threads:
            text = text_of(row.cells[column.at])
            if text:
                row.extras.append(("thread", text, column.at))
        for column in self._crosses:
            self._cross(row, column, row.cells[column.at])

    def _cross(self, row: PartRow, column: Column, cell: Cell) -> None:
        text = text_of(cell)
        if text.casefold() in CROSSES:
            held = row.told.get("model", "")
            row.told["model"] = f'{held}\n"{column.label}"'.strip()
        elif text:
            self._keep(row, column, cell)

    def _unit_of(self, row: PartRow, column: Column) -> str:
        """The unit of a bare size: its heading's, else the row's, else the list's."""
        if column.unit or self._unit is None:
            return column.unit or self.unit
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

    def _read_plain(self, row: PartRow) -> None:
        for column in self._plain:
            cell = row.cells[column.at]
            text = text_of(cell) if cell != "" else ""
            if text:
                row.told[column.field] = text
        if "price" in row.told:
            self._currency(row)
        if "kind" in row.told:
            self._kind(row)
        elif self._guesses_kinds and "words" in row.told:
            row.guessed_kind = kind_named(row.told["words"])
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
        if not found.kind and not PLAIN_NUMBER(found.text):
            self._split_number(row)
            if row.reason:
                return
        try:
            row.key, row.folded = names_of(row.number)
        except InputError as error:
            row.reason = error.message
            return
        if not row.folded:
            row.reason = f'"{visible(row.number)}" has no letter or digit that can be searched'
        if found.kind:
            self._note(row, self._number, found.kind, f"{found.message}; kept as {found.text}")
        self.loose += found.loose

    def _split_number(self, row: PartRow) -> None:
        cell = row.cells[self._number.at]
        written = kept_text(cell) if isinstance(cell, str) else row.number
        number, said = read_number_cell(written)
        if number == row.number and not said.links and says_nothing(number):
            row.reason = f'"{visible(number)}" is a remark, not a part number'
            return
        if number == row.number:
            return
        row.number = number
        for field, other in said.links:
            row.lists = row.lists or {}
            row.lists.setdefault(field, []).append(other)
            self._note(row, self._number, "number", f"{other}: taken as {_SHOWN[field]} {number}")

    def _error(self, row: PartRow, column: Column) -> None:
        error = self.table.sheet.errors.get((row.line, column.at))
        if error:
            self._note(row, column, "error", error_said(error))

    def _currency(self, row: PartRow) -> None:
        """The currency by the sign at the price or in its heading, where no column says it."""
        label = next((c.label for c in self._plain if c.field == "price"), "")
        sign = CURRENCY.search(row.told["price"]) or CURRENCY.search(label)
        if sign:
            row.told.setdefault("currency", sign[0])

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
            self._links(row, column, cell, written)
        elif column.field in MARKS:
            for text in _BETWEEN_MARKS.split(written):
                if text.strip():
                    mark = (" ".join(text.split()), MARKS[column.field])
                    row.marks = (*row.marks, mark)
        else:
            row.told[column.field] = written if column.field in SEVERAL else found.text

    def _links(self, row: PartRow, column: Column, cell: Cell, written: str) -> None:
        look = self.table.sheet.look
        place = (row.line, column.at + self.table.sheet.left)
        if look is not None and place in look.struck and not look.unstruck[place]:
            # What is struck through is no longer so; it is kept to be seen.
            return
        said = read_link_cell(written, column.field)
        for field, text in said.links:
            row.lists = row.lists or {}
            row.lists.setdefault(field, []).append(text)
        if said.rest:
            self._keep(row, column, cell)

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
            self._unread(row, column, cell, error.message)

    def _size_list(self, row: PartRow, column: Column, cell: Cell) -> None:
        kind = row.told.get("kind", "") or kind_in(row.told.get("words", ""))
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
