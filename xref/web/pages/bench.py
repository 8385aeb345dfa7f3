"""The bench book: what lies there, its photos, what it was decided to be, and how it fitted."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any
from urllib.parse import parse_qsl

from starlette.datastructures import UploadFile
from starlette.responses import Response

from xref.errors import FileError, InputError, NotFoundError
from xref.services.bench.bench import FOUND
from xref.services.bench.outcome import OUTCOMES
from xref.services.one_line import taken
from xref.web import picture
from xref.web.asking import address_of, asked_from
from xref.web.page import Ask, Page

PAGE = Page("bench", "/bench")
FORM_MORE = 1_000_000
"""Bytes of a form beside its photo."""


@PAGE.get("/bench")
def everything(ask: Ask) -> Response:
    """All that lies on the bench, what is undecided first."""
    found = ask.house.worker.run(ask.opened.bench.overview)
    assert found is not None  # as it is a question of no tab
    by_label = {one.item.id: one for one in found.still}
    rows = [
        {
            "item": item,
            "number": found.numbers.get(item.part_id or 0, ""),
            "open": by_label.get(item.id),
            "cautions": found.cautions[item.id],
        }
        for item in sorted(found.items, key=lambda one: (one.part_id is not None, -one.id))
    ]
    return ask.page("bench", rows=rows)


@PAGE.get("/bench/new")
def new(ask: Ask) -> Response:
    """The form to put a part on the bench; what was asked of it stands in the address."""
    known = [one.name for one in ask.opened.machine.every()]
    line = ask.query.get("line", "").strip()
    asked = asked_from(ask.query)
    return ask.page(
        "bench_new",
        line=line,
        asked=parse_qsl(address_of(replace(asked, machine=""))),
        machine=asked.machine,
        machines=known,
        found=FOUND,
    )


@PAGE.post("/bench")
def add(ask: Ask) -> Response:
    """Put a part on the bench; then its own page, where photos are taken."""

    def write() -> str:
        asked = asked_from(ask.form)
        if ask.sent("line"):
            asked = replace(taken([ask.sent("line")]).asked, machine=asked.machine)
        label = ask.opened.bench.add(
            ask.sent("place"),
            asked,
            assembly=ask.sent("assembly"),
            found={name: ask.sent(name) for name in FOUND if ask.sent(name)},
            note=ask.sent("note"),
        )
        return f"/b/{label}"

    return ask.once(write)


@PAGE.get("/b/{label}")
def one(ask: Ask) -> Response:
    """One item: photos, what it may be with its next check, what was decided, and what to do."""
    label = _label(ask)
    answer = ask.house.worker.run(lambda: ask.opened.bench.answer(label, 5))
    found = ask.opened.bench.one(label)
    (item,), mind = found.items, found.cautions[label]
    if not mind and answer and answer.candidates and answer.verdict != "none":
        mind = answer.candidates[0].cautions
    return ask.page(
        "item",
        item=item,
        number=found.numbers.get(item.part_id or 0, ""),
        answer=answer,
        asked=_asked(item.asked),
        machines=[one.name for one in ask.opened.machine.every()],
        found=FOUND,
        outcomes=OUTCOMES,
        cautions=mind,
    )


def _label(ask: Ask) -> int:
    text = ask.path("label")
    if not (text.isascii() and text.isdigit() and len(text) < 10):
        raise NotFoundError(ask.texts("bench.no_label"), ask.texts("bench.no_label_hint"))
    return int(text)


def _asked(asked: Mapping[str, Any]) -> list[tuple[str, str]]:
    """What was seen and measured, each with its name."""
    told: list[tuple[str, str]] = []
    for name, value in asked.items():
        if isinstance(value, dict):
            told += [(size, str(text)) for size, text in value.items()]
        elif isinstance(value, list):
            told += [(name.rstrip("s"), str(text)) for text in value]
        elif name != "machine":
            told.append((name, str(value)))
    return told


def _written(ask: Ask, do: Callable[[int], object], to: str = "") -> Response:
    """Do one write on the item and go back to it, or on to ``to``."""
    label = _label(ask)

    def write() -> str:
        do(label)
        return to or f"/b/{label}"

    return ask.once(write)


@PAGE.post("/b/{label}/decide")
def decide(ask: Ask) -> Response:
    """Write down what it is."""
    number, maker = ask.sent("number"), ask.sent("maker") or None
    return _written(ask, lambda at: ask.opened.bench.decide(at, number, maker))


@PAGE.post("/b/{label}/undecide")
def undecide(ask: Ask) -> Response:
    """Take the decision back."""
    return _written(ask, ask.opened.bench.undecide)


@PAGE.post("/b/{label}/outcome")
def fitted(ask: Ask) -> Response:
    """Write down how it fitted."""
    result, why, other = ask.sent("result"), ask.sent("why"), ask.sent("in_place_of")
    return _written(ask, lambda at: ask.opened.bench.outcome(at, result, why, other))


@PAGE.post("/b/{label}/change")
def change(ask: Ask) -> Response:
    """Change where it came off, its assembly, machine, note and how it was found."""
    empty = [name for name in ("assembly", "note", "machine", *FOUND) if not ask.sent(name)]
    found = {name: ask.sent(name) for name in FOUND if ask.sent(name)}
    asked = {"machine": ask.sent("machine")} if ask.sent("machine") else {}

    def do(at: int) -> None:
        ask.opened.bench.change(
            at,
            place=ask.sent("place"),
            assembly=ask.sent("assembly") or None,
            note=ask.sent("note") or None,
            found=found,
            asked=asked,
            without=empty,
        )

    return _written(ask, do)


@PAGE.post("/b/{label}/measure")
def measure(ask: Ask) -> Response:
    """Add what was seen or measured since, in one line as it is asked."""
    line = ask.sent("line")
    if not line:
        raise InputError(ask.texts("bench.nothing_seen"), ask.texts("bench.nothing_seen_hint"))
    asked = taken([line]).asked
    return _written(ask, lambda at: ask.opened.bench.add_seen(at, asked))


@PAGE.post("/b/{label}/seen")
def seen(ask: Ask) -> Response:
    """Answer a check: what was seen, or that it cannot be told."""
    key, answer = ask.sent("check"), ask.sent("answer")
    return _written(ask, lambda at: ask.opened.bench.answer_check(at, key, answer))


@PAGE.post("/b/{label}/order")
def order(ask: Ask) -> Response:
    """Put what it was decided to be on the list of what is wanted."""
    number = ask.sent("number")
    return _written(ask, lambda at: ask.opened.wanted.add(number, note=f"label {at}"), "/wanted")


@PAGE.post("/b/{label}/remove")
def remove(ask: Ask) -> Response:
    """Take the item off the book."""
    return _written(ask, ask.opened.bench.remove, "/bench")


@PAGE.post("/b/{label}/photo", most=picture.MOST_BYTES + FORM_MORE)
def photo(ask: Ask) -> Response:
    """Keep a photo of the item, made safe first. Each photo is a request of its own."""
    label, sent = _label(ask), ask.form.get("photo")
    if not isinstance(sent, UploadFile) or not sent.filename:
        raise FileError(ask.texts("bench.no_photo"), ask.texts("bench.no_photo_hint"))
    data = picture.cleaned(sent.file.read())

    def write() -> str:
        ask.opened.bench.add_photo(label, data)
        return f"/b/{label}"

    return ask.once(write)


@PAGE.post("/b/{label}/photo/away")
def photo_away(ask: Ask) -> Response:
    """Forget a photo of the item; its file stays, so that this can be taken back."""
    name = ask.sent("name")
    return _written(ask, lambda at: ask.opened.bench.change(at, without=(name,)))


@PAGE.get("/photo/{digest}")
def kept(ask: Ask) -> Response:
    """A photo, whole; ``?small`` in the address is a small picture of it."""
    file = ask.opened.bench.photo(ask.path("digest").lower())
    if file is None:
        raise NotFoundError(ask.texts("bench.photo_gone"), ask.texts("bench.photo_gone_hint"))
    if "small" in ask.query:
        return Response(picture.small(file), media_type="image/jpeg")
    return Response(picture.cleaned(file.read_bytes()), media_type="image/jpeg")
