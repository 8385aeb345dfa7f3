"""Cautions as they travel: what replaces a brake part, or serves for one, is a brake part."""

from __future__ import annotations

from collections import defaultdict, deque
from collections.abc import Iterable, Iterator, Mapping, Sequence

from sqlalchemy import Connection

from xref.domain.part import Part
from xref.services.parts.cautions import caution_text, dangers, each_once, never_by_size
from xref.store.read.neighbours import (
    REPLACES,
    SAME,
    SERVES,
    Described,
    Link,
    any_links,
    described,
    links_beside,
    twins,
)

MOST_LEVELS = 60
"""Links in a row that are followed. Judged: longer chains are mistakes in a list."""
MOST_PARTS = 20_000
MOST_BESIDE = 500
"""Parts that are looked at for one question, and for one part of it. Judged."""

BACK, AHEAD = "replaced", "replacing"

Graph = Mapping[int, Sequence[tuple[int, str]]]
"""Of each part the others beside it, each with how: BACK for one that it replaces, AHEAD for one
that replaces it, SERVES for interchange, SAME for another record of it."""


def cautions_of(conn: Connection, parts: Sequence[Part]) -> list[tuple[str, ...]]:
    """What to mind with each of ``parts``: by its own words, and by what it stands in for.

    A caution from elsewhere says because of which part. It travels along supersession and
    interchange both ways, but not forward and back again: that two parts were replaced by one
    plain bolt says nothing of either. It does not travel on through a standard's row, which
    serves everywhere.
    """
    graph, known = _surroundings(conn, [part.id for part in parts if part.id])
    return [_minded(part, graph, known) for part in parts]


def every_caution(conn: Connection, parts: Iterable[Part]) -> tuple[str, ...]:
    """The cautions of several parts that are named together, each once: because of the first."""
    told = cautions_of(conn, list(parts))
    return each_once(text for texts in told for text in texts)


def never_by_size_of(conn: Connection, parts: Sequence[Part]) -> list[bool]:
    """Whether each of ``parts``, or what it stands in for, must not be chosen by its size."""
    graph, known = _surroundings(conn, [part.id for part in parts if part.id])
    return [
        never_by_size(part.words)
        or any(never_by_size(known[i].words) for i, _ in _reached(part.id, graph, known))
        for part in parts
    ]


def _minded(part: Part, graph: Graph, known: Mapping[int, Described]) -> tuple[str, ...]:
    told = {name: caution_text(name) for name in dangers(part.words, part.kind)}
    for ident, ways in _reached(part.id, graph, known):
        other = known[ident]
        kind = "" if part.kind else other.kind
        for name in dangers(other.words, kind):
            if name not in told:
                told[name] = f"{caution_text(name)} {_because(other, ways)}"
    return tuple(told.values())


def _because(other: Described, ways: frozenset[str]) -> str:
    """Why a caution of ``other`` holds: "Because it replaces QF-1108, bush, brake shaft."."""
    what = f"{other.number}, {other.words}" if other.words else other.number
    if ways <= {BACK}:
        return f"Because it replaces {what}."
    if ways <= {AHEAD}:
        return f"Because it is replaced by {what}."
    if ways <= {SAME}:
        return f"Because it is the same as {what}."
    if ways <= {SERVES, SAME}:
        return f"Because it interchanges with {what}."
    return f"Because it stands for {what}, by supersession and interchange."


def _reached(
    start: int, graph: Graph, known: Mapping[int, Described]
) -> Iterator[tuple[int, frozenset[str]]]:
    """Every part whose cautions hold for ``start``, nearest first, with the ways that led there."""
    seen = {(start, "")}
    told = {start}
    ready: deque[tuple[int, str, frozenset[str]]] = deque([(start, "", frozenset())])
    while ready and len(seen) < MOST_BESIDE:
        here, direction, ways = ready.popleft()
        if here != start and known[here].is_standard:
            continue
        for other, how in graph.get(here, ()):
            turned = {BACK, AHEAD} == {direction, how}
            towards = how if how in (BACK, AHEAD) else direction
            if turned or other not in known or (other, towards) in seen:
                continue
            seen.add((other, towards))
            ready.append((other, towards, ways | {how}))
            if other not in told:
                told.add(other)
                yield other, ways | {how}


def _surroundings(conn: Connection, ids: Sequence[int]) -> tuple[Graph, dict[int, Described]]:
    """All that stands beside these parts, however far within the bounds, read a level at a time."""
    graph: dict[int, dict[tuple[int, str], None]] = defaultdict(dict)
    known: dict[int, Described] = {}
    start = list(dict.fromkeys(ids))
    chained = any_links(conn)
    level = start
    for depth in range(MOST_LEVELS):
        links = [*(twins(conn, level) if not depth else ()), *_links(conn, level, chained)]
        for link in links:
            ahead, back = (AHEAD, BACK) if link.what == REPLACES else (link.what, link.what)
            graph[link.part_id][link.other_id, back] = None
            graph[link.other_id][link.part_id, ahead] = None
        beside = {i for link in links for i in (link.part_id, link.other_id)}
        new = sorted(beside.difference(known, start))
        known |= described(conn, new)
        level = [i for i in new if i in known and not known[i].is_standard]
        if not level or len(known) > MOST_PARTS:
            break
    known |= described(conn, start) if graph else {}
    return {ident: list(beside) for ident, beside in graph.items()}, known


def _links(conn: Connection, ids: Sequence[int], chained: bool) -> Sequence[Link]:
    return links_beside(conn, ids) if chained and ids else []
