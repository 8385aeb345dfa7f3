"""Everything the store knows of parts of the user's own, gathered for an export or for show."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from sqlalchemy import Connection

from xref.domain.machine import Applicability
from xref.domain.part import Part
from xref.domain.supersession import Step
from xref.store.links import applicabilities, interchanges, steps_forward
from xref.store.load import load_parts, pieces
from xref.store.sheet_facts import (
    Claim,
    Extra,
    Price,
    claims_of,
    extras_of,
    prices_of,
    sources_of_parts,
)


@dataclass(frozen=True, slots=True)
class Noted:
    """What spreadsheets say of a part beyond its record."""

    extras: tuple[Extra, ...]
    claims: tuple[Claim, ...]
    prices: tuple[Price, ...]


def noted_of(conn: Connection, part_id: int) -> Noted:
    """What is noted of one part."""
    ids = [part_id]
    return Noted(
        tuple(sorted(extras_of(conn, ids).get(part_id, ()), key=lambda e: e.position)),
        tuple(claims_of(conn, ids).get(part_id, ())),
        tuple(prices_of(conn, ids).get(part_id, ())),
    )


def noted_to_json(noted: Noted) -> dict[str, list[dict[str, object]]]:
    """The same as a piece of the part's JSON document."""
    return {
        "extras": [{"label": e.label, "value": e.value} for e in noted.extras],
        "claims": [c._asdict() for c in noted.claims],
        "prices": [p._asdict() for p in noted.prices],
    }


@dataclass(frozen=True, slots=True)
class NamedStep:
    """A supersession of a part by the numbers that follow it. ``partial``: it holds for some
    serials only, or says more than a list's columns can."""

    kind: str
    news: tuple[str, ...]
    partial: bool
    source: str


@dataclass(frozen=True, slots=True)
class NamedInterchange:
    """An interchange of a part with the one named ``number``."""

    number: str
    grade: str
    both_ways: bool
    source: str


@dataclass(frozen=True, slots=True)
class Facts:
    """One part and what hangs on it."""

    part: Part
    source: str
    extras: tuple[Extra, ...]
    claims: tuple[Claim, ...]
    prices: tuple[Price, ...]
    applies: tuple[Applicability, ...] = ()
    steps: tuple[NamedStep, ...] = ()
    interchanges: tuple[NamedInterchange, ...] = ()


def facts_of(conn: Connection, ids: Sequence[int]) -> Iterator[Facts]:
    """The facts of the parts with these ids, in their order."""
    parts = {p.id: p for p in load_parts(conn, ids)}
    sources = sources_of_parts(conn, ids)
    extras, claims, prices = extras_of(conn, ids), claims_of(conn, ids), prices_of(conn, ids)
    applies: dict[int, list[Applicability]] = defaultdict(list)
    for entry in applicabilities(conn, ids):
        applies[entry.part_id].append(entry)
    links = _Links(conn, ids, parts)
    for ident in ids:
        yield Facts(
            parts[ident],
            sources.get(ident, ""),
            tuple(sorted(extras.get(ident, ()), key=lambda e: e.position)),
            tuple(claims.get(ident, ())),
            tuple(prices.get(ident, ())),
            tuple(applies.get(ident, ())),
            tuple(links.steps(ident)),
            tuple(links.interchanges(ident)),
        )


class _Links:
    """The links of some parts, with the numbers of those they lead to."""

    def __init__(self, conn: Connection, ids: Sequence[int], own: dict[int, Part]) -> None:
        self._own = own
        self._steps: dict[int, list[Step]] = {}
        for some in pieces(ids):
            self._steps.update(steps_forward(conn, some))
        self._rows = [row for row in interchanges(conn, ids) if row.part_id in own]
        wanted = {new for i in ids for step in self._steps.get(i, ()) for new, _ in step.news}
        wanted |= {row.other_id for row in self._rows}
        self._named = {p.id: p for p in load_parts(conn, list(wanted - own.keys()))} | own

    def steps(self, ident: int) -> Iterator[NamedStep]:
        for step in self._steps.get(ident, ()):
            partial = bool(
                step.condition or step.companions or step.serves_back or step.model
                or step.dated or step.reason or any(count != 1 for _, count in step.news)
            )  # fmt: skip
            news = tuple(self._address(ident, new) for new, _ in step.news)
            yield NamedStep(step.kind, news, partial, step.source)

    def interchanges(self, ident: int) -> Iterator[NamedInterchange]:
        for row in self._rows:
            if row.part_id == ident:
                number = self._address(ident, row.other_id)
                yield NamedInterchange(number, row.grade, row.both_ways, row.source)

    def _address(self, ident: int, other: int) -> str:
        """The number, with its maker where that is another than the part's own."""
        one, two = self._own[ident], self._named[other]
        return f"{two.maker}:{two.number}" if two.maker != one.maker and two.maker else two.number
