"""Patterns that are compiled when a text first needs them: a short command pays for none."""

from __future__ import annotations

import re
from functools import cache


@cache
def pattern(text: str) -> re.Pattern[str]:
    """``text`` compiled once."""
    return re.compile(text)


def whole(text: str, shown: str) -> re.Match[str] | None:
    """The match of the pattern ``text`` with all of ``shown``; None where it does not."""
    return pattern(text).fullmatch(shown)


def says(shown: str, *words: str) -> bool:
    """Whether one of ``words`` stands somewhere in ``shown``."""
    return any(word in shown for word in words)
