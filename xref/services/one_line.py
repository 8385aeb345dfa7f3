"""One line for everything: "6?04 20x47x14 worn deep groove" is a mark, sizes and words."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from xref.domain.kinds import named_in
from xref.domain.number import visible
from xref.domain.size import parse_length
from xref.domain.size_names import NAMES
from xref.errors import InputError
from xref.services.question import Asked
from xref.standards.instrument import TOOLS
from xref.standards.wear import CONDITIONS

_NUMBER = r"(?:\d+[ -]\d+/\d+|\d+/\d+|\d*[.,]?\d+)"
_UNIT = r"(?:mm|cm|inches|inch|in\b\.?|\"|″|thou)"
_VALUE = rf"{_NUMBER}\s*{_UNIT}?"
_CROSSED = re.compile(
    rf"(?<![\w?*\]./-])[øØ]?\s*({_VALUE})\s*[x×*]\s*[øØ]?\s*({_VALUE})"
    rf"(?:\s*[x×*]\s*({_VALUE}))?(?![\w?*\[/])",
    re.IGNORECASE,
)
_LABELS = {
    "id": "bore",
    "i.d.": "bore",
    "od": "outside",
    "o.d.": "outside",
    "bore": "bore",
    "outside": "outside",
    "width": "width",
    "wide": "width",
    "thick": "thickness",
    "thickness": "thickness",
    "length": "length",
    "long": "length",
    "shaft": "shaft",
    "housing": "housing",
    "pitch": "pitch",
    "section": "section",
    "inside": "inside",
    "dia": "diameter",
    "diameter": "diameter",
    "height": "height",
    "high": "height",
    "w": "width",
}
"""What people call a size beside its figure: common practice, no published source."""
_LABEL = "|".join(map(re.escape, sorted(_LABELS, key=len, reverse=True)))
_BEFORE = re.compile(rf"(?<!\w)({_LABEL})\s*[=:]?\s*[øØ]?({_VALUE})(?!\w)", re.IGNORECASE)
_BEHIND = re.compile(rf"(?<![\w./-])({_VALUE})\s*({_LABEL})(?!\w)", re.IGNORECASE)
_GIVEN = re.compile(r"(?<!\S)([A-Za-z][\w-]*)=(\S+)")
_ROUND = re.compile(rf"[øØ]\s*({_VALUE})(?!\w)")
_ALONE = re.compile(rf"(?<![\w./?-])({_NUMBER}\s*{_UNIT})(?!\w)", re.IGNORECASE)
_WORD = re.compile(r"[^\W\d_][^\W\d_'’.-]*")


@dataclass(frozen=True, slots=True)
class Taken:
    """How a line was taken: the question, and that in words ("mark 6?04, bore 20 × …")."""

    asked: Asked
    told: str


@dataclass
class _Line:
    """What is left of the line, and what was found in it so far."""

    text: str
    sizes: dict[str, str] = field(default_factory=dict)

    def take(self, found: re.Match[str], **sizes: str) -> None:
        for name, value in sizes.items():
            if name in self.sizes:
                raise InputError(
                    f"the size {name} is given twice in the line",
                    "Write each size once, or give it as an option.",
                )
            self.sizes[name] = value.strip()
        self.text = f"{self.text[: found.start()]} {self.text[found.end() :]}"


def taken(words: Sequence[str]) -> Taken:
    """The question that ``words`` make, by their form. Raises InputError where a size has no name.

    What holds a figure is the mark, words in lower case name a kind or describe, words in capitals
    beside the mark belong to it.
    """
    line = _Line(" ".join(words).replace("″", '"'))
    _labelled(line)
    _crossed(line)
    _in_a_row(line)
    lone = _ALONE.search(line.text)
    if lone and lone[1] and not _only(line.text, lone):
        value = lone[1].replace(" ", "")
        raise InputError(
            f'"{visible(lone[1])}" is a size, but which?',
            f"Write for example bore={value} or outside={value}.",
        )
    asked = _worded(line)
    return Taken(asked, _told(asked))


def _only(text: str, found: re.Match[str]) -> bool:
    """Whether a figure with "in" behind it is all there is: MADE 1938 IN … is no size."""
    return found[1].lower().endswith("in") and " in " in f" {text.lower()} " and " " in found[1]


def _labelled(line: _Line) -> None:
    while found := _GIVEN.search(line.text):
        name = found[1].lower()
        if name not in NAMES and name not in _LABELS:
            raise InputError(
                f'no size is called "{visible(found[1])}"', "xref identify --help names them all."
            )
        line.take(found, **{_LABELS.get(name, name): found[2]})
    for pattern, label, value in ((_BEFORE, 1, 2), (_BEHIND, 2, 1)):
        while found := pattern.search(line.text):
            line.take(found, **{_LABELS[found[label].lower()]: found[value]})


def _crossed(line: _Line) -> None:
    found = _CROSSED.search(line.text)
    if found is None:
        while round_ := _ROUND.search(line.text):
            line.take(round_, diameter=round_[1])
        return
    values = [value.strip() for value in found.groups() if value]
    unit = re.search(_UNIT, values[-1], re.IGNORECASE)
    if unit:
        values = [v if re.search(_UNIT, v, re.IGNORECASE) else f"{v}{unit[0]}" for v in values]
    elif any("/" in value for value in values):
        values = [f"{value}in" for value in values]
    values = [value.replace(",", ".") for value in values]
    named = named_in(line.text[: found.start()] + " " + line.text[found.end() :])
    names = _names(named.kind if named else "", len(values))
    if names[0] == "bore" and parse_length(values[0], "mm").nm > parse_length(values[1], "mm").nm:
        values[:2] = values[1], values[0]
    line.take(found, **dict(zip(names, values, strict=True)))


def _in_a_row(line: _Line) -> None:
    """Two or three figures with their units, one behind the other, as if crosses stood between."""
    found = list(_ALONE.finditer(line.text))
    if len(found) in (2, 3) and not {"bore", "outside", "width"} & line.sizes.keys():
        for one in reversed(found):
            line.text = f"{line.text[: one.start()]} {line.text[one.end() :]}"
        line.text += f" {' x '.join(one[1] for one in found)}"
        _crossed(line)


def _names(kind: str, count: int) -> tuple[str, ...]:
    """What two or three sizes written together are called of a part of ``kind``."""
    if count == 3:
        return ("bore", "outside", "width")
    return {
        "o-ring": ("inside", "section"),
        "thread": ("diameter", "pitch"),
        "pin": ("diameter", "length"),
        "key": ("width", "height"),
        "strip": ("width", "thickness"),
    }.get(kind, ("bore", "outside"))


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
    marks = [" ".join(mark)] if mark else []
    return replace(asked, marks=marks, words=" ".join(said))


def _told(asked: Asked) -> str:
    told = [f"mark {text}" for text in asked.marks]
    told += [" × ".join(f"{name} {value}" for name, value in asked.sizes.items())]
    told += [asked.condition if asked.condition != "used" else ""]
    told += [f"by {asked.tool}" if asked.tool != "caliper" else ""]
    told += [f'"{asked.words}"' if asked.words else ""]
    return ", ".join(visible(text, 200) for text in told if text)
