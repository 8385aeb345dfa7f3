"""Every way to replace a number: what all of a set takes, and what each of a choice would."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

MOST_IN_WAYS = 600
"""Numbers in all the ways of one number, beyond which the ways are not listed. Judged."""

Way = dict[int, float]
"""What replaces one of a number: ends with their quantities, all of them together."""


@dataclass(frozen=True, slots=True)
class Onward:
    """One step from a number: all of ``news`` (number, quantity), or with ``any_of`` any one."""

    any_of: bool
    news: tuple[tuple[int, float], ...]


def all_ways(ordered: Sequence[int], onward: Mapping[int, Sequence[Onward]]) -> list[Way]:
    """Every way to replace the first of ``ordered``; [] where they are more than MOST_IN_WAYS.

    ``ordered`` has each number before those it leads to. A number that is not in ``onward`` is an
    end; one whose steps lead nowhere only runs in a circle.
    """
    held: dict[int, list[Way]] = {}
    for node in reversed(ordered):
        if node not in onward:
            held[node] = [{node: 1.0}]
            continue
        found: dict[frozenset[tuple[int, float]], Way] = {}
        for step in onward[node]:
            more = _by_step(step, held)
            if more is None or sum(map(len, more)) > MOST_IN_WAYS:
                return []
            for way in more:
                found.setdefault(frozenset(way.items()), way)
        if sum(map(len, found)) > MOST_IN_WAYS:
            return []
        # a way that only runs in a circle is none where another leads out
        ways = list(found.values())
        held[node] = [way for way in ways if way] or ways
    return [way for way in held[ordered[0]] if way]


def _by_step(step: Onward, held: Mapping[int, list[Way]]) -> list[Way] | None:
    """The ways of one step; None where they are too many."""
    if len(step.news) == 1 and step.news[0][1] == 1:
        return held[step.news[0][0]]
    if step.any_of:
        return [_times(way, q) for new, q in step.news for way in held[new]] or [{}]
    ways: list[Way] = [{}]
    for new, quantity in step.news:
        if len(ways) * len(held[new]) > MOST_IN_WAYS:
            return None
        ways = [_plus(way, _times(more, quantity)) for way in ways for more in held[new]]
    return ways


def _times(way: Way, quantity: float) -> Way:
    return {end: held * quantity for end, held in way.items()}


def _plus(way: Way, more: Way) -> Way:
    total = dict(way)
    for end, quantity in more.items():
        total[end] = total.get(end, 0.0) + quantity
    return total
