"""On whose word a number may be written otherwise: a standard's, or common usage."""

from __future__ import annotations

import re

from xref.designation.reading import COMMON
from xref.standards.lookup import find

_NAMED = (
    (re.compile(r"AS568-\d{3}\b"), "SAE AS568"),
    (re.compile(r"ISO 3601-\d{3}\b"), "ISO 3601-1"),
    (re.compile(r"BS \d{3}\b"), "BS 1806"),
    (re.compile(r"6[89]\d\d$"), "JIS B 1513"),
    (re.compile(r"((?:ISO|DIN|GOST|JIS|ASME|BS|EN)(?: [A-Z])? \d+(?:-\d+)?)\b.*"), ""),
)
"""Writings by their form, and the standard that has them; JIS B 1513 from memory."""

_STANDARD = re.compile(r"\b(?:ISO|DIN|GOST|JIS|ASME|ANSI|SAE|BS|EN|RMA|FZ/T)\b")


def basis_of(writing: str) -> str:
    """The standard that writes a number as ``writing``, else "common usage".

    That is the standard it begins with, or the one whose row has it as its own number. A maker's
    letters are common usage however exactly the sizes behind them are a standard's.
    """
    for pattern, standard in _NAMED:
        found = pattern.match(writing)
        if found:
            return standard or found[1]
    rows = [part for part in find(writing) if part.number == writing]
    named = {part.maker for part in rows if _STANDARD.match(part.maker)}
    return named.pop() if len(named) == 1 else COMMON
