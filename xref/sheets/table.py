"""Find the list in a sheet: its heading line, its rows, and the lines between that are none."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import islice

from xref.domain.number import visible
from xref.sheets.cells import text_of, unit_word
from xref.sheets.column import Column, letters
from xref.sheets.columns import understand_columns
from xref.sheets.finding import Findings
from xref.sheets.heading_lines import Heading, find_heading
from xref.sheets.headings import is_size, meaning_of
from xref.sheets.lines import MAYBE, is_foot, is_total, section_of
from xref.sheets.plain import plain_heading
from xref.sheets.ranked import Around
from xref.sheets.remarks import is_number_like
from xref.sheets.said_above import unit_said
from xref.sheets.sheet import Cell, Row, Sheet
from xref.sheets.title import machine_in_title

SAMPLE = 3_000
"""Rows that are looked at to understand the columns."""

_OF_A_PART = frozenset({"maker", "kind", "status", "source", "model"})
_HAS_DIGIT = re.compile("[0-9]").search

MOST_TITLE_CELLS = 3
"""Cells over which a title may lie, as in a list of fixed width. Judged."""

MOST_MACHINE = 40
"""Characters of a machine's name in a line above a list. Judged."""

ABOVE = ("above the heading", "stands above the heading; taken for no part")
HEADING_LINE = ("heading line", "taken as the second line of the heading, and for no part")


@dataclass(frozen=True, slots=True)
class Table:
    """One list. ``heading`` has a title, perhaps "", for each of ``columns``.

    ``by_sheet``: what the sheet's name is (model, assembly, year) and the name; ``unit``: what a
    line above or below says that its sizes are in; ``section``: what the line right above its
    heading names. Each "" where there is none.
    """

    sheet: Sheet
    heading: Heading
    columns: tuple[Column, ...]
    by_sheet: tuple[str, str] = ("", "")
    unit: str = ""
    section: str = ""

    @property
    def number_at(self) -> int:
        """The place of the column of part numbers; -1 where there is none."""
        return next((c.at for c in self.columns if c.field == "number"), -1)

    def rows(self, findings: Findings) -> Iterator[tuple[int, list[Cell]]]:
        """The rows of the list with their lines, without what ``in_sections`` leaves out."""
        for line, row, _ in self.in_sections(findings):
            yield line, row

    def in_sections(self, findings: Findings) -> Iterator[tuple[int, list[Cell], str]]:
        """The rows of the list with their lines and the section that they stand in, "" for none.

        Blank lines, repeated headings, totals, foot lines and lines that name a section are left
        out; all but the blank are findings, and so are lines above the heading, but for a title,
        and its second line: they might be rows."""
        width, number, titled = len(self.columns), self.number_at, True
        wrong = {line for line, _ in self.sheet.errors}
        section = self.section
        for line, row in self.sheet.rows:
            if line <= self.heading.line:
                # One cell alone, at the very top, is the title of the list.
                titled = titled and _count(row) < 2
                why = None if titled else self._above(line, row)
                if why:
                    findings.add(self.sheet.name, line, "", *why)
                continue
            if len(row) < width:
                row = [*row, *[""] * (width - len(row))]
            cell = row[number]
            if isinstance(cell, str) and (not _HAS_DIGIT(cell) or MAYBE.match(cell)):
                if not _filled(row) and line not in wrong:
                    continue
                lost = (line, number) in self.sheet.errors
                other = None if lost else self._between(row)
                if other:
                    kind, message, name = other
                    section = name if kind == "section" else section
                    findings.add(self.sheet.name, line, "", kind, message)
                    continue
            yield line, row, section

    def _above(self, line: int, row: Sequence[Cell]) -> tuple[str, str] | None:
        """Kind and message for a filled line down to the heading's last; None for its first."""
        if line == self.heading.line:
            return HEADING_LINE if len(self.heading.lines) > 1 else None
        below = len(self.heading.lines) > 1 and line == self.heading.line - 1
        return None if below or not _filled(row) else ABOVE

    def _between(self, row: Sequence[Cell]) -> tuple[str, str, str] | None:
        """Kind, message and a section's name for a filled line that is no part; None for a part."""
        filled = [at for at, c in enumerate(row) if not isinstance(c, str) or c.strip()]
        words = [text_of(c) for at in filled if isinstance(c := row[at], str)]
        number = row[self.number_at]
        first = str(number) if number != "" else (words[0] if words else "")
        if is_total(first) and not (number != "" and self._says_whose(row)):
            return "total", "a total, not a part", ""
        if self.heading.is_again(row):
            return "repeated heading", "the heading again", ""
        if len(filled) == 1 and len(words) == 1 and len(self.columns) > 2:
            return self._alone(filled[0], words[0])
        if is_foot(first) and not self._says_what(filled):
            return "line between", f'"{visible(first, 60)}" is a remark; taken for no part', ""
        return None

    def _alone(self, at: int, text: str) -> tuple[str, str, str] | None:
        """What a line of one cell is: the name of a section, a remark, or a part."""
        beside = at not in (self.number_at, 0)
        name = section_of(text, beside=beside)
        if name:
            return "section", f'"{visible(name, 60)}" names the assembly of the rows below', name
        if at == self.number_at and _HAS_DIGIT(text) and is_number_like(text) and not is_foot(text):
            return None
        return "line between", f'"{visible(text, 60)}" stands alone; taken for no part', ""

    def _says_what(self, filled: Sequence[int]) -> bool:
        """Whether a line has a number with digits and something that a part has beside it."""
        return len(filled) > 1 and any(
            c.field in _OF_A_PART or c.field == "words" or is_size(c.field)
            for c in self.columns
            if c.at in filled and c.at != self.number_at
        )

    def _says_whose(self, row: Sequence[Cell]) -> bool:
        """Whether the line has what a part has and a total has not."""
        return any(c.field in _OF_A_PART and row[c.at] != "" for c in self.columns)


def find_table(
    sheet: Sheet,
    told: Mapping[str, str],
    by_sheet: tuple[str, str] = ("", ""),
    several: bool = False,
) -> Table | None:
    """The list in the sheet, which may have no column of part numbers; None where all is blank.

    Raises InputError where two of its columns were told to be one field.
    """
    top = [(line, row) for line, row in islice(sheet.rows, SAMPLE) if _filled(row)]
    if not top:
        return None
    top = [(line, row[: _used(row)]) for line, row in top]
    heading = find_heading(top, frozenset(plain_heading(name) for name in told))
    sample = [row for _, row in top[heading.below :]]
    width = max([len(heading.titles), *map(len, sample)])
    titles = (*heading.titles, *[""] * (width - len(heading.titles)))
    around = Around(machine=by_sheet[0] == "model")
    columns = tuple(understand_columns(titles, sample, told, around))
    named = [m for line, row in top if line < heading.line and (m := _machine_in(row))]
    if not named and not by_sheet[0]:
        named = _titled(top, heading, columns)
    by_sheet = ("model", named[-1]) if named else by_sheet
    if any(c.field in ("model", "cross") for c in columns) and by_sheet[0] == "model":
        by_sheet = ("", "")
    alone = [(line, text) for line, row in top if (text := _alone_in(row))]
    units = {unit for _, text in alone if (unit := unit_said(text))}
    above = [text for line, text in alone if line < heading.line]
    again = several or any(heading.is_again(row) for row in sample)
    return Table(
        sheet,
        replace(heading, titles=titles),
        columns,
        by_sheet,
        units.pop() if len(units) == 1 else "",
        section_of(above[-1]) if above and again else "",
    )


def _titled(top: Sequence[Row], heading: Heading, columns: Sequence[Column]) -> list[str]:
    """The machine that a title above a list names, if it is one; none where two do."""
    ranged = any(c.field in ("serials", "serial from", "serial to") for c in columns)
    titles = [
        " ".join(" ".join(c for c in row if isinstance(c, str)).split())
        for line, row in top
        if line < heading.line and _count(row) <= MOST_TITLE_CELLS
    ]
    names = [name for t in titles if (name := machine_in_title(t, ranged=ranged))]
    return names if len({name.casefold() for name in names}) == 1 else []


def _machine_in(row: Sequence[Cell]) -> str:
    """The machine that a line above a list names: "Machine: Dotterel", in one cell or two."""
    filled = [" ".join(str(c).split()) for c in row if not isinstance(c, str) or c.strip()]
    if len(filled) == 1:
        title, _, name = filled[0].partition(":")
    elif len(filled) == 2:
        title, name = filled
    else:
        return ""
    name = name.strip()
    plain = meaning_of(title.rstrip(": ")) if name and len(name) <= MOST_MACHINE else None
    return name if plain is not None and plain.field == "model" and plain.sure == 1 else ""


def _alone_in(row: Sequence[Cell]) -> str:
    """The text of a line of one cell, or of two short ones ("Units", "inches"); else ""."""
    filled = [c for c in row if not isinstance(c, str) or c.strip()]
    if not 0 < len(filled) < 3 or not all(isinstance(c, str) for c in filled):
        return ""
    text = " ".join(str(c).strip() for c in filled)
    return text if len(filled) == 1 or unit_word(str(filled[-1])) else ""


def _filled(row: Sequence[Cell]) -> bool:
    return any(c.strip() if isinstance(c, str) else True for c in row)


def _count(row: Sequence[Cell]) -> int:
    return sum(bool(c.strip()) if isinstance(c, str) else True for c in row)


def _used(row: Sequence[Cell]) -> int:
    return max((at for at, c in enumerate(row, 1) if c != ""), default=0)


def mapping_of(tables: Sequence[Table]) -> dict[str, str]:
    """What each column was taken for: its heading (or letters) and the field.

    Where two sheets differ about one heading, the second is written "sheet: heading".
    """
    found: dict[str, str] = {}
    for table in tables:
        for column in table.columns:
            if found.setdefault(column.label, column.field) != column.field:
                where = f"{table.sheet.name}: " if table.sheet.name else f"{letters(column.at)}: "
                found[where + column.label] = column.field
    return found
