"""One cell at a time: text made plain, sizes read with the column's unit and decimal sign."""

from __future__ import annotations

import datetime
import re
from collections.abc import Iterable
from functools import cache, lru_cache

from xref.domain.kinds import KINDS, kind_from
from xref.domain.part import is_plain_number
from xref.domain.size import parse_count, parse_length, parse_lengths
from xref.errors import InputError
from xref.sheets.harmless import restored
from xref.sheets.plain import plain_words
from xref.sheets.sheet import Cell
from xref.tables import read_table

MOST_EXTRA = 32_000
"""Characters of a cell that are kept: a workbook's cell holds 32,767."""

_CONTROLS = re.compile("[\x00-\x08\x0b-\x1f\x7f\ud800-\udfff\ufffe\uffff]")
_CLEAR_COMMA = re.compile(r"(?<![0-9.,])(?:[0-9]+,(?:[0-9]{1,2}|[0-9]{4,})|0,[0-9]+)(?![0-9.,])")
_CLEAR_POINT = re.compile(r"(?<![0-9.,])(?:[0-9]*\.(?:[0-9]{1,2}|[0-9]{4,})|0?\.[0-9]+)(?![0-9.,])")
_BOTH_COMMA = re.compile(r"[0-9]\.[0-9]{3},[0-9]")
_BOTH_POINT = re.compile(r"[0-9],[0-9]{3}\.[0-9]")
_POINTED = re.compile(r"(?<![0-9.,])([0-9]{1,2})[.·]([0-9]{1,2})/([0-9]{1,2})(?![0-9/])")
"""1.1/2 as fitters write one and a half."""
_ZOLL = re.compile(r"\bzoll\b|\bins\b", re.IGNORECASE)


def text_of(cell: Cell) -> str:
    """A cell as one line of text; what an export made harmless is as it was."""
    if not isinstance(cell, str):
        return typed_text(cell)
    if cell.isprintable():
        return " ".join((restored(cell) if cell[:1] == "'" else cell).split())
    return " ".join(_CONTROLS.sub(" ", restored(cell)).split())


def kept_text(cell: Cell) -> str:
    """A cell as it is kept with the part: line breaks stay, controls go."""
    if not isinstance(cell, str):
        return typed_text(cell)
    if not cell:
        return ""
    if cell.isprintable() and cell[0] != "'" and len(cell) < MOST_EXTRA:
        return cell.strip()
    flat = restored(cell).replace("\r\n", "\n").replace("\r", "\n")
    return _CONTROLS.sub("", flat).strip()[:MOST_EXTRA].rstrip()


def typed_text(cell: Cell) -> str:
    """A number, truth value or date as text: 471.0 is 471, a date is written year first."""
    if isinstance(cell, bool):
        return "TRUE" if cell else "FALSE"
    if isinstance(cell, float) and cell.is_integer() and abs(cell) < 1e15:
        return str(int(cell))
    if isinstance(cell, datetime.datetime):
        return cell.isoformat(" ")
    if isinstance(cell, datetime.date | datetime.time):
        return cell.isoformat()
    return repr(cell) if isinstance(cell, float) else str(cell)


def decimal_sign(texts: Iterable[str]) -> str:
    """ "," or "." where the column clearly uses one of them; "" where it shows neither or both."""
    comma = point = 0
    for text in texts:
        comma += bool(_CLEAR_COMMA.search(text) or _BOTH_COMMA.search(text))
        point += bool(_CLEAR_POINT.search(text) or _BOTH_POINT.search(text))
    if comma and comma > 10 * point:
        return ","
    if point and point > 10 * comma:
        return "."
    return ""


def with_point(text: str, decimal: str) -> str:
    """``text`` with a decimal point, where the column's sign says which sign is which."""
    if decimal == ",":
        text = re.sub(r"(?<=[0-9])\.(?=[0-9]{3},[0-9])", "", text)
        return re.sub(r"(?<=[0-9]),(?=[0-9])", ".", text)
    if decimal == ".":
        return re.sub(r"(?<=[0-9]),(?=[0-9]{3}(?![0-9]))", "", text)
    return text


class SizeReader:
    """Reads the cells of one size column; each distinct writing is understood once."""

    def __init__(self, name: str, unit: str, decimal: str) -> None:
        self.name = name
        self.unit = unit
        self.decimal = decimal
        self._known: dict[str, int | InputError] = {}

    def read(self, cell: Cell) -> int:
        """The size in nanometres, or the plain count. Raises InputError."""
        text = cell if isinstance(cell, str) else typed_text(cell)
        found = self._known.get(text)
        if found is None:
            found = self._read(text, isinstance(cell, str))
            if len(self._known) < 100_000:
                self._known[text] = found
        if isinstance(found, InputError):
            raise found
        return found

    def _read(self, text: str, written: bool) -> int | InputError:
        try:
            if is_plain_number(self.name):
                return parse_count(text.strip().removesuffix(".0"))
            return parse_length(prepared(text, self.decimal if written else ""), self.unit).nm
        except InputError as error:
            return error


def _unpointed(found: re.Match[str]) -> str:
    top, bottom = int(found[2]), int(found[3])
    ruled = bottom in (2, 4, 8, 16, 32, 64) and top < bottom
    return f"{found[1]} {top}/{bottom}" if ruled else found[0]


def prepared(text: str, decimal: str) -> str:
    flat = _POINTED.sub(_unpointed, _ZOLL.sub("in", text))
    if decimal == "," and re.search(r"(?<![0-9.,])[1-9][0-9]{0,2}\.[0-9]{3}(?![0-9.,])", flat):
        point, joined = flat.strip(), flat.strip().replace(".", "")
        raise InputError(
            f'"{point[:40]}" may be {point[:40]} or {joined[:40]} in a column with comma decimals',
            "Write it without the point, or with a comma.",
        )
    return with_point(flat, decimal)


def read_sizes(text: str, unit: str, decimal: str) -> tuple[int, ...]:
    """The sizes of "35 x 52 x 7" in nanometres, in order; brackets around them do not matter.

    Raises InputError.
    """
    flat = text.strip()
    inner = flat[1:-1] if (flat[:1], flat[-1:]) in (("(", ")"), ("[", "]")) else flat
    return tuple(length.nm for length in parse_lengths(prepared(inner, decimal), unit))


UNIT_WORDS = {
    **dict.fromkeys(
        ("mm", "millimetre", "millimetres", "millimeter", "millimeters", "metric"), "mm"
    ),
    **dict.fromkeys(
        ("in", "ins", "inch", "inches", "imperial", "imp", '"', "zoll", "pouce"), "inch"
    ),
    **dict.fromkeys(("pouces", "pollici", "pulgadas", "duim", "tum", "tommer", "cale"), "inch"),
    **dict.fromkeys(("cm",), "cm"),
    **dict.fromkeys(("thou",), "thou"),
    **dict.fromkeys(("metrisch", "métrique", "metrico", "métrico", "metriskt", "metrisk"), "mm"),
}
"""Words for a unit that stand alone in a cell."""


def unit_word(text: str) -> str:
    """The unit that a cell names, mm, cm, inch or thou; "" where it names none."""
    return UNIT_WORDS.get(text.strip().casefold().removesuffix("."), "")


@cache
def _kinds() -> dict[str, str]:
    return {plain_words(row["word"]): row["kind"] for row in read_table("kind_words", "domain")}


@lru_cache(maxsize=4096)
def kind_word(text: str) -> str:
    """The kind a word of the trade names, in any language of the lists; "" where it names none."""
    found = _kinds().get(plain_words(text))
    if found:
        return found
    flat = " ".join(text.casefold().split())
    if flat in KINDS:
        return flat
    try:
        return kind_from(flat) if len(flat) >= 3 else ""
    except InputError:
        return ""


@lru_cache(maxsize=16_384)
def kind_named(words: str) -> str:
    """The kind that a whole description names, "oil seal" but not "seal carrier"; "" for none."""
    flat = plain_words(words)
    return _kinds().get(flat, flat if flat in KINDS else "")


_STANDARDS = frozenset({"BS", "DIN", "ISO", "EN", "AS", "SAE", "mm", "x", "X"})


def kind_described(words: str) -> str:
    """As ``kind_named`` of a description that may have its size or trade number behind it: "oil
    seal 35x52x7", "Kugellager 6204 2RS"."""
    tokens = words.split()
    while len(tokens) > 1 and (any(c.isdigit() for c in tokens[-1]) or tokens[-1] in _STANDARDS):
        tokens.pop()
    return kind_named(words) or kind_named(" ".join(tokens).rstrip(" ,;:-"))


MOST_KIND_WORDS = 4


@lru_cache(maxsize=16_384)
def kind_in(words: str) -> str:
    """The kind that a description names by its longest words, the last of them where two are as
    long: "gudgeon pin bush" is a bush. "" where it names none."""
    whole = kind_named(words)
    if whole:
        return whole
    first = re.split(r"[,;(]", words, maxsplit=1)[0]
    for text in dict.fromkeys((first, words)):
        tokens = plain_words(re.sub(r"[^\w\s-]", " ", text)).split()
        for count in range(min(MOST_KIND_WORDS, len(tokens)), 0, -1):
            for start in range(len(tokens) - count, -1, -1):
                found = kind_named(" ".join(tokens[start : start + count]))
                if found:
                    return found
    return ""
