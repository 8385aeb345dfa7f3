"""What a workbook says otherwise than by its cells' values: struck through, comments, colours,
hidden rows and sheets, formulas that were never worked out, currencies shown before a price."""

from __future__ import annotations

import re
import zipfile
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from xref.sheets.zipped import DAMAGED

MOST_LOOKED_AT = 2_000_000
"""Bytes of a workbook up to which it is looked at so. Judged: it takes some seconds more."""

_CUES = re.compile(
    rb"<strike|<hyperlink|hidden=\"(?:1|true)|state=\"(?:very)?[hH]idden|<f[ >]|patternType=\"solid"
    rb"|[\xa3$]|\xe2\x82\xac|\xc2\xa3"
)
CURRENCY = re.compile(r"[£€$]|\b(?:EUR|GBP|USD|SEK|DKK|PLN|CHF|kr|zł)\b")

Place = tuple[int, int]
"""Line as the spreadsheet counts it and column from 0."""


@dataclass(slots=True)
class Look:
    """What was seen on a sheet, by place. ``struck`` holds the struck text of a cell, and
    ``unstruck`` what of it is not; ``legend`` what a colour means; ``formulas`` have no value."""

    struck: dict[Place, str] = field(default_factory=dict)
    unstruck: dict[Place, str] = field(default_factory=dict)
    comments: dict[Place, str] = field(default_factory=dict)
    links: dict[Place, str] = field(default_factory=dict)
    colours: dict[Place, str] = field(default_factory=dict)
    legend: dict[str, str] = field(default_factory=dict)
    formulas: list[Place] = field(default_factory=list)
    currencies: dict[Place, str] = field(default_factory=dict)
    hidden_rows: list[int] = field(default_factory=list)
    hidden_columns: list[str] = field(default_factory=list)
    hidden: bool = False


def looks_of(path: Path) -> dict[str, Look]:
    """What is to be seen on each sheet of an xlsx; nothing of one that is too big for it."""
    if path.stat().st_size > MOST_LOOKED_AT or not _has_cues(path):
        return {}
    from openpyxl import load_workbook

    book = load_workbook(path, rich_text=True)
    values = load_workbook(path, data_only=True)
    return {
        sheet.title: _look(sheet, values[sheet.title])
        for sheet in book.worksheets
        if sheet.title in values.sheetnames
    }


def _has_cues(path: Path) -> bool:
    try:
        with zipfile.ZipFile(path) as archive:
            names = archive.namelist()
            if any("comments" in name for name in names):
                return True
            return any(
                _CUES.search(archive.read(name))
                for name in names
                if name.startswith(("xl/worksheets/", "xl/styles", "xl/workbook", "xl/shared"))
            )
    except (OSError, *DAMAGED):
        return False


def _look(sheet: Any, values: Any) -> Look:
    look = Look(hidden=sheet.sheet_state != "visible")
    look.hidden_rows = [at for at, d in sheet.row_dimensions.items() if d.hidden]
    look.hidden_columns = [at for at, d in sheet.column_dimensions.items() if d.hidden]
    for cell in _cells(sheet):
        place = (cell.row, cell.column - 1)
        _text(cell, place, look)
        if cell.comment is not None:
            look.comments[place] = " ".join(str(cell.comment.text).split())
        if cell.hyperlink is not None and cell.hyperlink.target:
            look.links[place] = str(cell.hyperlink.target)
        if cell.data_type == "f" and values.cell(cell.row, cell.column).value is None:
            look.formulas.append(place)
        colour = _colour(cell)
        if colour:
            look.colours[place] = colour
        shown = CURRENCY.search(str(cell.number_format))
        if shown and isinstance(cell.value, int | float):
            look.currencies[place] = shown[0]
    look.legend = dict(_legend(sheet))
    return look


def _cells(sheet: Any) -> Iterator[Any]:
    for row in sheet.iter_rows():
        for cell in row:
            if cell.value is not None or getattr(cell, "comment", None) is not None:
                yield cell


def _text(cell: Any, place: Place, look: Look) -> None:
    if isinstance(cell.value, list):
        struck, rest = "", ""
        for run in cell.value:
            font = getattr(run, "font", None)
            if font is not None and font.strike:
                struck += str(run.text)
            else:
                rest += str(getattr(run, "text", run))
        if struck.strip():
            look.struck[place] = struck.strip()
            look.unstruck[place] = rest.strip()
    elif cell.font is not None and cell.font.strike:
        look.struck[place] = str(cell.value).strip()
        look.unstruck[place] = ""


def _colour(cell: Any) -> str:
    fill = cell.fill
    if fill is None or fill.fill_type != "solid":
        return ""
    rgb = fill.start_color.rgb if fill.start_color.type == "rgb" else None
    named = rgb if isinstance(rgb, str) else f"theme {fill.start_color.theme}"
    return "" if named in ("00000000", "FFFFFFFF") else named


def _legend(sheet: Any) -> Iterator[tuple[str, str]]:
    """Colour and meaning of lines that have one text, coloured itself or beside a coloured cell."""
    for row in sheet.iter_rows():
        texts = [c for c in row if c.value is not None and str(c.value).strip()]
        colours = {x for c in row if (x := _colour(c))}
        if len(texts) == 1 and len(colours) == 1 and row[0].row > 1:
            text = " ".join(str(texts[0].value).split())
            if not text.isupper():
                yield colours.pop(), text
