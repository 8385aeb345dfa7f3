"""Follow a number along its supersessions to what is sold now, and say what is odd on the way."""

from __future__ import annotations

from collections import defaultdict, deque
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from xref.domain.supersession import CHOICE, ONE, Step
from xref.domain.ways import Onward, Way, all_ways

MOST_CYCLES = 20
"""Cycles of one chain that are shown. Judged."""


@dataclass(frozen=True, slots=True)
class Found:
    """Something the chain itself is asking about. ``nodes`` name the parts it concerns."""

    kind: str
    nodes: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Current:
    """An end of the chain: ``quantity`` of it replace one of the first number.

    ``via`` is one way there, first number first. ``choice`` is true where another end would do
    instead; the quantity is then that of the first way it stands in.
    """

    node: int
    quantity: float
    via: tuple[int, ...]
    choice: bool


@dataclass(frozen=True, slots=True)
class Trace:
    """Where a number leads: its ends, the steps taken in order, and the findings.

    ``ways``: each by itself replaces the first number, and holds (end, quantity) of all that it
    takes; one way where there is no choice, () where there are too many to list.
    """

    current: tuple[Current, ...]
    steps: tuple[Step, ...]
    findings: tuple[Found, ...]
    ways: tuple[tuple[tuple[int, float], ...], ...] = ()


@dataclass
class _Walk:
    order: list[int] = field(default_factory=list)
    parent: dict[int, int] = field(default_factory=dict)
    taken: dict[int, tuple[Step, ...]] = field(default_factory=dict)
    cycles: list[tuple[int, ...]] = field(default_factory=list)
    back: set[tuple[int, int]] = field(default_factory=set)


Allows = Callable[[Step], bool]


def everything(step: Step) -> bool:  # noqa: ARG001 (a rule that looks at nothing)
    """The rule that leaves no step out."""
    return True


def forward(start: int, steps: Mapping[int, Sequence[Step]], allows: Allows = everything) -> Trace:
    """Follow ``start`` to what is sold now.

    ``steps`` maps an old number to its steps; ``allows`` leaves out steps that do not hold for
    the machine at hand. Ends are in the order they are met; a cycle has no end of its own and is a
    finding.
    """
    walk = _walk(start, steps, allows)
    ordered = _topological(walk, start)
    ends = [node for node in ordered if not walk.taken[node]]
    if any(_options(walk, node) > 1 for node in ordered):
        ways = all_ways(ordered, {n: _onward(walk, n) for n in ordered if walk.taken[n]})
    else:
        sums = _sums(walk, ordered)
        ways = [{end: sums[end] for end in ends}] if ends else []
    current = tuple(_current(walk, start, end, ways) for end in ends)
    taken = tuple(step for node in walk.order for step in walk.taken[node])
    listed = tuple(tuple(way.items()) for way in ways)
    return Trace(current, taken, tuple(_findings(walk)), listed)


def _current(walk: _Walk, start: int, end: int, ways: Sequence[Way]) -> Current:
    path = _path(walk, start, end)
    holding = [way for way in ways if end in way]
    quantity = holding[0][end] if holding else _along(walk, path)
    return Current(end, quantity, path, len(holding) < len(ways) or not ways)


def _along(walk: _Walk, path: Sequence[int]) -> float:
    quantity = 1.0
    for node, new in pairwise(path):
        quantity *= next(q for step in walk.taken[node] for n, q in step.news if n == new)
    return quantity


def _different(steps: Sequence[Step]) -> list[Step]:
    """``steps`` less those that say again what another says."""
    return list({_says(step): step for step in reversed(steps)}.values())[::-1]


def _says(step: Step) -> tuple[str, tuple[tuple[int, float], ...]]:
    """What a step says; one new number is the same by whatever word it is called."""
    return (step.kind if len(step.news) > 1 else ONE, tuple(sorted(step.news)))


def _options(walk: _Walk, node: int) -> int:
    """How many ways a number goes on: each step is one, and a choice is one for each number."""
    return sum(len(s.news) if s.kind == CHOICE else 1 for s in _different(walk.taken[node]))


def _sums(walk: _Walk, ordered: Sequence[int]) -> dict[int, float]:
    """How many of each replace one of the first, where nothing is a choice."""
    quantities: dict[int, float] = defaultdict(float)
    quantities[ordered[0]] = 1.0
    for node in ordered:
        for step in _different(walk.taken[node]):
            for new, quantity in step.news:
                if (node, new) not in walk.back:
                    quantities[new] += quantities[node] * quantity
    return quantities


def _onward(walk: _Walk, node: int) -> list[Onward]:
    """The steps from a number without those that close a cycle."""
    return [
        Onward(
            step.kind == CHOICE,
            tuple((new, q) for new, q in step.news if (node, new) not in walk.back),
        )
        for step in _different(walk.taken[node])
    ]


def _walk(start: int, steps: Mapping[int, Sequence[Step]], allows: Allows) -> _Walk:
    """Depth first without recursion; an edge to a number still open closes a cycle."""
    walk = _Walk()
    open_now: dict[int, None] = {}
    closed: set[int] = set()
    stack: list[tuple[int, bool]] = [(start, False)]
    while stack:
        node, done = stack.pop()
        if done:
            open_now.pop(node)
            closed.add(node)
            continue
        if node in closed or node in open_now:
            continue
        open_now[node] = None
        walk.order.append(node)
        walk.taken[node] = tuple(s for s in steps.get(node, ()) if allows(s))
        stack.append((node, True))
        for step in reversed(walk.taken[node]):
            for new, _ in reversed(step.news):
                if new in open_now:
                    walk.back.add((node, new))
                    if len(walk.cycles) < MOST_CYCLES:
                        walk.cycles.append(_cycle(walk, node, new))
                elif new not in closed:
                    walk.parent[new] = node
                    stack.append((new, False))
    return walk


def _cycle(walk: _Walk, node: int, back_to: int) -> tuple[int, ...]:
    path = [node]
    while path[-1] != back_to:
        path.append(walk.parent[path[-1]])
    return (*reversed(path), back_to)


def _topological(walk: _Walk, start: int) -> list[int]:
    """Every number before those it leads to; the edges that close cycles are left out."""
    into: dict[int, int] = dict.fromkeys(walk.order, 0)
    for node in walk.order:
        for new in _targets(walk, node):
            into[new] += 1
    ready = deque([start])
    ordered = []
    while ready:
        node = ready.popleft()
        ordered.append(node)
        for new in _targets(walk, node):
            into[new] -= 1
            if into[new] == 0:
                ready.append(new)
    return ordered


def _targets(walk: _Walk, node: int) -> list[int]:
    return [
        new for step in walk.taken[node] for new, _ in step.news if (node, new) not in walk.back
    ]


def _path(walk: _Walk, start: int, node: int) -> tuple[int, ...]:
    path = [node]
    while path[-1] != start:
        path.append(walk.parent[path[-1]])
    return tuple(reversed(path))


def _findings(walk: _Walk) -> Iterable[Found]:
    for cycle in walk.cycles:
        yield Found("cycle", cycle)
    for node in walk.order:
        out = walk.taken[node]
        if len(out) < 2:
            continue
        news = tuple(dict.fromkeys(new for step in out for new, _ in step.news))
        if len(_different(out)) == 1:
            continue
        apart = len({step.condition for step in out if not step.condition.every}) == len(out)
        disagree = len({step.source for step in out}) > 1 and not apart
        yield Found("conflict" if disagree else "fork", (node, *news))
