"""The bench book: what lies there, its photos, what it was decided to be, and how it fitted."""

from __future__ import annotations

import tempfile
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from urllib.parse import parse_qsl

from starlette.datastructures import UploadFile
from starlette.responses import Response

from xref.errors import FileError, InputError, NotFoundError
from xref.services.bench import bench, outcome, photos, wanted
from xref.services.changing import items
from xref.services.identify.answer import Identified
from xref.services.links import machine as machines
from xref.services.one_line import taken
from xref.store.notes import bench as book
from xref.store.write.unit import UnitOfWork
from xref.web import picture
from xref.web.asking import address_of, asked_from
from xref.web.page import Ask, Page

PAGE = Page("bench", "/bench")
FORM_MORE = 1_000_000
"""Bytes of a form beside its photo."""
FOUND = bench.FOUND


@PAGE.get("/bench")
def everything(ask: Ask) -> Response:
    """All that lies on the bench, what is undecided first."""
    with ask.opened.store.reading() as conn:
        every = book.items(conn)
        names = bench.numbers(conn, every)
        still = ask.house.worker.run(lambda: _undecided(ask)) or []
        mind = bench.cautions_on(conn, every, still)
    by_label = {found.item.id: found for found in still}
    rows = [
        {
            "item": item,
            "number": names.get(item.part_id or 0, ""),
            "open": by_label.get(item.id),
            "cautions": mind[item.id],
        }
        for item in sorted(every, key=lambda one: (one.part_id is not None, -one.id))
    ]
    return ask.page("bench", rows=rows)


def _undecided(ask: Ask) -> list[bench.Open]:
    with ask.opened.store.reading() as conn:
        return bench.undecided(conn)


@PAGE.get("/bench/new")
def new(ask: Ask) -> Response:
    """The form to put a part on the bench; what was asked of it stands in the address."""
    with ask.opened.store.reading() as conn:
        known = [one.name for one in machines.every(conn)]
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
        with ask.writing("bench add") as unit:
            label = bench.add(
                unit,
                ask.opened.store.where,
                ask.sent("place"),
                asked,
                assembly=ask.sent("assembly"),
                found={name: ask.sent(name) for name in FOUND if ask.sent(name)},
                note=ask.sent("note"),
            )
            unit.commit()
        return f"/b/{label}"

    return ask.once(write)


@PAGE.get("/b/{label}")
def one(ask: Ask) -> Response:
    """One item: photos, what it may be with its next check, what was decided, and what to do."""
    label = _label(ask)
    answer = ask.house.worker.run(lambda: _answer(ask, label))
    with ask.opened.store.reading() as conn:
        item = book.item(conn, label)
        names = bench.numbers(conn, [item])
        known = [one.name for one in machines.every(conn)]
        mind = bench.cautions_on(conn, [item])[label]
    if not mind and answer and answer.candidates and answer.verdict != "none":
        mind = answer.candidates[0].cautions
    return ask.page(
        "item",
        item=item,
        number=names.get(item.part_id or 0, ""),
        answer=answer,
        asked=_asked(item),
        machines=known,
        found=FOUND,
        outcomes=outcome.OUTCOMES,
        cautions=mind,
    )


def _label(ask: Ask) -> int:
    text = ask.path("label")
    if not (text.isascii() and text.isdigit() and len(text) < 10):
        raise NotFoundError(ask.texts("bench.no_label"), ask.texts("bench.no_label_hint"))
    return int(text)


def _answer(ask: Ask, label: int) -> Identified | None:
    with ask.opened.store.reading() as conn:
        item = book.item(conn, label)
        return None if item.part_id is not None else bench.answer(conn, item, 5)


def _asked(item: book.BenchItem) -> list[tuple[str, str]]:
    """What was seen and measured, each with its name."""
    told: list[tuple[str, str]] = []
    for name, value in item.asked.items():
        if isinstance(value, dict):
            told += [(size, str(text)) for size, text in value.items()]
        elif isinstance(value, list):
            told += [(name.rstrip("s"), str(text)) for text in value]
        elif name != "machine":
            told.append((name, str(value)))
    return told


def _written(
    ask: Ask, action: str, do: Callable[[UnitOfWork, int], object], to: str = ""
) -> Response:
    """Do one write on the item and go back to it, or on to ``to``."""
    label = _label(ask)

    def write() -> str:
        with ask.writing(action) as unit:
            do(unit, label)
            unit.commit()
        return to or f"/b/{label}"

    return ask.once(write)


@PAGE.post("/b/{label}/decide")
def decide(ask: Ask) -> Response:
    """Write down what it is."""
    number, maker = ask.sent("number"), ask.sent("maker") or None
    return _written(ask, "bench decide", lambda unit, at: bench.decide(unit, at, number, maker))


@PAGE.post("/b/{label}/undecide")
def undecide(ask: Ask) -> Response:
    """Take the decision back."""
    where = ask.opened.store.where
    return _written(ask, "bench change", lambda unit, at: items.undecide(unit, where, at))


@PAGE.post("/b/{label}/outcome")
def fitted(ask: Ask) -> Response:
    """Write down how it fitted."""
    result, why, other = ask.sent("result"), ask.sent("why"), ask.sent("in_place_of")
    return _written(
        ask, "bench outcome", lambda unit, at: outcome.outcome(unit, at, result, why, other)
    )


@PAGE.post("/b/{label}/change")
def change(ask: Ask) -> Response:
    """Change where it came off, its assembly, machine, note and how it was found."""
    where = ask.opened.store.where
    empty = [name for name in ("assembly", "note", "machine", *FOUND) if not ask.sent(name)]
    found = {name: ask.sent(name) for name in FOUND if ask.sent(name)}
    asked = {"machine": ask.sent("machine")} if ask.sent("machine") else {}

    def do(unit: UnitOfWork, at: int) -> None:
        items.change(
            unit,
            where,
            at,
            place=ask.sent("place"),
            assembly=ask.sent("assembly") or None,
            note=ask.sent("note") or None,
            found=found,
            asked=asked,
            without=empty,
        )

    return _written(ask, "bench change", do)


@PAGE.post("/b/{label}/measure")
def measure(ask: Ask) -> Response:
    """Add what was seen or measured since, in one line as it is asked."""
    where, line = ask.opened.store.where, ask.sent("line")
    if not line:
        raise InputError(ask.texts("bench.nothing_seen"), ask.texts("bench.nothing_seen_hint"))
    asked = taken([line]).asked
    given = {name: value for name, value in bench.typed(asked).items() if name != "unit"}

    def do(unit: UnitOfWork, at: int) -> None:
        held = dict(book.item(unit.conn, at).asked)
        for name in ("marks", "casts"):
            if name in given:
                given[name] = tuple(dict.fromkeys([*held.get(name, ()), *given[name]]))
        items.change(unit, where, at, asked=given)

    return _written(ask, "bench change", do)


@PAGE.post("/b/{label}/seen")
def seen(ask: Ask) -> Response:
    """Answer a check: what was seen, or that it cannot be told."""
    where, key, answer = ask.opened.store.where, ask.sent("check"), ask.sent("answer")

    def do(unit: UnitOfWork, at: int) -> None:
        held = book.item(unit.conn, at).asked
        asked = (
            {"seen": {key: answer}}
            if answer
            else {"cannot": tuple(dict.fromkeys([*held.get("cannot", ()), key]))}
        )
        items.change(unit, where, at, asked=asked)

    return _written(ask, "bench change", do)


@PAGE.post("/b/{label}/order")
def order(ask: Ask) -> Response:
    """Put what it was decided to be on the list of what is wanted."""
    number = ask.sent("number")
    return _written(
        ask, "wanted add", lambda unit, at: wanted.add(unit, number, note=f"label {at}"), "/wanted"
    )


@PAGE.post("/b/{label}/remove")
def remove(ask: Ask) -> Response:
    """Take the item off the book."""
    return _written(ask, "bench remove", items.remove, "/bench")


@PAGE.post("/b/{label}/photo", most=picture.MOST_BYTES + FORM_MORE)
def photo(ask: Ask) -> Response:
    """Keep a photo of the item, made safe first. Each photo is a request of its own."""
    label, sent = _label(ask), ask.form.get("photo")
    if not isinstance(sent, UploadFile) or not sent.filename:
        raise FileError(ask.texts("bench.no_photo"), ask.texts("bench.no_photo_hint"))
    data = picture.cleaned(sent.file.read())

    def write() -> str:
        where = ask.opened.store.where
        with tempfile.TemporaryDirectory() as folder, ask.writing("bench photo") as unit:
            count = len(book.item(unit.conn, label).photos) + 1
            file = Path(folder) / f"label-{label}-photo-{count}.jpg"
            file.write_bytes(data)
            book.add_photo(unit, label, *photos.keep(where, file))
            unit.commit()
        return f"/b/{label}"

    return ask.once(write)


@PAGE.post("/b/{label}/photo/away")
def photo_away(ask: Ask) -> Response:
    """Forget a photo of the item; its file stays, so that this can be taken back."""
    where, name = ask.opened.store.where, ask.sent("name")
    return _written(
        ask, "bench change", lambda unit, at: items.change(unit, where, at, without=(name,))
    )


@PAGE.get("/photo/{digest}")
def kept(ask: Ask) -> Response:
    """A photo, whole; ``?small`` in the address is a small picture of it."""
    digest = ask.path("digest").lower()
    file = next(
        (f for f in photos.kept_in(ask.opened.store.where) if photos.digest_of(f) == digest), None
    )
    if file is None:
        raise NotFoundError(ask.texts("bench.photo_gone"), ask.texts("bench.photo_gone_hint"))
    if "small" in ask.query:
        return Response(picture.small(file), media_type="image/jpeg")
    return Response(picture.cleaned(file.read_bytes()), media_type="image/jpeg")
