"""Supersession as a graph: what a number became, and what it took the place of.

Nodes are part ids. A step says that ``old`` is superseded by one number, by a set (all of them) or
by a choice (any of them). Nothing here recurses: a chain may have ten thousand steps.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from xref.domain.serial_range import EVERY_SERIAL, SerialSet

ONE, SET, CHOICE = "one", "set", "choice"
KINDS = (ONE, SET, CHOICE)


@dataclass(frozen=True, slots=True)
class Step:
    """One step. ``news`` are (part id, quantity that replaces one old part).

    ``companions`` must be changed together with it. ``serves_back``: the new may be fitted and the
    old still serves where the new is called for. ``condition`` is the serials for which the step
    holds, and ``as_found`` how they were written; ``source`` "" where none is named.
    """

    id: int
    old: int
    kind: str
    news: tuple[tuple[int, float], ...]
    companions: tuple[int, ...] = ()
    serves_back: bool = False
    model: int | None = None
    condition: SerialSet = EVERY_SERIAL
    dated: str = ""
    reason: str = ""
    source: str = ""
    as_found: str = field(default="", compare=False)


def backward(start: int, steps_to: Mapping[int, Sequence[Step]]) -> tuple[Step, ...]:
    """The steps that led to ``start``, nearest first; ``steps_to`` maps a new number to them."""
    seen = {start}
    ready = deque([start])
    found: dict[int, Step] = {}
    while ready:
        for step in steps_to.get(ready.popleft(), ()):
            found.setdefault(step.id, step)
            if step.old not in seen:
                seen.add(step.old)
                ready.append(step.old)
    return tuple(found.values())


def path_between(
    start: int, goal: int, steps: Mapping[int, Sequence[Step]]
) -> tuple[int, ...] | None:
    """The shortest way from ``start`` to ``goal`` along supersessions; None for none."""
    parent = {start: start}
    ready = deque([start])
    while ready:
        node = ready.popleft()
        if node == goal:
            path = [node]
            while path[-1] != start:
                path.append(parent[path[-1]])
            return tuple(reversed(path))
        for step in steps.get(node, ()):
            for new, _ in step.news:
                if new not in parent:
                    parent[new] = node
                    ready.append(new)
    return None
