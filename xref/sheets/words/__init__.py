"""The trade's words for headings, kinds and lines of a list; a language is added by adding rows."""

from __future__ import annotations

import csv
import io
from functools import cache
from importlib import resources
from typing import NamedTuple

LANGUAGES = ("en", "de", "fr", "nl", "it", "es", "sv", "da", "pl")
"""The languages whose headings are known, each in a table of its own."""


@cache
def word_list(name: str) -> tuple[dict[str, str], ...]:
    """The rows of ``words/NAME.csv``. Raises FileNotFoundError for a list that does not ship."""
    text = resources.files("xref.sheets.words").joinpath(*f"{name}.csv".split("/"))
    return tuple(csv.DictReader(io.StringIO(text.read_text("utf-8"), newline="")))


class HeadingWord(NamedTuple):
    """What a heading may mean in a language; ``sure`` is 0..1, judged."""

    field: str
    word: str
    sure: float
    language: str


@cache
def heading_words() -> tuple[HeadingWord, ...]:
    """Every word for a heading, language by language."""
    return tuple(
        HeadingWord(row["field"], row["word"], float(row["sure"]), language)
        for language in LANGUAGES
        for row in word_list(f"headings/{language}")
    )
