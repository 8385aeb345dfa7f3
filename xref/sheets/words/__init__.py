"""The trade's words for headings, kinds and lines of a list; a language is added by adding rows."""

from __future__ import annotations

import csv
import io
from functools import cache
from importlib import resources


@cache
def word_list(name: str) -> tuple[dict[str, str], ...]:
    """The rows of ``words/NAME.csv``. Raises FileNotFoundError for a list that does not ship."""
    text = resources.files("xref.sheets.words").joinpath(f"{name}.csv").read_text("utf-8")
    return tuple(csv.DictReader(io.StringIO(text, newline="")))
