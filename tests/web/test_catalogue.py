"""All words of the page stand in the catalogue, in each language alike."""

from __future__ import annotations

import re
import string
from pathlib import Path

import pytest

from xref.domain.kinds import KINDS
from xref.domain.size_names import NAMES, SIZES
from xref.render.identify import HEADLINES
from xref.web.catalogue import LANGUAGES, preferred, texts_of
from xref.web.page import HERE

TEMPLATES = sorted((HERE / "templates").glob("*.html"))
PAGES = sorted((HERE / "pages").glob("*.py"))
SPOKEN = re.compile(r'\b(?:aria-label|title|placeholder|alt|value|content)="([^"{}]*)"')


def bare_words(template: str) -> list[str]:
    """The words of a template that are not in the catalogue."""
    text = re.sub(r"\{#.*?#\}|<!doctype html>", " ", template, flags=re.DOTALL)
    text = re.sub(r"\{\{.*?\}\}|\{%.*?%\}", "\0", text, flags=re.DOTALL)
    spoken = [
        word
        for value in SPOKEN.findall(re.sub(r"<meta [^>]*>", "", text))
        for word in re.findall(r"[^\W\d_]{3,}", value)
        if " " in value
    ]
    shown = re.sub(r"<[^>]*>", " ", text)
    return spoken + re.findall(r"[^\W\d_]+", shown.replace("\0", " "))


def places(text: str) -> set[str]:
    return {name for _, name, _, _ in string.Formatter().parse(text) if name is not None}


@pytest.mark.parametrize("file", TEMPLATES, ids=lambda file: file.name)
def test_no_template_has_words_of_its_own(file: Path) -> None:
    assert bare_words(file.read_text("utf-8")) == []


def test_bare_words_would_be_found() -> None:
    assert bare_words("<p class='x'>{{ t('a.b') }} or</p>") == ["or"]
    assert bare_words('<a title="to the bench">{{ x }}</a>') == ["the", "bench"]


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_language_has_the_same_keys_with_the_same_places(language: str) -> None:
    english, other = texts_of("en"), texts_of(language)
    assert other.keys() == english.keys()
    assert {key: places(text) for key, text in other.items()} == {
        key: places(text) for key, text in english.items()
    }
    assert all(text.strip() for text in other.values())


def test_every_size_kind_and_headline_is_told_as_in_the_terminal() -> None:
    texts = texts_of("en")
    assert {name: texts[f"size.{name}_over"] for name in SIZES} == SIZES
    assert all(texts[f"size.{name}"] == name.replace("-", " ") for name in NAMES)
    assert all(texts[f"kind.{kind}"] == kind for kind in KINDS)
    assert {key: texts[f"headline.{key}"] for key in HEADLINES} == HEADLINES


def test_every_key_that_is_named_is_there() -> None:
    found = {
        key
        for file in [*TEMPLATES, *PAGES]
        for key in re.findall(
            r"""\b(?:t|texts)\(\s*["']([\w.]+)["']\s*[,)]""", file.read_text("utf-8")
        )
    }
    assert found
    assert found <= texts_of("en").keys()


@pytest.mark.parametrize(
    ("chosen", "accepted", "language"),
    [
        ("", "de-AT,de;q=0.9,en;q=0.8", "de"),
        ("en", "de", "en"),
        ("", "", "en"),
        ("xx", "fr", "en"),
        ("", "fr,de;q=0.5", "de"),
    ],
)
def test_the_language_is_the_chosen_one_else_the_first_that_there_is(
    chosen: str, accepted: str, language: str
) -> None:
    assert preferred(chosen, accepted) == language
