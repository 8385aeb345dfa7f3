"""Supersession: followed forward and back, and checked against a naive walk on seeded graphs."""

from __future__ import annotations

import random
from collections import defaultdict
from collections.abc import Iterable, Sequence

import pytest

from xref.domain.serial import read_serials
from xref.domain.supersession import CHOICE, ONE, SET, Step, backward, path_between
from xref.domain.trace import Found, Trace, forward
from xref.domain.ways import MOST_IN_WAYS

SEEDS = range(60)


def step(
    old: int,
    *news: int | tuple[int, float],
    kind: str = ONE,
    source: str = "",
    condition: str = "",
    ident: int = 0,
) -> Step:
    pairs = tuple(new if isinstance(new, tuple) else (new, 1.0) for new in news)
    return Step(ident, old, kind, pairs, condition=read_serials(condition), source=source)


def by_old(*steps: Step) -> dict[int, list[Step]]:
    found: dict[int, list[Step]] = defaultdict(list)
    for one in steps:
        found[one.old].append(one)
    return found


def ends(trace: Trace) -> dict[int, float]:
    return {end.node: end.quantity for end in trace.current}


def kinds(found: Iterable[Found]) -> list[str]:
    return [f.kind for f in found]


# -- a naive solver, written apart: it recurses, and lists every way outright ------------------

Way = frozenset[tuple[int, float]]


def naive_ways(node: int, steps: dict[int, list[Step]]) -> set[Way]:
    """Every way to replace ``node``, for a graph without cycles."""
    if not steps.get(node):
        return {frozenset({(node, 1.0)})}
    ways: set[Way] = set()
    for one in steps[node]:
        options = [[n] for n in one.news] if one.kind == CHOICE else [list(one.news)]
        for option in options:
            ways |= together([scaled(naive_ways(new, steps), q) for new, q in option])
    return ways


def scaled(ways: set[Way], by: float) -> set[Way]:
    return {frozenset((end, q * by) for end, q in way) for way in ways}


def together(parts: Sequence[set[Way]]) -> set[Way]:
    if not parts:
        return {frozenset()}
    found = set()
    for rest in together(parts[1:]):
        for way in parts[0]:
            total: dict[int, float] = defaultdict(float)
            for end, q in (*way, *rest):
                total[end] += q
            found.add(frozenset(total.items()))
    return found


def naive_reach(node: int, steps: dict[int, list[Step]], seen: set[int]) -> set[int]:
    seen.add(node)
    for one in steps.get(node, []):
        for new, _ in one.news:
            if new not in seen:
                naive_reach(new, steps, seen)
    return seen


def naive_cycle(start: int, steps: dict[int, list[Step]]) -> bool:
    return any(
        node in naive_reach(new, steps, set())
        for node in naive_reach(start, steps, set())
        for one in steps.get(node, [])
        for new, _ in one.news
    )


def graph(seed: int, cycles: bool) -> dict[int, list[Step]]:
    """Some thirteen numbers: single steps, sets and choices, forks and merges."""
    draw = random.Random(seed)
    count = draw.randint(3, 13)
    steps = []
    for old in range(count):
        later = [n for n in range(count) if n != old and (cycles or n > old)]
        for _ in range(draw.choice([0, 1, 1, 1, 2])):
            kind = draw.choice([ONE, ONE, SET, CHOICE])
            wanted = 1 if kind == ONE else draw.randint(1, 3)
            news = draw.sample(later, min(wanted, len(later)))
            if news:
                pairs = [(n, float(draw.choice([1, 1, 2, 3]))) for n in news]
                steps.append(step(old, *pairs, kind=kind, source=draw.choice(["", "A", "B"])))
    return by_old(*steps)


@pytest.mark.parametrize("seed", SEEDS)
def test_ways_and_ends_are_those_of_a_naive_walk(seed: int) -> None:
    steps = graph(seed, cycles=False)
    trace = forward(0, steps)
    meant = naive_ways(0, steps)
    assert {end.node for end in trace.current} == {end for way in meant for end, _ in way}
    if sum(map(len, meant)) <= MOST_IN_WAYS:
        assert {frozenset(way) for way in trace.ways} == meant
        for end in trace.current:
            holding = [q for way in meant for e, q in way if e == end.node]
            assert end.quantity in holding
            assert end.choice == (len({w for w in meant if end.node in dict(w)}) < len(meant))


@pytest.mark.parametrize("seed", SEEDS)
def test_cycles_are_found_where_a_naive_walk_finds_them(seed: int) -> None:
    steps = graph(seed, cycles=True)
    trace = forward(0, steps)
    reach = naive_reach(0, steps, set())
    assert {end.node for end in trace.current} == {n for n in reach if not steps.get(n)}
    assert ("cycle" in kinds(trace.findings)) == naive_cycle(0, steps)
    assert {id(s) for s in trace.steps} == {id(s) for n in reach for s in steps.get(n, [])}
    for found in trace.findings:
        if found.kind == "cycle":
            assert found.nodes[0] == found.nodes[-1]
            assert all(
                any(new == b for one in steps[a] for new, _ in one.news)
                for a, b in zip(found.nodes, found.nodes[1:], strict=False)
            )


@pytest.mark.parametrize("seed", SEEDS)
def test_backward_finds_every_step_that_leads_here(seed: int) -> None:
    steps = graph(seed, cycles=True)
    flat = [s for held in steps.values() for s in held]
    every = [Step(i, s.old, s.kind, s.news) for i, s in enumerate(flat)]
    forth = by_old(*every)
    to: dict[int, list[Step]] = defaultdict(list)
    for one in every:
        for new, _ in one.news:
            to[new].append(one)
    goal = max(to, default=0)
    meant = {
        one.id
        for one in every
        if any(goal in naive_reach(new, forth, set()) for new, _ in one.news)
    }
    assert {one.id for one in backward(goal, to)} == meant


@pytest.mark.parametrize("seed", SEEDS)
def test_a_path_is_found_exactly_where_one_leads(seed: int) -> None:
    steps = graph(seed, cycles=True)
    reach = naive_reach(0, steps, set())
    for goal in range(14):
        path = path_between(0, goal, steps)
        assert (path is not None) == (goal in reach)
        if path:
            assert (path[0], path[-1]) == (0, goal)


# -- single facts ------------------------------------------------------------------------------


def test_a_number_in_no_chain_is_its_own_end() -> None:
    trace = forward(7, {})
    assert ends(trace) == {7: 1.0}
    assert trace.findings == ()
    assert trace.ways == (((7, 1.0),),)


def test_quantities_multiply_along_a_way_and_add_where_ways_of_a_set_meet() -> None:
    steps = by_old(step(1, (2, 2.0), (3, 1.0), kind=SET), step(2, (4, 3.0)), step(3, (4, 5.0)))
    assert ends(forward(1, steps)) == {4: 11.0}
    assert forward(1, steps).current[0].choice is False


def test_where_both_ways_of_a_choice_meet_their_quantities_do_not_add() -> None:
    steps = by_old(step(1, 2, 3, kind=CHOICE), step(2, 4), step(3, 4))
    trace = forward(1, steps)
    assert ends(trace) == {4: 1.0}
    assert trace.current[0].choice is False


def test_a_choice_between_a_set_and_one_number_gives_two_ways() -> None:
    steps = by_old(step(1, 2, 5, kind=CHOICE), step(2, 3, 4, kind=SET))
    trace = forward(1, steps)
    assert trace.ways == (((3, 1.0), (4, 1.0)), ((5, 1.0),))
    assert all(end.choice for end in trace.current)


def test_a_set_with_a_choice_in_it_keeps_what_is_certain_certain() -> None:
    steps = by_old(step(1, 2, 3, kind=SET), step(3, 4, 5, kind=CHOICE))
    choice = {end.node: end.choice for end in forward(1, steps).current}
    assert choice == {2: False, 4: True, 5: True}


def test_two_sources_that_say_the_same_set_are_no_choice_and_do_not_double_it() -> None:
    steps = by_old(
        step(1, (2, 2.0), 3, kind=SET, source="A"), step(1, 3, (2, 2.0), kind=SET, source="B")
    )
    trace = forward(1, steps)
    assert ends(trace) == {2: 2.0, 3: 1.0}
    assert not any(end.choice for end in trace.current)
    assert trace.findings == ()


@pytest.mark.parametrize(
    ("first", "second", "found"),
    [
        (step(1, 2, source="A"), step(1, 3, source="B"), ["conflict"]),
        (step(1, 2, source="A"), step(1, 3, source="A"), ["fork"]),
        (step(1, 2, source="A"), step(1, 2, source="B"), []),
        (step(1, 2, 3, kind=SET, source="A"), step(1, 2, 3, kind=CHOICE, source="B"), ["conflict"]),
        (step(1, (2, 2.0), source="A"), step(1, 2, source="B"), ["conflict"]),
        (
            step(1, 2, source="A", condition="to QW349"),
            step(1, 3, source="B", condition="QW350-up"),
            ["fork"],
        ),
    ],
    ids=["two sources", "one source twice", "same step", "set or choice", "how many", "by serial"],
)
def test_forks_and_conflicts_are_told_apart(first: Step, second: Step, found: list[str]) -> None:
    assert kinds(forward(1, by_old(first, second)).findings) == found


def test_a_choice_recorded_as_one_is_no_fork() -> None:
    assert forward(1, by_old(step(1, 2, 3, kind=CHOICE))).findings == ()


def test_a_step_that_is_not_allowed_is_not_taken() -> None:
    steps = by_old(step(1, 2, condition="QW350-up"), step(1, 3, condition="to QW349"))
    assert ends(forward(1, steps, lambda s: str(s.condition) == "to QW349")) == {3: 1.0}
    assert ends(forward(1, steps, lambda _: False)) == {1: 1.0}


def test_a_cycle_with_a_way_out_leads_out() -> None:
    steps = by_old(step(1, 2), step(2, 1, 3, kind=CHOICE))
    trace = forward(1, steps)
    assert ends(trace) == {3: 1.0}
    assert trace.findings == (Found("cycle", (1, 2, 1)),)


def test_a_cycle_without_a_way_out_has_no_end() -> None:
    trace = forward(1, by_old(step(1, 2), step(2, 3), step(3, 2)))
    assert trace.current == ()
    assert trace.ways == ()
    assert trace.findings == (Found("cycle", (2, 3, 2)),)


def test_ten_thousand_steps_are_followed_both_ways() -> None:
    steps = by_old(*(step(n, n + 1, ident=n) for n in range(10_000)))
    to = {n + 1: [held] for n, (held,) in steps.items()}
    trace = forward(0, steps)
    assert ends(trace) == {10_000: 1.0}
    assert len(trace.current[0].via) == 10_001
    assert len(backward(10_000, to)) == 10_000
    assert path_between(0, 10_000, steps) == tuple(range(10_001))


@pytest.mark.parametrize(("kind", "ways"), [(SET, 1), (CHOICE, 200)])
def test_two_hundred_at_once_are_all_there(kind: str, ways: int) -> None:
    trace = forward(0, by_old(step(0, *range(1, 201), kind=kind)))
    assert ends(trace) == dict.fromkeys(range(1, 201), 1.0)
    assert len(trace.ways) == ways
    assert all(end.choice == (kind == CHOICE) for end in trace.current)


def test_too_many_ways_are_not_listed_and_every_end_is_still_there() -> None:
    steps = by_old(
        *(step(n, 100 + n, 200 + n, n + 1, kind=CHOICE) for n in range(90)),
        step(90, *range(500, 600), kind=SET),
    )
    many = by_old(step(-1, *range(30), kind=SET))
    trace = forward(-1, {**steps, **many})
    assert trace.ways == ()
    assert len(trace.current) == 280
    assert all(end.choice for end in trace.current)
