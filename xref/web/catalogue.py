"""Every text of the page, by its key: one folder of files a language, one file a page."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

FOLDER = Path(__file__).parent / "texts"
ENGLISH = "en"
LANGUAGES: dict[str, str] = {"en": "English", "de": "Deutsch"}
"""What each language calls itself. The first is the one that is complete by its nature."""


@cache
def texts_of(language: str) -> Mapping[str, str]:
    """Every text of ``language`` by its key, ``page.name``."""
    found: dict[str, str] = {}
    for file in sorted((FOLDER / language).glob("*.toml")):
        for name, text in tomllib.loads(file.read_text("utf-8")).items():
            found[f"{file.stem}.{name}"] = text
    return found


@dataclass(frozen=True, slots=True)
class Texts:
    """The texts of one language; called with a key it gives the text, its places filled."""

    language: str

    def __call__(self, key: str, **values: object) -> str:
        """The text of ``key``. Raises KeyError for one that is not in the catalogue."""
        text = texts_of(self.language)[key]
        return text.format(**values) if values else text

    def has(self, key: str) -> bool:
        """Whether there is such a text."""
        return key in texts_of(self.language)


def preferred(chosen: str, accepted: str) -> str:
    """The language to write in: the one that was chosen, else the first accepted one there is."""
    if chosen in LANGUAGES:
        return chosen
    for piece in accepted.split(","):
        short = piece.split(";")[0].strip().split("-")[0].lower()
        if short in LANGUAGES:
            return short
    return ENGLISH
