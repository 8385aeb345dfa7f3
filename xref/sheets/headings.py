"""What a heading means: the trade's words, near spellings of them, and the unit written in it."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cache

from rapidfuzz import fuzz, process

from xref.domain.number import visible
from xref.domain.size_names import NAMES
from xref.errors import InputError
from xref.sheets.fields import INTERCHANGE_NOTE, MODELS, ORDER_INSTEAD, PRICE, RANGE, STEP
from xref.sheets.size_columns import DRAWN
from xref.sheets.words import word_list

TEXT_FIELDS = (
    "number",
    "maker",
    "kind",
    "words",
    "status",
    ORDER_INSTEAD,
    "note",
    "source",
    "mark",
    "cast",
    "mark:size",
    "mark:date",
    "mark:other",
    "sizes",
    "replaces",
    "replaced by",
    *STEP,
    "interchange",
    INTERCHANGE_NOTE,
    *MODELS,
    *RANGE,
    *PRICE,
    "claim",
    "extra",
    "ignore",
)
"""Every field a column may be, besides the sizes by name. ``extra`` is kept as it stands."""

REPEATED = frozenset(
    {"replaces", "replaced by", "interchange", "mark", "cast", "mark:size", "mark:date"}
    | {"mark:other", "extra", "ignore"}
)
"""Fields that several columns may be at once."""

KEPT = "kept: "
"""Begins the heading under which an export gives back a column that meant nothing."""

LIKE = 86
"""Likeness (0..100) from which a heading is taken for a word of the trade. Judged."""

_UNITS = {
    **dict.fromkeys(("mm", "millimetre", "millimeter", "millimetres"), "mm"),
    "cm": "cm",
    **dict.fromkeys(("in", "ins", "inch", "inches", "zoll", '"', "''", "″"), "inch"),
    "thou": "thou",
}
_BRACKETED = re.compile(r"[(\[]\s*([^)\]]{1,14}?)\.?\s*[)\]]")
_TRAILING = re.compile(r"[\s,/_-]+(mm|cm|inch|inches|ins?|zoll|thou)\.?\s*$", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Meaning:
    """What a heading was taken for. ``sure`` is 0..1; ``unit`` is "" where none is written;
    ``letter`` is the drawing's letter that it is, "" for a word: the sizes must bear it out."""

    field: str
    sure: float
    unit: str = ""
    letter: str = ""

    @property
    def measured(self) -> bool:
        """Whether the cells are sizes, so that a unit matters."""
        return is_size(self.field) or self.field == "sizes"


def plain_heading(text: str) -> str:
    """A heading for comparing: lower case, letters and digits, single letters put together."""
    flat = unicodedata.normalize("NFKC", text).casefold()
    pieces = re.sub(r"[^\w]+|_", " ", flat).split()
    joined: list[str] = []
    letters = False
    for piece in pieces:
        single = len(piece) == 1 and piece.isalpha()
        if single and letters:
            joined[-1] += piece
        else:
            joined.append(piece)
        letters = single
    return " ".join(joined)


@cache
def _words() -> dict[str, str]:
    return {plain_heading(row["word"]): row["field"] for row in word_list("headings")}


def known_words(titles: Iterable[str]) -> int:
    """How many fields the titles name by the very words of the trade."""
    words = _words()
    return len({words[flat] for title in titles if (flat := plain_heading(title)) in words})


def is_size(field: str) -> bool:
    """Whether a field is a size by name."""
    return field in NAMES


def meaning_of(heading: str) -> Meaning | None:
    """What the heading means; None where nothing is like it. Its lines are read together, else
    the lower by itself with the unit of either, else the upper."""
    upper, broken, lower = heading.strip().partition("\n")
    whole = _one_line(" ".join(heading.split()))
    if whole is not None or not broken:
        return whole
    below = meaning_of(lower)
    if below is not None:
        unit = below.unit or (_without_unit(" ".join(upper.split()))[1] if below.measured else "")
        return replace(below, unit=unit)
    above = _one_line(" ".join(upper.split()))
    return replace(above, sure=round(0.9 * above.sure, 2)) if above else None


def _one_line(title: str) -> Meaning | None:
    if not title or len(title) > 80:
        return None
    if title.lower().startswith(KEPT):
        return Meaning("extra", 1.0)
    bare, unit = _without_unit(title)
    if bare.lower() in TEXT_FIELDS or is_size(bare.lower()):
        return Meaning(bare.lower(), 1.0, unit)
    if bare in DRAWN:
        return Meaning(DRAWN[bare], 0.4, unit, bare)
    found = _by_words(bare)
    if found is None and bare != title:
        # What looked like a unit may have been a word: "found in".
        found, unit = _by_words(title), ""
    if found is None or (unit and not found.measured):
        whole = _by_words(title)
        return whole or found
    return Meaning(found.field, found.sure, unit)


def _without_unit(title: str) -> tuple[str, str]:
    for found in _BRACKETED.finditer(title):
        unit = _UNITS.get(found[1].lower())
        if unit:
            return " ".join((title[: found.start()] + title[found.end() :]).split()), unit
    trailing = _TRAILING.search(title)
    if trailing:
        return title[: trailing.start()], _UNITS[trailing[1].lower()]
    return title, ""


def _by_words(title: str) -> Meaning | None:
    words = _words()
    flat = plain_heading(title)
    if flat in words:
        return Meaning(words[flat], 1.0)
    if "(" in title or "[" in title:
        rest = plain_heading(re.sub(r"[(\[].*?[)\]]", " ", title))
        if rest in words:
            return Meaning(words[rest], 0.9)
    tokens = flat.split()
    for count in (3, 2):
        tail = " ".join(tokens[-count:])
        if len(tokens) > count and tail in words:
            return Meaning(words[tail], 0.85)
    if len(flat) >= 5:
        near = process.extractOne(
            flat, [w for w in words if len(w) >= 5], scorer=fuzz.ratio, score_cutoff=LIKE
        )
        if near:
            return Meaning(words[near[0]], round(near[1] / 100, 2))
    return None


def field_from(text: str) -> str:
    """The field that somebody names in --map. Raises InputError for none of that name."""
    wanted = " ".join(text.lower().replace("_", " ").split()).removeprefix("size:")
    aliases = {"description": "words", "keep": "extra", "skip": "ignore", "casting": "cast"}
    wanted = aliases.get(wanted, wanted)
    if wanted in TEXT_FIELDS or is_size(wanted):
        return wanted
    if is_size(wanted.replace(" ", "-")):
        return wanted.replace(" ", "-")
    every = [*TEXT_FIELDS, *NAMES]
    near = process.extractOne(wanted, every, scorer=fuzz.ratio, score_cutoff=60)
    meant = f"Did you mean {near[0]}? " if near else ""
    raise InputError(f'no field is called "{visible(text)}"', f"{meant}Fields: {', '.join(every)}.")
