"""Parts: look one up with all that is known, and write down what the books say of it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from urllib.parse import urlencode

from starlette.responses import Response

from xref.domain.kinds import KINDS
from xref.domain.machine import Machine
from xref.errors import AmbiguousError, InputError, NotFoundError
from xref.render.card import card_facts
from xref.render.draw.chain import chain_of, draw_chain
from xref.render.draw.figure import Drawing
from xref.render.draw.part import draw_part, subject_of
from xref.render.draw.ranges import draw_ranges, panels_of
from xref.render.history import plain_lines
from xref.services.card import Card
from xref.services.links.applies import serials_from
from xref.services.links.interchange import GRADES, TOLD
from xref.services.parts.part import STATUSES
from xref.web.page import Ask, Page

PAGE = Page("parts", "/parts")
SHOWN = 200
"""Own parts that are listed; the others are found by their number."""
ROLES = ("number", "casting", "size", "date", "other")


@PAGE.get("/parts")
def everything(ask: Ask) -> Response:
    """The user's own parts; ``number`` in the address leads to one."""
    number = ask.query.get("number", "").strip()
    near: list[str] = []
    if number:
        try:
            ask.opened.part.look_up(number, ask.query.get("maker") or None)
            return ask.to(address(number, ask.query.get("maker", "")))
        except (NotFoundError, AmbiguousError) as error:
            near = [error.message, error.hint or ""]
    own = ask.opened.part.listed(most=SHOWN + 1)
    return ask.page(
        "parts",
        number=number,
        near=near,
        rows=own[:SHOWN],
        more=len(own) > SHOWN,
        kinds=KINDS,
        address=address,
    )


def address(number: str, maker: str = "") -> str:
    """Where the page of a part is: numbers have slashes, so they stand behind the ``?``."""
    asked = {"number": number, **({"maker": maker} if maker else {})}
    return f"/part?{urlencode(asked)}"


@PAGE.post("/parts")
def add(ask: Ask) -> Response:
    """Write a part of one's own down."""

    def write() -> str:
        sizes = {name: ask.sent(name) for name in ("bore", "outside", "width") if ask.sent(name)}
        made = ask.opened.part.add(
            ask.sent("number"),
            maker=ask.sent("maker"),
            kind=ask.sent("kind"),
            words=ask.sent("words"),
            sizes=sizes,
            source=ask.sent("source"),
        )
        return address(made.number, made.own_maker)

    return ask.once(write)


@PAGE.get("/part")
def one(ask: Ask) -> Response:
    """Everything that is known of one part; with ``machine``, whether it belongs there."""
    number, maker = ask.query.get("number", ""), ask.query.get("maker") or None
    machine = ask.query.get("machine", "")
    found = ask.opened.part.card(number, maker)
    known = [held.name for held in ask.opened.machine.every()]
    belongs = ask.opened.belongs(number, machine, maker=maker) if machine else None
    told = ask.opened.upkeep.history(number, maker, 10)
    part = found.part
    return ask.page(
        "part",
        drawings=list(_drawings(found, belongs.machine if belongs else None)),
        part=part,
        facts=list(card_facts(found)),
        cautions=found.cautions,
        sold=[held for held in found.traced.current if held.part.id != part.id],
        machines=known,
        machine=machine,
        verdict=belongs.verdict if belongs else None,
        grades=[(grade, TOLD[grade]) for grade in GRADES],
        statuses=STATUSES,
        roles=ROLES,
        history=[(item.action, plain_lines(item)) for item in told],
        address=address,
    )


def _drawings(found: Card, machine: Machine | None) -> Iterator[Drawing]:
    """The part to scale, its chain, and its ranges with the machine's serial; what there is."""
    part = found.part
    yield draw_part(subject_of(part), ident="part")
    if found.traced.later or found.traced.earlier:
        yield draw_chain(part.number, *chain_of(found.traced), ident="chain")
    panels, unread = panels_of([(part.number, entry) for entry in found.ranges], machine)
    if panels:
        yield draw_ranges(part.number, panels, unread, ident="ranges")


def _written(ask: Ask, do: Callable[[str, str], object]) -> Response:
    """Do one write about the part, by its number and maker, and go back to its page."""
    number, maker = ask.sent("number"), ask.sent("maker")

    def write() -> str:
        do(number, maker)
        return address(number, maker)

    return ask.once(write)


def _named(number: str, maker: str) -> str:
    return f"{maker}:{number}" if maker else number


@PAGE.post("/part/change")
def change(ask: Ask) -> Response:
    """Change the description and the status."""

    def do(number: str, maker: str) -> None:
        ask.opened.part.change(
            number,
            maker=maker or None,
            words=ask.sent("words") or None,
            status=ask.sent("status") or None,
        )

    return _written(ask, do)


@PAGE.post("/part/replaced")
def replaced(ask: Ask) -> Response:
    """Write down what takes its place."""
    news = [text.strip() for text in ask.sent("new").split(",") if text.strip()]
    if not news:
        raise InputError(ask.texts("parts.no_new"), ask.texts("parts.no_new_hint"))

    def do(number: str, maker: str) -> None:
        ask.opened.supersede.add(
            number,
            news,
            kind=ask.sent("kind") if len(news) > 1 else "",
            source=ask.sent("source"),
            maker=maker or None,
        )

    return _written(ask, do)


@PAGE.post("/part/serves")
def serves(ask: Ask) -> Response:
    """Write down another number that does the same job."""

    def do(number: str, maker: str) -> None:
        ask.opened.interchange.add(
            _named(number, maker),
            ask.sent("other"),
            grade=ask.sent("grade"),
            source=ask.sent("source"),
            note=ask.sent("note"),
        )

    return _written(ask, do)


@PAGE.post("/part/range")
def belongs_to(ask: Ask) -> Response:
    """Write down the serials that a book lists it for."""

    def do(number: str, maker: str) -> None:
        first, last, whole = ask.sent("first"), ask.sent("last"), ask.sent("serials")
        ask.opened.applies.add(
            number,
            model=ask.sent("model"),
            serials=whole or serials_from(first, last) if whole or first or last else "",
            fits=ask.sent("fits") != "no",
            assembly=ask.sent("assembly"),
            source=ask.sent("source"),
            maker=maker or None,
        )

    return _written(ask, do)


@PAGE.post("/part/mark")
def mark(ask: Ask) -> Response:
    """Write down what stands on the metal."""

    def do(number: str, maker: str) -> None:
        ask.opened.mark.add(
            number, ask.sent("text"), ask.sent("role"), maker or None, ask.sent("source")
        )

    return _written(ask, do)


@PAGE.post("/part/remove")
def remove(ask: Ask) -> Response:
    """Remove the part, with its links where that is ticked."""
    number, maker = ask.sent("number"), ask.sent("maker") or None

    def write() -> str:
        ask.opened.part.remove(number, maker, with_links=ask.sent("links") == "1")
        return "/parts"

    return ask.once(write)
