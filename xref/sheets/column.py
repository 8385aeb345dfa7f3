"""One column of a list, as it was understood."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Column:
    """One column of a list. ``label`` is its heading, made unique; ``sure`` is 0..1.

    ``by`` says how it was understood: heading, content, told, or kept where it was not.
    ``unit`` is "" where the heading names none; ``decimal`` is "," or "." or "" where the column
    shows neither. ``perhaps`` is the field that a column kept as it stands looks like, "" for none:
    it is taken for that only where somebody says so.
    """

    at: int
    label: str
    field: str
    sure: float
    by: str
    unit: str = ""
    decimal: str = ""
    perhaps: str = ""


def letters(at: int) -> str:
    """The letters of a column as a spreadsheet shows them: 0 is A, 26 is AA."""
    text = ""
    at += 1
    while at:
        at, rest = divmod(at - 1, 26)
        text = chr(65 + rest) + text
    return text


def untitled(at: int) -> str:
    """The label of a column without a heading."""
    return f"column {letters(at)}"
