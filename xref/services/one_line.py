"""One line for everything: "6?04 20x47x14 worn deep groove" is a mark, sizes and words."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import TYPE_CHECKING

from xref.domain.kinds import Named, named_in
from xref.domain.number import visible
from xref.domain.part import BOUNDARY
from xref.domain.size import parse_length
from xref.domain.size_names import NAMES
from xref.domain.size_words import (
    has_own_order,
    in_order,
    in_order_longer,
    letter_by_letter,
    size_words,
)
from xref.errors import InputError, XrefError
from xref.services.figures import (
    ALONE,
    CROSSED,
    LONE_TIMES,
    NUMBER,
    ROUND,
    TIMES,
    beside,
    has_unit,
    one_unit,
)
from xref.services.question import Asked
from xref.standards.instrument import TOOLS
from xref.standards.wear import CONDITIONS

if TYPE_CHECKING:
    from xref.services.decode.decode import DecodedReading

_GIVEN = re.compile(r"(?<!\S)([A-Za-z][\w-]*)=(\S+)")
_TURNS = re.compile(
    rf"(?:{TIMES}\s*)?(?<![\w./])(\d+(?:[.,]\d+|\s*1/2)?)\s*-?\s*(?:t\.?p\.?i\b\.?"
    r"|threads? per inch|threads? to the inch|gang(?:e)? (?:pro|auf) zoll|gg/zoll)",
    re.IGNORECASE,
)
_SHORE = re.compile(
    r"(?<![\w./])(\d{2})\s*°?\s*(?:shore(?: a)?|irhd)(?!\w)|(?:shore(?: a)?|irhd)\s*(\d{2})(?!\w)",
    re.IGNORECASE,
)
_THREAD = re.compile(
    rf"(?<![\w./-]){NUMBER}\"?\s*-?(?:\d+\s*)?(?:BSF|BSW|UNC|UNF|UNEF|UNS"
    r"|BSP[TPF]?|NPT[FS]?|BSC|CEI|BA|SWG|BWG|AWG"
    r"|WHIT(?:WORTH)?|BSB)\b|\b(?:TR|M)\s?\d+(?:[.,]\d+)?\s*[x×*]\s*\d+(?:[.,]\d+)?"
    r"(?:\s*[x×*]\s*\d+(?:[.,]\d+)?)?(?!\w)",
    re.IGNORECASE,
)
"""A thread by its letters is a mark: its figures say no size by themselves."""
_NUMBERED = re.compile(
    r"\b(?:no|nr|num|number|nummer|numéro|n°|№|size)\b\.?\s*(?=\d)", re.IGNORECASE
)
_WORD = re.compile(r"[^\W\d_](?:[^\W_]|['’.-](?=[^\W_]))*\.?")
_JOINED = re.compile(r"(?<!\w)(I\.?D\.?|O\.?D\.?|W|AF)(?=\d)", re.IGNORECASE)
"""Letters that stand before a figure without a blank: ID20, W14."""
_SIGNS = re.compile(r"[,;:()]+")
_SIDES = frozenset({"internal", "external", "inner", "outer"})


@dataclass(frozen=True, slots=True)
class Taken:
    """How a line was taken: the question, and that in words ("mark 6?04, bore 20 × …")."""

    asked: Asked
    told: str


class _Line:
    """What is left of the line, and what was found in it so far."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.sizes: dict[str, str] = {}
        self.marks: list[str] = []

    def size(self, name: str, value: str) -> None:
        if name in self.sizes:
            raise InputError(
                f"the size {name} is given twice in the line",
                "Write each size once, or give it as an option.",
            )
        self.sizes[name] = _plain(value)

    def cut(self, start: int, end: int) -> None:
        self.text = f"{self.text[:start]} {self.text[end:]}"

    def named(self) -> Named | None:
        """What the words that are left name; figures and the crosses between them name nothing."""
        text = ALONE.sub(" ", _NUMBERED.sub(" ", self.text))
        text = _SIGNS.sub(" ", LONE_TIMES.sub(" ", text))
        words = [w for w in text.split() if _WORD.fullmatch(w)]
        # "Snap ring, external" is an external snap ring.
        return named_in(" ".join(sorted(words, key=lambda word: word.lower() not in _SIDES)))


def _plain(value: str) -> str:
    return re.sub(r"\s+(?=[a-zA-Z\"″])", " ", value.strip().lstrip(ROUND).strip())


def taken(words: Sequence[str]) -> Taken:
    """The question that ``words`` make, by their form. Raises InputError where a size has no name.

    What holds a figure is the mark, words in lower case name a kind or describe, words in capitals
    beside the mark belong to it. A figure is the size whose name stands beside it, else the one
    that the thing named is gone by.
    """
    line = _Line(_JOINED.sub(r"\1 ", " ".join(words).replace("″", '"')))
    _given(line)
    _called(line)
    _labelled(line)
    named = line.named()
    _crossed(line, named)
    _in_a_row(line, named)
    _lone(line, named)
    asked = _worded(line)
    return Taken(asked, _told(asked))


def _given(line: _Line) -> None:
    """NAME=VALUE, as options have it."""
    while found := _GIVEN.search(line.text):
        name = found[1].lower()
        word = size_words().get(letter_by_letter(name))
        if name not in NAMES and word is None:
            raise InputError(
                f'no size is called "{visible(found[1])}"', "xref identify --help names them all."
            )
        line.size(name if name in NAMES or word is None else word.name, found[2])
        line.cut(*found.span())


def _called(line: _Line) -> None:
    """What is said in a way of its own: turns to the inch, Shore, a thread by its letters."""
    while found := _TURNS.search(line.text):
        line.size("pitch", f"{found[1].replace(',', '.')}tpi")
        line.cut(*found.span())
    while found := _SHORE.search(line.text):
        line.size("hardness", found[1] or found[2])
        line.cut(*found.span())
    while found := _THREAD.search(line.text):
        line.marks.append(found[0])
        line.cut(*found.span())


def _labelled(line: _Line) -> None:
    """Every figure that has the name of a size beside it."""
    found = beside(line.text)
    for one in found:
        fraction = "/" in one.figure
        line.size(one.name, one.figure if fraction else one_unit([one.figure])[0])
    for start, end in sorted((span for one in found for span in one.spans), reverse=True):
        line.cut(start, end)
    if found:
        line.text = LONE_TIMES.sub(" ", line.text)


# Figures without a name


def _crossed(line: _Line, named: Named | None) -> None:
    found = CROSSED.search(line.text)
    if found is None:
        return
    values = [value.strip() for value in found.groups() if value]
    written = " x ".join(values)
    if named and named.kind in BY_CALL_OUT and _call_out(line, written, named, found.span()):
        return
    line.cut(*found.span())
    _put(line, values, named)


def _in_a_row(line: _Line, named: Named | None) -> None:
    """Two or three figures one behind the other, as if crosses stood between: with their units, or
    of a thing that is not itself stamped with its sizes."""
    found = list(ALONE.finditer(line.text))
    joined = all(
        not line.text[one.end() : other.start()].strip(" ,;") for one, other in pairwise(found)
    )
    values = [one[0] for one in found]
    if len(found) not in (2, 3) or not joined:
        return
    measured = all(map(has_unit, values)) or (
        named is not None
        and len(in_order(named, len(values))) == len(values)
        and (named.kind not in STAMPED or any(re.search(r"[./,]", value) for value in values))
        and not any(re.fullmatch(r"\d{4,}", value.strip()) for value in values[:1])
    )
    if measured and line.sizes.keys().isdisjoint(BOUNDARY):
        line.cut(found[0].start(), found[-1].end())
        _put(line, values, named)


BY_CALL_OUT = frozenset({"pin", "key", "washer"})
"""Kinds of which the figures are first of all how they are asked for: 3.2 x 40 is a split pin for a
hole of 3.2, whose wire is thinner."""
STAMPED = frozenset({"bearing", "shaft seal"})
"""Kinds that bear figures in a row as their mark: "35 52 7" on a seal."""
_BARE_MOST = 99
"""A bare whole number over this is a number of a list and no size of a small part. Judged."""


def _put(line: _Line, values: Sequence[str], named: Named | None) -> None:
    """Name the figures of one group in the order that such things are written in."""
    values = one_unit([value.strip().replace(",", ".") for value in values])
    names = in_order(named, len(values), _in_inches(values[0]))
    names = names or BOUNDARY[: len(values)]
    lengths = [parse_length(value.lstrip(f"{ROUND} "), "mm").nm for value in values]
    longer = in_order_longer(named)
    if len(values) == 2 and longer and lengths[1] > lengths[0]:
        names = longer
    if names[:2] == ("bore", "outside") and lengths[0] > lengths[1]:
        values[:2] = values[1], values[0]
    for name, value in zip(names, values, strict=False):
        line.size(name, value)


def _in_inches(value: str) -> bool:
    return re.search(r"in|\"", value, re.IGNORECASE) is not None


def _lone(line: _Line, named: Named | None) -> None:
    """One figure that is left: the size that such a thing is gone by, or its number."""
    numbered = _NUMBERED.search(line.text)
    found = next(iter(ALONE.finditer(line.text, numbered.end() if numbered else 0)), None)
    if found is None:
        return
    value = found[0].strip()
    if named is not None and _number(line, found, named, numbered):
        return
    (written,) = one_unit([value.replace(",", ".")])
    names = in_order(named, 1, _in_inches(written)) if named else ()
    sized = has_unit(value) or re.search(r"[./,]", value) or value[:1] in ROUND
    if not names and (value[:1] in ROUND or "tpi" in line.sizes.get("pitch", "")):
        names = ("diameter",)
    bare = re.fullmatch(r"\d+", value) and int(value) <= _BARE_MOST
    stamped = named is not None and named.kind in STAMPED and not has_own_order(named)
    if names and names[0] not in line.sizes and (sized or (bare and not stamped)):
        line.cut(*found.span())
        line.size(names[0], written)
    elif has_unit(value) and not _year(value):
        which = f" of a {named.sort or named.kind}" if named else ""
        ring = named is not None and named.kind == "retaining ring"
        one, other = ("shaft", "housing") if ring else ("bore", "outside")
        close = value.replace(" ", "")
        raise InputError(
            f'"{visible(value)}" is a size, but which{which}?',
            f"Write for example {one}={close} or {other}={close}.",
        )


def _number(
    line: _Line, found: re.Match[str], named: Named, numbered: re.Match[str] | None
) -> bool:
    """Whether the figure is the thing's number in its own list (Woodruff 404, chain 428) or what
    it is asked for by: then it is the mark, with what it is a number of."""
    value = found[0].strip()
    asked_for = named.kind in BY_CALL_OUT and not re.search(r"[.,]", value)
    if line.marks or not (re.fullmatch(r"\d+", value) or asked_for):
        return False
    if numbered is None:
        return _call_out(line, value, named, found.span())
    span = (numbered.start(), found.end())
    return any(_call_out(line, text, named, span) for text in (f"no. {value}", value))


def _call_out(line: _Line, written: str, named: Named, span: tuple[int, int]) -> bool:
    """Take ``written`` for the mark where it is read as what is named."""
    # Imported where there is something to read: the readers cost more than the rest.
    from xref.services.decode.decode import decode

    for what in dict.fromkeys(filter(None, (named.sort, named.said, named.kind))):
        text = f"{what} {written}"
        try:
            readings = decode(text).readings
        except XrefError:
            continue
        if any(_is(r, named) and not r.unknown for r in readings):
            line.cut(*span)
            line.marks.append(text)
            return True
    return False


def _is(reading: DecodedReading, named: Named) -> bool:
    return reading.kind == named.kind and (not named.types or named.is_type(reading.type))


def _year(value: str) -> bool:
    """Whether "in" behind a figure is no unit: MADE 1938 IN …"""
    return re.fullmatch(r"\d{4} +in", value.lower()) is not None


def _worded(line: _Line) -> Asked:
    asked = Asked(sizes=line.sizes)
    mark: list[str] = []
    said: list[str] = []
    for piece in line.text.replace(",", " ").split():
        low = piece.lower()
        if low in CONDITIONS:
            asked = replace(asked, condition=low)
        elif low in TOOLS:
            asked = replace(asked, tool=low)
        elif (
            any(c.isdigit() or c in "?*[" for c in piece)
            or not _WORD.fullmatch(piece)
            or (piece.isupper() and len(piece) > 1)
        ):
            mark.append(piece)
        else:
            said.append(piece)
    legible = any(c.isdigit() or c in "?*[" for piece in mark for c in piece)
    if mark and not legible and not any(len(piece) == 2 for piece in mark):
        said, mark = [*said, *(piece.lower() for piece in mark)], []
    marks = [*line.marks, *([" ".join(mark)] if mark else [])]
    return replace(asked, marks=marks, words=" ".join(said))


def _told(asked: Asked) -> str:
    told = [f"mark {text}" for text in asked.marks]
    told += [" × ".join(f"{name} {value}" for name, value in asked.sizes.items())]
    told += [asked.condition if asked.condition != "used" else ""]
    told += [f"by {asked.tool}" if asked.tool != "caliper" else ""]
    told += [f'"{asked.words}"' if asked.words else ""]
    return ", ".join(visible(text, 200) for text in told if text)
