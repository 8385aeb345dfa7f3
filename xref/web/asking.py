"""A question as it stands in an address: read from one, and written as one.

Alike for every page that asks: ``mark``, ``cast``, each size by its name, ``kind``, ``words``,
``machine``, ``condition``, ``tool``, ``cast-date``, ``built``, ``seen`` (CHECK=ANSWER), ``cannot``.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import fields
from urllib.parse import urlencode

from starlette.datastructures import FormData, QueryParams

from xref.domain.number import visible
from xref.domain.size_names import NAMES
from xref.errors import InputError
from xref.services.question import Asked

MANY = {"mark": "marks", "cast": "casts", "cannot": "cannot"}
WORDS = {"kind": "kind", "words": "words", "machine": "machine", "condition": "condition",
         "tool": "tool", "cast-date": "cast_date", "built": "built"}  # fmt: skip
USUAL = {field.name: field.default for field in fields(Asked) if isinstance(field.default, str)}
ANOTHER, ITS_VALUE = "another", "another-value"
"""The size that is chosen by its name, and what it measures."""


def asked_from(given: QueryParams | FormData) -> Asked:
    """The question that ``given`` holds; what is blank was not given.

    Raises InputError for a size or a check that is given twice.
    """
    pairs = [(name, value.strip()) for name, value in _texts(given) if value.strip()]
    sizes: dict[str, str] = {}
    another = next((value for name, value in pairs if name == ANOTHER), "")
    for name, value in pairs:
        size = another if name == ITS_VALUE else name
        if size in NAMES:
            if size in sizes:
                raise InputError(f"{size} is given twice", "Leave one of them out.")
            sizes[size] = value
    return Asked(
        marks=_all(pairs, "mark"),
        casts=_all(pairs, "cast"),
        cannot=_all(pairs, "cannot"),
        **{field: _last(pairs, name) or USUAL[field] for name, field in WORDS.items()},
        sizes=sizes,
        seen=_seen(pairs),
    )


def _texts(given: QueryParams | FormData) -> Iterator[tuple[str, str]]:
    for name, value in given.multi_items():
        if isinstance(value, str):
            yield name.lower(), value


def _all(pairs: list[tuple[str, str]], name: str) -> tuple[str, ...]:
    return tuple(dict.fromkeys(value for named, value in pairs if named == name))


def _last(pairs: list[tuple[str, str]], name: str) -> str:
    return next((value for named, value in reversed(pairs) if named == name), "")


def _seen(pairs: list[tuple[str, str]]) -> Mapping[str, str]:
    """What checks showed; the last answer to a check is the one that counts."""
    found: dict[str, str] = {}
    for text in _all(pairs, "seen"):
        check, sign, answer = (piece.strip() for piece in text.partition("="))
        if not (check and sign and answer):
            raise InputError(
                f'"{visible(text)}" is no answer to a check', "Answer with the buttons."
            )
        found[check] = answer
    return found


def address_of(asked: Asked) -> str:
    """The question as what stands behind ``?``; "" for one that holds nothing."""
    pairs = [(name, text) for name, field in MANY.items() for text in getattr(asked, field)]
    pairs += asked.sizes.items()
    pairs += [
        (name, getattr(asked, field))
        for name, field in WORDS.items()
        if getattr(asked, field) not in ("", USUAL[field])
    ]
    pairs += [("seen", f"{check}={answer}") for check, answer in asked.seen.items()]
    return urlencode(pairs)


def says_something(asked: Asked) -> bool:
    """Whether there is anything to go by."""
    return bool(asked.marks or asked.casts or asked.sizes or asked.words or asked.kind)
