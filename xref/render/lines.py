"""Text in lines that fit the screen."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable

from xref.domain.part import Part
from xref.services.parts.cautions import each_once

UNBROKEN = "\u00a0"
"""Stands for a space at which no line may break; shown as a space."""


def wrapped(text: str, width: int, indent: str = "  ", first: str = "") -> list[str]:
    """``text`` in lines no wider than ``width``; a number that is wider stays in one piece."""
    lines = textwrap.wrap(
        text,
        width,
        initial_indent=first,
        subsequent_indent=indent,
        break_long_words=False,
        break_on_hyphens=False,
    )
    return [line.replace(UNBROKEN, " ") for line in lines]


def what(part: Part) -> str:
    """What a part is, as far as is known: its description, else its type or kind, else ""."""
    return part.words or part.type or part.kind


def cautioned(texts: Iterable[str], width: int) -> list[str]:
    """The cautions after an empty line, each once; [] for none."""
    lines = [line for text in each_once(texts) for line in wrapped(f"Caution: {text}", width)]
    return ["", *lines] if lines else []
