"""What can be read of a mark: a row of signs, each certain, uncertain or lost.

``?`` is one illegible character, ``*`` a lost stretch of any length (none included), and a list in
brackets ``[38]`` is "one of these". Spaces, dashes and dots say nothing and are left out.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from xref.domain.number import MAX_MARK, folded, plain, visible
from xref.errors import InputError

ANY = "?"
LOST = "*"

TURNED = str.maketrans("01689HINOSXZMW", "01986HINOSXZWM")
"""What a character looks like upside down; characters not named here cannot be turned."""
_TURNABLE = frozenset("01689HINOSXZMW")

MOST_SIGNS = 48
"""Legible signs one mark may have; the longest standard designation with suffixes has under 30."""


WORD_LEAST = 4
"""Letters from which a piece without a figure is a maker's name, a place or another word."""
_WORD = re.compile(
    rf"(?:[^\W\d_]\.)*[^\W\d_]{{{WORD_LEAST},}}\.?|(?:MADE|IN|BY|THE|CO|LTD|INC|USA)\.?",
    re.IGNORECASE,
)
_BETWEEN = re.compile(r"[\s,;|]+")


@dataclass(frozen=True, slots=True)
class Sign:
    """One sign: ``chars`` holds what it may be; "" for ``?`` (any one) and for ``*`` (``lost``)."""

    chars: str
    lost: bool = False

    @property
    def legible(self) -> bool:
        """Whether anything at all was read here."""
        return bool(self.chars)

    def __str__(self) -> str:
        if self.lost:
            return LOST
        if not self.chars:
            return ANY
        return self.chars if len(self.chars) == 1 else f"[{self.chars}]"


@dataclass(frozen=True, slots=True)
class Mark:
    """A reading: the text as found, its signs, and whether it is read with the part turned over."""

    text: str
    signs: tuple[Sign, ...]
    turned: bool = False

    @property
    def has_lost_stretch(self) -> bool:
        """Whether a ``*`` stands anywhere in it."""
        return any(sign.lost for sign in self.signs)

    @property
    def certain(self) -> bool:
        """Whether every sign is one certain character."""
        return all(len(sign.chars) == 1 for sign in self.signs)

    def shown(self) -> str:
        """The signs written together, as understood."""
        return "".join(str(sign) for sign in self.signs)


def read_mark(text: str) -> Mark:
    """Understand what a user typed for a mark.

    Raises InputError for empty or overlong text, control characters, brackets that do not close,
    and a mark of which nothing at all can be read.
    """
    signs = _signs(plain(text, MAX_MARK, "mark"), text)
    if not any(sign.legible for sign in signs):
        raise InputError(
            f'nothing can be read of the mark "{visible(text)}"',
            "Give at least one letter or digit, or search by size alone.",
        )
    if len(signs) > MOST_SIGNS:
        raise InputError(
            f"the mark has {len(signs)} signs; the most is {MOST_SIGNS}",
            "Give one mark at a time, each with its own --mark.",
        )
    return Mark(text.strip(), tuple(signs))


def _signs(upper: str, text: str) -> list[Sign]:
    signs: list[Sign] = []
    at = 0
    while at < len(upper):
        c = upper[at]
        if c == LOST:
            if not (signs and signs[-1].lost):
                signs.append(Sign("", lost=True))
        elif c == ANY:
            signs.append(Sign(""))
        elif c == "[":
            end = upper.find("]", at)
            inside = folded(upper[at + 1 : end]) if end > at else ""
            if not inside:
                raise InputError(
                    f'the bracket in "{visible(text)}" is not "one of these"',
                    "Write the characters it may be between [ and ], for example [38].",
                )
            signs.append(Sign("".join(dict.fromkeys(inside))))
            at = end
        else:
            signs.extend(Sign(f) for f in folded(c))
        at += 1
    return signs


def upside_down(mark: Mark) -> Mark | None:
    """The same mark read with the part turned over: characters turned *and* order reversed.

    None where a character cannot be turned, or where the turned mark is the same mark.
    """
    if any(c not in _TURNABLE for sign in mark.signs for c in sign.chars):
        return None
    signs = tuple(Sign(s.chars.translate(TURNED), s.lost) for s in reversed(mark.signs))
    same = all(
        set(a.chars) == set(b.chars) and a.lost == b.lost
        for a, b in zip(signs, mark.signs, strict=True)
    )
    return None if same else Mark(mark.text, signs, turned=True)


def pieces_of(text: str) -> list[str]:
    """The pieces of a mark that stand apart: between blanks, commas and strokes."""
    return [piece for piece in _BETWEEN.split(text.strip()) if piece]


def is_word(piece: str) -> bool:
    """Whether a piece of a mark is a word (a maker's name, a place), and no number or code."""
    return _WORD.fullmatch(piece) is not None


def without_words(mark: Mark) -> Mark | None:
    """The mark less the words at its ends; None where it has none, or nothing is left."""
    pieces = pieces_of(mark.text)
    kept = list(pieces)
    while kept and is_word(kept[0]):
        del kept[0]
    while kept and is_word(kept[-1]):
        del kept[-1]
    legible = any(c.isdigit() or c == ANY for piece in kept for c in piece)
    if not legible or len(kept) == len(pieces):
        return None
    try:
        return read_mark(" ".join(kept))
    except InputError:
        return None
