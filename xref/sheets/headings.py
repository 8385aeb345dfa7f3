"""What a heading means: the trade's words, near spellings of them, and the unit written in it."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cache, lru_cache

from rapidfuzz import fuzz, process

from xref.domain.number import visible
from xref.domain.size_names import NAMES
from xref.errors import InputError
from xref.sheets.built_heading import SURE as BUILT_SURE
from xref.sheets.built_heading import built_heading
from xref.sheets.fields import INTERCHANGE_NOTE, MODELS, ORDER_INSTEAD, PRICE, RANGE, STEP
from xref.sheets.plain import plain_heading
from xref.sheets.size_cell import heading_order
from xref.sheets.size_columns import DRAWN
from xref.sheets.words import HeadingWord, heading_words

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
    "thread",
    "unit",
    "cross",
    "claim",
    "extra",
    "ignore",
)
"""Every field a column may be, besides the sizes by name. ``extra`` is kept as it stands."""

REPEATED = frozenset(
    {"cross", "replaces", "replaced by", "interchange", "mark", "cast", "mark:size", "mark:date"}
    | {"mark:other", "extra", "ignore"}
)
"""Fields that several columns may be at once."""

KEPT = "kept: "
"""Begins the heading under which an export gives back a column that meant nothing."""

NO_FIELD = frozenset({"line", "extra"})
"""What a heading's word may say beside the fields: that the column counts the lines of the list, or
is something that no field holds."""

_EVERYDAY = frozenset({"extra", "ignore", "unit", "cross"})
"""Fields whose names are everyday words, so that the table of words judges them."""

_OWN_NUMBER = 0.82
"""How sure "number" is, as an export writes it: good, and less so than "Part No." beside it."""

_SPELT_OUT = str.maketrans({"ä": "ae", "ö": "oe", "ü": "ue", "ø": "oe", "å": "aa"})

_LEAST_LIKE = 6
"""Characters from which a word may be misspelt and still be known. Judged."""

LIKE = 88
"""Likeness (0..100) from which a heading is taken for a word of the trade. Judged."""

_UNITS = {
    **dict.fromkeys(("mm", "millimetre", "millimeter", "millimetres"), "mm"),
    "cm": "cm",
    **dict.fromkeys(("in", "ins", "inch", "inches", "zoll", '"', "''", "″"), "inch"),
    **dict.fromkeys(("pouce", "pouces", "pollici", "pulgadas", "duim", "tum", "tommer"), "inch"),
    **dict.fromkeys(("cale", "cali", "calach", "imperial"), "inch"),
    **dict.fromkeys(("metric", "metrisch"), "mm"),
    "thou": "thou",
}
_BRACKETED = re.compile(r"[(\[]\s*([^)\]]{1,14}?)\.?\s*[)\]]")
_ORDERED = re.compile(r"[(\[]([^()\[\]]+)[)\]]")
_TRAILING = re.compile(
    r"[\s,/_-]+(mm|cm|inch|inches|ins?|zoll|pouces?|pollici|pulgadas|duim|tum|thou|\")\.?\s*$",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class Meaning:
    """What a heading was taken for. ``sure`` is 0..1; ``unit`` is "" where none is written;
    ``letter`` is the drawing's letter that it is, "" for a word: the sizes must bear it out.
    ``language`` is that of the word, "" for none."""

    field: str
    sure: float
    unit: str = ""
    letter: str = ""
    language: str = ""

    @property
    def measured(self) -> bool:
        """Whether the cells are sizes, so that a unit matters."""
        return is_size(self.field) or self.field == "sizes"


@cache
def _words() -> dict[str, tuple[HeadingWord, ...]]:
    """The words for headings by their plain writing; a word with ä is known with ae too."""
    found: dict[str, dict[tuple[str, str], HeadingWord]] = {}
    for word in heading_words():
        for text in (word.word, word.word.translate(_SPELT_OUT)):
            alike = found.setdefault(plain_heading(text), {})
            held = alike.get((word.field, word.language))
            if held is None or word.sure > held.sure:
                alike[word.field, word.language] = word
    return {flat: tuple(words.values()) for flat, words in found.items()}


def known_words(titles: Iterable[str]) -> int:
    """How many fields the titles name by the very words of the trade."""
    words = _words()
    known = (words.get(plain_heading(_without_unit(title)[0])) for title in titles)
    return len({found[0].field for found in known if found})


def languages_of(title: str) -> frozenset[str]:
    """The languages in which the very title is a heading's word."""
    words = _words().get(plain_heading(_without_unit(title)[0]), ())
    return frozenset(word.language for word in words)


MOST_LINES = 20
"""Line breaks in a heading; what has more is a text. Judged."""


def unit_of(title: str) -> str:
    """The unit that stands in a title; "" for none."""
    return _without_unit(" ".join(title.split()))[1]


def is_size(field: str) -> bool:
    """Whether a field is a size by name."""
    return field in NAMES


def meaning_of(heading: str) -> Meaning | None:
    """What the heading means by itself; None where nothing is like it."""
    found = [m for m in meanings_of(heading) if m.field not in NO_FIELD]
    return max(found, key=lambda m: m.sure) if found else None


@lru_cache(maxsize=8192)
def meanings_of(heading: str) -> tuple[Meaning, ...]:
    """All that the heading may mean. Its lines are read together, else the lower by itself with
    the unit of either, else the upper."""
    if heading.count("\n") > MOST_LINES:
        return ()
    upper, broken, lower = heading.strip().partition("\n")
    whole = _one_line(" ".join(heading.split()))
    if whole or not broken:
        return whole
    below = meanings_of(lower)
    if below:
        over = _without_unit(" ".join(upper.split()))[1]
        return tuple(replace(m, unit=m.unit or (over if m.measured else "")) for m in below)
    above = _one_line(" ".join(upper.split()))
    return tuple(replace(m, sure=round(0.9 * m.sure, 2)) for m in above)


def _one_line(title: str) -> tuple[Meaning, ...]:
    if not title or len(title) > 80:
        return ()
    if title.lower().startswith(KEPT):
        return (Meaning("extra", 1.0),)
    bare, unit = _without_unit(title)
    own = bare.lower()
    if bare == "number":
        return (Meaning(own, _OWN_NUMBER, unit), *_by_words(bare, unit))
    if (own in TEXT_FIELDS and own not in {*_EVERYDAY, "number"}) or is_size(own):
        # As an export writes it: what stands below need not bear it out.
        found = () if bare == own else _by_words(bare, unit)
        return found or (Meaning(own, 1.0, unit),)
    if bare in DRAWN:
        return (*_by_words(bare, unit), Meaning(DRAWN[bare], 0.4, unit, bare))
    found = _by_words(bare, unit)
    if bare == title:
        return found
    measured = tuple(m for m in found if m.measured)
    # What looked like a unit may have been a word: "found in".
    return measured or _by_words(title, "") or tuple(replace(m, unit="") for m in found)


def _without_unit(title: str) -> tuple[str, str]:
    for found in _BRACKETED.finditer(title):
        unit = _UNITS.get(found[1].lower())
        if unit:
            return " ".join((title[: found.start()] + title[found.end() :]).split()), unit
    trailing = _TRAILING.search(title)
    if trailing:
        return title[: trailing.start()], _UNITS[trailing[1].lower()]
    return title, ""


def _by_words(title: str, unit: str) -> tuple[Meaning, ...]:
    words = _words()
    flat = plain_heading(title)
    if flat in words:
        return tuple(Meaning(w.field, w.sure, unit, "", w.language) for w in words[flat])
    if "(" in title or "[" in title:
        rest = plain_heading(re.sub(r"[(\[].*?[)\]]", " ", title))
        if rest in words:
            return _less_sure(words[rest], 0.9, unit)
    tokens = flat.split()
    for count in (3, 2):
        tail = " ".join(tokens[-count:])
        if len(tokens) > count and tail in words:
            return _less_sure(words[tail], 0.85, unit)
    if any(c.isdigit() for c in flat):
        return ()
    return _built(title, unit) or _misspelt(flat, unit)


def _built(title: str, unit: str) -> tuple[Meaning, ...]:
    """What a title means that is put together of words, or names sizes in their order."""
    inner = _ORDERED.search(title)
    if heading_order(title) or (inner and heading_order(inner[1])):
        return (Meaning("sizes", BUILT_SURE, unit),)
    built = built_heading(title)
    if built.field:
        return (Meaning(built.field, BUILT_SURE, unit),)
    return _less_sure(_words().get(built.rest, ()), 0.9, unit)


def _misspelt(flat: str, unit: str) -> tuple[Meaning, ...]:
    if len(flat) < _LEAST_LIKE:
        return ()
    near = process.extractOne(flat, _long_words(), scorer=fuzz.ratio, score_cutoff=LIKE)
    return _less_sure(_words()[near[0]], round(near[1] / 100, 2), unit) if near else ()


def _less_sure(words: Iterable[HeadingWord], share: float, unit: str) -> tuple[Meaning, ...]:
    return tuple(Meaning(w.field, w.sure * share, unit, "", w.language) for w in words)


@cache
def _long_words() -> tuple[str, ...]:
    return tuple(word for word in _words() if len(word) >= _LEAST_LIKE)


def every_field() -> tuple[str, ...]:
    """Every field that a column can be."""
    return (*TEXT_FIELDS, *NAMES)


def field_from(text: str) -> str:
    """The field that somebody names in --map. Raises InputError for none of that name."""
    wanted = " ".join(text.lower().replace("_", " ").split()).removeprefix("size:")
    aliases = {"description": "words", "keep": "extra", "skip": "ignore", "casting": "cast"}
    wanted = aliases.get(wanted, wanted)
    if wanted in TEXT_FIELDS or is_size(wanted):
        return wanted
    if is_size(wanted.replace(" ", "-")):
        return wanted.replace(" ", "-")
    every = every_field()
    near = process.extractOne(wanted, every, scorer=fuzz.ratio, score_cutoff=60)
    meant = f"Did you mean {near[0]}? " if near else ""
    raise InputError(f'no field is called "{visible(text)}"', f"{meant}Fields: {', '.join(every)}.")
