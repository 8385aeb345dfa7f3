"""What is to be seen on a sheet beside its values, kept with the parts of its rows or said."""

from __future__ import annotations

from collections.abc import Sequence

from xref.domain.number import visible
from xref.sheets.column import Column
from xref.sheets.finding import Findings
from xref.sheets.look import Look
from xref.sheets.part_row import PartRow
from xref.sheets.sheet import Cell, Sheet

MOST_LINES = 20
"""Lines that one finding names."""


class Seen:
    """Adds to the rows of one sheet what its look says of them."""

    def __init__(self, sheet: Sheet, columns: Sequence[Column], findings: Findings) -> None:
        self._look: Look | None = sheet.look
        self._sheet = sheet
        self._columns = columns
        self._findings = findings
        if self._look is not None:
            self._say_of_all(self._look)

    def _say(self, line: int, column: str, kind: str, message: str) -> None:
        self._findings.add(self._sheet.name, line, column, kind, message)

    def _say_of_all(self, look: Look) -> None:
        if look.hidden:
            self._say(0, "", "hidden", "the sheet is hidden; it is read all the same")
        for line in look.hidden_rows[:MOST_LINES]:
            self._say(line, "", "hidden", "the row is hidden; it is read all the same")
        if look.hidden_columns:
            named = ", ".join(look.hidden_columns[:MOST_LINES])
            self._say(0, "", "hidden", f"hidden columns are read all the same: {named}")
        for line, at in look.formulas[:MOST_LINES]:
            label = next((c.label for c in self._columns if c.at == at - self._sheet.left), "")
            message = "a formula without a value stands here; open the file and save it with values"
            self._say(line, label, "formula", message)

    def cells(self, line: int, cells: list[Cell]) -> list[Cell]:
        """The cells, of those struck through in part what is not struck."""
        look = self._look
        if look is None or not look.struck:
            return cells
        for at in range(len(cells)):
            place = (line, at + self._sheet.left)
            if look.unstruck.get(place):
                cells[at] = look.unstruck[place]
        return cells

    def keep(self, row: PartRow) -> None:
        """Keep with a row's part what is said of its cells."""
        look = self._look
        if look is None:
            return
        for column in self._columns:
            place = (row.line, column.at + self._sheet.left)
            struck = look.struck.get(place)
            if struck:
                row.extras.append((f"{column.label}, struck through", struck, column.at))
                said = f'"{visible(struck, 60)}" is struck through; kept beside the part'
                self._say(row.line, column.label, "struck through", said)
            for sort, held in (("comment", look.comments), ("link", look.links)):
                if place in held:
                    row.extras.append((f"{column.label}, {sort}", held[place], column.at))
            if column.field == "price" and place in look.currencies:
                row.told.setdefault("currency", look.currencies[place])
        self._colour(row, look)

    def _colour(self, row: PartRow, look: Look) -> None:
        places = [(row.line, c.at + self._sheet.left) for c in self._columns]
        for colour in dict.fromkeys(look.colours[p] for p in places if p in look.colours):
            meant = look.legend.get(colour, "")
            if meant:
                row.extras.append(("colour", meant, 0))
