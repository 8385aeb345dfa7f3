"""Figures in a line of text, and the names of sizes that stand beside them."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

from xref.domain.size_words import letter_by_letter, size_words

ROUND = "øØ⌀"
"""Signs of a diameter."""
NUMBER = r"(?:\d+[ -]\d+/\d+|\d+/\d+|\d*[.,]?\d+)"
UNIT = r"(?:mm|cm|inches|inch|in\b\.?|\"|″|thou)"
VALUE = rf"[{ROUND}]?\s*{NUMBER}\s*{UNIT}?"
TIMES = r"[x×*]"
LONE_TIMES = re.compile(rf"(?<!\S){TIMES}(?!\S)")
"""A cross with blanks around it, that joins nothing any more."""
CROSSED = re.compile(
    rf"(?<![\w?*\]./-])({VALUE})\s*{TIMES}\s*({VALUE})(?:\s*{TIMES}\s*({VALUE}))?(?![\w?*\[/-])",
    re.IGNORECASE,
)
ALONE = re.compile(rf"(?<![\w?*\]./-]){VALUE}(?![\w?*\[/-])", re.IGNORECASE)
_BETWEEN = re.compile(
    r"(?:\s|[,;:=()]|@|[x×*]|\b(?:for|the|a|an|of|is|on|about|approx|measured|für|fur|pour|voor|per|and|"
    r"und|et|en|mm)\b)*",
    re.IGNORECASE,
)
"""What may stand between a figure and its name. Judged."""


@dataclass(frozen=True, slots=True)
class NamedFigure:
    """A figure as written with the size that its name beside it says, and where both stand."""

    name: str
    figure: str
    spans: tuple[tuple[int, int], tuple[int, int]]


def beside(text: str) -> list[NamedFigure]:
    """Every figure with the name of a size beside it, nearest first; where a name stands between
    two figures, all names stand as most of them can."""
    return [
        NamedFigure(name.name, figure.value, ((name.start, name.end), (figure.start, figure.end)))
        for name, figure in _pairs(text, _tokens(text))
    ]


@dataclass(frozen=True, slots=True)
class _Token:
    """A figure ("" for a name), or the name of a size, and where it stands. A ``long`` figure, of
    four digits without a unit, is a number of a list unless it is a length."""

    start: int
    end: int
    value: str
    name: str = ""
    behind: bool = False
    long: bool = False


@cache
def _names() -> re.Pattern[str]:
    words = sorted(size_words(), key=len, reverse=True)
    return re.compile(rf"(?<![\w-])(?:{'|'.join(map(re.escape, words))})(?![\w/-])")


def _tokens(text: str) -> list[_Token]:
    plain = letter_by_letter(text)
    found = [
        _Token(m.start(), m.end(), "", size_words()[m[0]].name, size_words()[m[0]].behind)
        for m in _names().finditer(plain)
    ]
    figures = [
        _Token(m.start(), m.end(), value, long=re.fullmatch(r"\d{4,}", value) is not None)
        for m in ALONE.finditer(text)
        if (value := m[0].strip())
        and not any(name.start < m.end() and m.start() < name.end for name in found)
    ]
    return sorted([*found, *figures], key=lambda token: token.start)


def _pairs(text: str, tokens: Sequence[_Token]) -> list[tuple[_Token, _Token]]:
    """The names with their figures: before or behind, whichever serves more names."""
    before, behind = (_by_side(text, tokens, behind_first) for behind_first in (False, True))
    return behind if len(behind) > len(before) else before


def _by_side(
    text: str, tokens: Sequence[_Token], behind_first: bool
) -> list[tuple[_Token, _Token]]:
    used: set[int] = set()
    pairs = []
    for at, token in enumerate(tokens):
        if not token.name:
            continue
        sides = (-1, 1) if behind_first or token.behind else (1, -1)
        for side in sides:
            other = at + side
            if not 0 <= other < len(tokens) or other in used or tokens[other].name:
                continue
            if side == 1 and token.behind:
                continue
            if tokens[other].long and "length" not in token.name:
                continue
            left, right = sorted((token, tokens[other]), key=lambda t: t.start)
            if _BETWEEN.fullmatch(text[left.end : right.start]):
                used.add(other)
                pairs.append((token, tokens[other]))
                break
    return pairs


_THOUSANDTHS = re.compile(r"[0-3]?[.]\d{3,4}")
"""A bare figure so fine and small is read in inches: a caliper in millimetres shows hundredths.
Judged."""


def one_unit(values: list[str]) -> list[str]:
    """A unit behind the last serves all; a bare fraction makes all of them inches, and so do
    thousandths of figures under four."""
    unit = re.search(UNIT, values[-1], re.IGNORECASE)
    if unit:
        return [v if has_unit(v) else f"{v}{unit[0]}" for v in values]
    if any(map(has_unit, values)):
        return values
    if any("/" in value for value in values) or all(map(_THOUSANDTHS.fullmatch, values)):
        return [f"{value}in" for value in values]
    return values


def has_unit(value: str) -> bool:
    """Whether a unit stands in it."""
    return re.search(UNIT, value, re.IGNORECASE) is not None
