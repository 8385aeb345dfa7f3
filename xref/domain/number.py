"""Part numbers as text: the two keys, and the skeleton that merges characters that look alike."""

from __future__ import annotations

import re
import unicodedata

from xref.errors import InputError

MAX_NUMBER = 80
"""Characters a part number may have. The longest standard designations stay under 30."""

MAX_MARK = 200
"""Characters a mark may have: longer text is prose, not a stamp."""

_FRACTIONS = {
    "½": " 1/2",
    "¼": " 1/4",
    "¾": " 3/4",
    "⅛": " 1/8",
    "⅜": " 3/8",
    "⅝": " 5/8",
    "⅞": " 7/8",
}
_SEPARATORS = re.compile(r"[\s\-_.,:;·–—−‐‑‒]+")
_NOT_FOLDED = re.compile(r"[^0-9A-Z]+")

_CLASSES = ("0ODQ", "1IL", "2Z", "5S", "6G", "8B")
SKELETON = str.maketrans({c: cls[0] for cls in _CLASSES for c in cls[1:]})
"""Classes of characters that wear into each other; every class is named by its first character."""


_FAULTS = {
    "Cc": "a control",
    "Cs": "a control",
    "Cn": "a control",
    "Co": "a control",
    "Cf": "an invisible",
}
"""Unicode categories that may not stand in a number: two that look the same must be the same."""


_READ_OFF = {
    "mark": "Write what can be read; ? stands for one lost character.",
    "number": "Write it as it stands on the part or in the book.",
    "serial": "Write it as it is stamped, such as QW312.",
}
"""What is read off a part or a book, and what to do where nothing was written of it."""


def visible(text: str, most: int = 40) -> str:
    """``text`` fit to be shown in a message: cut to ``most`` characters, controls made visible."""
    cut = text[:most] + ("…" if len(text) > most else "")
    return "".join(c if c.isprintable() else f"\\x{ord(c):02x}" for c in cut)


def plain(text: str, most: int = MAX_NUMBER, what: str = "number") -> str:
    """``text`` in upper case with compatibility forms (full-width digits, ligatures) made plain.

    Raises InputError for empty text, text longer than ``most``, and characters that control or
    cannot be seen.
    """
    if len(text) > most:
        raise InputError(
            f"this {what} has {len(text)} characters; the most is {most}",
            "Give one at a time." if what in _READ_OFF else "Say it in fewer words.",
        )
    for sign, words in _FRACTIONS.items():
        text = text.replace(sign, words)
    shown = unicodedata.normalize("NFKC", text).strip()
    if not shown:
        raise InputError(f"the {what} is empty", _READ_OFF.get(what, "Write something for it."))
    for c in shown:
        fault = "" if c == "\t" else _FAULTS.get(unicodedata.category(c), "")
        if fault:
            raise InputError(
                f'the {what} "{visible(text)}" has {fault} character in it',
                "Type it again by hand; only letters, digits and signs may stand in it.",
            )
    return shown.upper()


def key(text: str) -> str:
    """The identity of a number, unique per maker: upper case, each run of separators one ``-``.

    ``/`` is kept ("62/22" and "6222" are different bearings), ½ is written 1/2, and leading zeros
    count. Raises InputError as ``plain`` does, and where nothing but separators is left.
    """
    joined = _SEPARATORS.sub("-", plain(text)).strip("-")
    if not joined:
        raise InputError(
            f'"{visible(text)}" has no letter or digit in it', "Write the number as it stands."
        )
    return joined


def folded(text: str) -> str:
    """The number for searching only, never unique: letters and digits alone.

    Letters with marks lose them (Ø counts as O). Text of another script folds to "".
    """
    raw = text
    for sign, words in _FRACTIONS.items():
        raw = raw.replace(sign, words)
    flat = unicodedata.normalize("NFKD", raw).upper().replace("Ø", "O")
    return _NOT_FOLDED.sub("", flat)


def searchable(text: str, what: str = "number") -> None:
    """Raise InputError for a number of which nothing is left to search by (``folded`` is "")."""
    if not folded(text):
        raise InputError(
            f'the {what} "{visible(text)}" has no letter or digit that can be searched',
            "Write it in the letters A to Z and the digits 0 to 9.",
        )


def skeleton(folded_text: str) -> str:
    """``folded_text`` with look-alike classes merged (0 O D Q · 1 I L · 2 Z · 5 S · 6 G · 8 B)."""
    return folded_text.translate(SKELETON)
