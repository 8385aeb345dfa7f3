"""What a person writes down, checked and kept on one line."""

from __future__ import annotations

from xref.domain.number import plain


def one_line(text: str) -> str:
    """``text`` with each run of spaces and line ends made one space, none at its ends."""
    return " ".join(text.split())


def needed_line(text: str, most: int, what: str) -> str:
    """``text`` on one line, in its own case. Raises InputError as ``plain`` does."""
    plain(text, most, what)
    return one_line(text)


def optional_line(text: str, most: int, what: str) -> str:
    """As ``needed_line``; "" where nothing is written."""
    return needed_line(text, most, what) if text.strip() else ""
