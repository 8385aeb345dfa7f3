"""Cells that a spreadsheet would run as a formula, made harmless on the way out and restored."""

from __future__ import annotations

import re

_RUNS = re.compile(r"'*[=+\-@\t\r]")


def harmless(text: str) -> str:
    """``text`` with a ' in front where it begins as a formula does (= + - @, tab, return)."""
    return f"'{text}" if text[:1] in _FIRST and _RUNS.match(text) else text


def restored(text: str) -> str:
    """What ``harmless`` was given."""
    return text[1:] if text[:1] == "'" and _RUNS.match(text) else text


_FIRST = frozenset("'=+-@\t\r")
