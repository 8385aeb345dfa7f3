"""One column of a list, as it was understood."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Column:
    """One column of a list. ``label`` is its heading, made unique; ``sure`` is 0..1.

    ``by`` says how it was understood: heading, content, told, or kept where it was not.
    ``unit`` is "" where the heading names none; ``decimal`` is "," or "." or "" where the column
    shows neither.
    """

    at: int
    label: str
    field: str
    sure: float
    by: str
    unit: str = ""
    decimal: str = ""


def letters(at: int) -> str:
    """The letters of a column as a spreadsheet shows them: 0 is A, 26 is AA."""
    text = ""
    at += 1
    while at:
        at, rest = divmod(at - 1, 26)
        text = chr(65 + rest) + text
    return text
