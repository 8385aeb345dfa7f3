"""Rows of a list as facts about parts; what cannot be read is a finding and is kept as it is."""

from __future__ import annotations

import re
from collections.abc import Iterator

from xref.domain.number import MAX_NUMBER, visible
from xref.errors import InputError
from xref.sheets.cells import kept_text, kind_described, kind_word, text_of
from xref.sheets.chain_cell import links_of_chain
from xref.sheets.column import Column, untitled
from xref.sheets.fields import PERHAPS_ON
from xref.sheets.guard import XLSX
from xref.sheets.link_cell import read_link_cell, read_number_cell
from xref.sheets.look import CURRENCY
from xref.sheets.matrix import says_fits, serials_in
from xref.sheets.part_row import LISTS, MARKS, NAMING, SEVERAL, PartRow, names_of
from xref.sheets.remarks import is_ditto, says_none, says_nothing
from xref.sheets.row_sizes import RowSizes
from xref.sheets.seen import Seen
from xref.sheets.sheet import Cell
from xref.sheets.typed import Typed, error_said, typed
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


class RowReader(RowSizes):
    """Reads the rows of one table."""

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
        if section and row.told.get("assembly", "").isdigit():
            # A plate's or figure's number says less than the name above it.
            plate = next(c for c in self._plain if c.field == "assembly")
            row.extras.append((plate.label, row.told.pop("assembly"), plate.at))
        if section or what == "assembly":
            row.told.setdefault("assembly", section or name)
        if what == "model" and row.told.keys().isdisjoint(("does not fit", PERHAPS_ON)):
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

    def _load_formats(self) -> None:
        sheet = self.table.sheet
        if sheet.kind != XLSX or sheet.turned:
            return
        columns = [self._number.at, *(c.at for c in self._naming)]
        if any(
            not isinstance(row[at], str) for _, row in sheet.rows for at in columns if at < len(row)
        ):
            self._formats = number_formats(sheet, columns)

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
        if says_fits(text):
            held = row.told.get("model", "")
            row.told["model"] = f'{held}\n"{column.label}" {serials_in(text)}'.strip()
        elif text and not says_none(text):
            self._keep(row, column, cell)

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
            row.guessed_kind = kind_described(row.told["words"])
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
        links = list(said.links)
        if said.chain:
            links += links_of_chain(said.chain, row.number, column.field, older=said.older)
        for field, text in links:
            row.lists = row.lists or {}
            row.lists.setdefault(field, []).append(text)
        if said.rest:
            self._keep(row, column, cell)

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
