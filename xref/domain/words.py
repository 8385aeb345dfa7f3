"""Descriptions as words."""

from __future__ import annotations

import re

_WORD = re.compile(r"[^\W_]+")


def split_words(text: str) -> list[str]:
    """The words of a description in lower case, each once, in order."""
    return list(dict.fromkeys(_WORD.findall(text.lower())))
