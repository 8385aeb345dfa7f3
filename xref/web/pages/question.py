"""The question and its answer: the whole question stands in the address."""

from __future__ import annotations

from http import HTTPStatus
from typing import Any

from starlette.responses import Response

from xref.domain.kinds import KINDS, SIZES_OF
from xref.domain.size_names import NAMES
from xref.errors import InputError, StoreError, XrefError
from xref.services.one_line import taken
from xref.services.question import Asked
from xref.standards.instrument import TOOLS
from xref.standards.wear import CONDITIONS
from xref.web.answer import answer_values
from xref.web.asking import address_of, asked_from, says_something
from xref.web.page import Ask, Page

PAGE = Page("question", "/")
USUAL_SIZES = ("bore", "outside", "width")
MOST_SIZES = 5
"""Sizes of a kind that stand open; the others are behind "another size"."""
DIGITS, LETTERS = "1234567890", "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
SIZE_KEYS = ("/", "-", ".", " mm", " in")


@PAGE.get("/")
def question(ask: Ask) -> Response:
    """The form, and below it the answer to what stands in the address."""
    line, told = ask.query.get("line", "").strip(), ""
    try:
        if line:
            found = taken([line])
            asked, told = found.asked, found.told
        else:
            asked = asked_from(ask.query)
            blank = any(not value.strip() for _, value in ask.query.multi_items())
            if blank or "another" in ask.query:
                return ask.to(f"/?{address_of(asked)}".rstrip("?"))
    except InputError as error:
        return _page(ask, Asked(), line=line, told="", **_wrong(error))
    return _page(ask, asked, line="" if told else line, told=told, **_answered(ask, asked))


def _page(ask: Ask, asked: Asked, **values: Any) -> Response:
    owned = [machine.name for machine in ask.opened.machine.every()]
    shown = _sizes_shown(asked)
    return ask.page(
        "question",
        asked=asked,
        kinds=KINDS,
        sizes=[(name, asked.sizes.get(name, "")) for name in shown],
        more_sizes=[name for name in NAMES if name not in shown],
        machines=owned,
        tools=TOOLS,
        conditions=CONDITIONS,
        digits=DIGITS,
        letters=LETTERS,
        size_keys=SIZE_KEYS,
        **values,
    )


def _sizes_shown(asked: Asked) -> list[str]:
    """The sizes that have a box of their own: those of the kind, and those that are given."""
    usual = SIZES_OF.get(asked.kind, USUAL_SIZES)[:MOST_SIZES]
    return [*usual, *(name for name in asked.sizes if name in NAMES and name not in usual)]


@PAGE.get("/answer")
def answer(ask: Ask) -> Response:
    """The answer alone, for the page's script; nothing where its tab has asked anew meanwhile."""
    tab = ask.request.headers.get("x-tab", "")[:40]
    if not tab:
        return ask.to(f"/?{ask.request.url.query}")
    try:
        asked = asked_from(ask.query)
    except InputError as error:
        return ask.page("answer", asked=Asked(), **_wrong(error))
    values = _answered(ask, asked, tab)
    if values is None:
        return Response(status_code=HTTPStatus.NO_CONTENT)
    return ask.page("answer", asked=asked, **values)


def _answered(ask: Ask, asked: Asked, tab: str = "") -> Any:
    """What the answer's template needs; None where there is a newer question of the tab."""
    if not says_something(asked):
        return _nothing()
    try:
        found = ask.house.worker.run(lambda: ask.opened.answer(asked), tab)
    except StoreError:
        raise
    except XrefError as error:
        return {**_wrong(error), "address": address_of(asked)}
    return None if found is None else answer_values(found, asked)


def _nothing() -> dict[str, Any]:
    return {"answer": None, "wrong": None, "address": ""}


def _wrong(error: XrefError) -> dict[str, Any]:
    return {**_nothing(), "wrong": error}
