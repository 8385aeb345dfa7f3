"""What the readers of call-outs share: numbers as they are written, and a plain reading."""

from __future__ import annotations

import re
from collections.abc import Mapping

from xref.designation.reading import Reading
from xref.designation.rubber import words
from xref.domain.size import parse_length
from xref.errors import InputError

NUMBER = r"\d{1,4}(?:[.,]\d{1,3})?"
"""A whole or decimal number of millimetres."""

FRACTION = r"(?:\d{1,2}[ -])?\d{1,2}/\d{1,2}"
TIMES = r"\s*[X×*]\s*"


def dotted(text: str) -> str:
    """A decimal comma as the point the tables have."""
    return text.replace(",", ".")


def pieces(text: str) -> list[str]:
    """The numbers of "25 x 1,2" as the tables write them."""
    return [dotted(piece.strip()) for piece in re.split(r"[X×*]", text)]


def length(text: str, unit: str = "mm") -> int | None:
    """The length in nanometres; None where it is none."""
    try:
        return parse_length(text, unit).nm
    except InputError:
        return None


def in_length(text: str | None, unit: str = "mm") -> dict[str, int]:
    """The length that a call-out ends in, as the size that it is; {} where none is written."""
    long = length(dotted(text), unit) if text else None
    return {"length": long} if long else {}


def reading(
    designation: str,
    what: tuple[str, str, str],
    rest: str = "",
    *,
    sizes: Mapping[str, int] | None = None,
    note: str = "",
    certain: bool = True,
) -> Reading:
    """A reading with nothing but what a plain call-out has. ``what`` is (kind, type, standard)."""
    kind, type_, standard = what
    return Reading(
        designation=designation,
        kind=kind,
        type=type_,
        numbering=standard,
        standard=standard,
        sizes=sizes or {},
        canonical=designation,
        unknown=words(rest),
        note=note,
        needs_table=not certain,
    )
