"""Everything the store knows of parts of the user's own, gathered for an export or for show."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from sqlalchemy import Connection

from xref.domain.machine import Applicability
from xref.domain.part import Part, PartMark
from xref.services.links.named import NamedInterchange, NamedLinks, NamedStep
from xref.store.read.links import applicabilities
from xref.store.read.load import load_parts
from xref.store.read.sheet_links import mark_sources_of, orders_of
from xref.store.write.sheet_facts import (
    Claim,
    Extra,
    Price,
    claims_of,
    extras_of,
    prices_of,
    sources_of_parts,
)

CHUNK = 2_000
"""Parts that are gathered at once."""


@dataclass(frozen=True, slots=True)
class Facts:
    """One part and what hangs on it. ``mark_sources`` has the sources of marks that name one."""

    part: Part
    source: str
    extras: tuple[Extra, ...]
    claims: tuple[Claim, ...]
    prices: tuple[Price, ...]
    order_instead: str
    mark_sources: Mapping[PartMark, str]
    applies: tuple[Applicability, ...]
    steps: tuple[NamedStep, ...]
    interchanges: tuple[NamedInterchange, ...]


def facts_of(conn: Connection, ids: Sequence[int]) -> Iterator[Facts]:
    """The facts of the parts with these ids, in their order, a bounded number at a time.

    An interchange stands with the first of its two parts that is among them, and once.
    """
    places = {ident: at for at, ident in enumerate(ids)}
    for at in range(0, len(ids), CHUNK):
        yield from _chunk(conn, ids[at : at + CHUNK], places)


def _chunk(conn: Connection, ids: Sequence[int], places: Mapping[int, int]) -> Iterator[Facts]:
    parts = {p.id: p for p in load_parts(conn, ids)}
    sources = sources_of_parts(conn, ids)
    extras, claims, prices = extras_of(conn, ids), claims_of(conn, ids), prices_of(conn, ids)
    instead, marked = orders_of(conn, ids), mark_sources_of(conn, ids)
    applies: dict[int, list[Applicability]] = defaultdict(list)
    for entry in applicabilities(conn, ids):
        applies[entry.part_id].append(entry)
    links = NamedLinks(conn, ids, parts, places)
    for ident in ids:
        yield Facts(
            part=parts[ident],
            source=sources.get(ident, ""),
            extras=tuple(sorted(extras.get(ident, ()), key=lambda e: e.position)),
            claims=tuple(claims.get(ident, ())),
            prices=tuple(prices.get(ident, ())),
            order_instead=instead.get(ident, ""),
            mark_sources=marked.get(ident, {}),
            applies=tuple(applies.get(ident, ())),
            steps=tuple(links.steps(ident)),
            interchanges=tuple(links.interchanges(ident)),
        )
