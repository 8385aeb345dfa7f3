"""The scan finds what a plain table of the edit distance finds, one spelling at a time."""

from __future__ import annotations

from collections import defaultdict
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from xref.domain.mark import read_mark
from xref.domain.number import skeleton
from xref.store.index.match import SHORTEST_BASE, WORN, Scan, planes_for, signs_of
from xref.store.index.planes import lay_out, slots

FAR = 99
MOST = 3


def scan_of(texts: list[str], mark: str, takes_suffix: bool = False) -> Scan:
    """A scan of these texts up to a cost of MOST, with no plane but those it said it needs."""
    signs = signs_of(read_mark(mark))
    laid_out = dict(lay_out(enumerate(texts)))
    planes = {code: laid_out.get(code, 0) for code in planes_for(signs, MOST)}
    scan = Scan(signs, planes, takes_suffix)
    for _ in range(MOST + 1):
        scan.one_more()
    return scan


def cost_by_hand(mark: str, text: str) -> int:
    """The same cost by plain recursion over one text."""
    signs = signs_of(read_mark(mark))
    bones = skeleton(text)

    @cache
    def rest(j: int, i: int) -> int:
        if j == len(signs):
            left = len(bones) - i
            return 0 if left == 0 else 1 if left <= WORN else 1 + rest(j, i + 1)
        sign = signs[j]
        if sign is None:
            return min(rest(j + 1, at) for at in range(i, len(bones) + 1))
        ways = [rest(j + 1, i) + 2]
        if i < len(bones):
            right = not sign or bones[i] in sign
            # Before the first sign nothing is passed over: that is a worn end.
            ways += [rest(j + 1, i + 1) + (0 if right else 2), (rest(j, i + 1) if j else FAR) + 1]
            after = signs[j + 1] if j + 1 < len(signs) else None
            if after is not None and i + 1 < len(bones):
                crossed = (not sign or bones[i + 1] in sign) and (not after or bones[i] in after)
                ways += [rest(j + 2, i + 2) + 1] if crossed else []
        return min(ways)

    starts = [rest(0, 0)] + [1 + rest(0, at) for at in range(1, min(WORN, len(bones)) + 1)]
    return min(starts)


MARKS = [
    "6204",
    "62?4",
    "6[23]04",
    "QF2214",
    "2240*",
    "*204",
    "62*4",
    "*20*",
    "QF*2*14",
    "620",
    "WB11",
]
TEXTS = st.lists(st.text("0246QF", min_size=1, max_size=8), min_size=1, max_size=12)


@pytest.mark.parametrize("mark", MARKS)
@given(texts=TEXTS)
@settings(max_examples=40)
def test_every_text_is_found_at_its_cost_and_not_before(mark: str, texts: list[str]) -> None:
    scan = scan_of(texts, mark)
    found: dict[int, set[int]] = defaultdict(set)
    for cost, hits in enumerate(scan.hits):
        found[cost] = set(slots(hits))
    for cost in range(MOST + 1):
        by_hand = {at for at, text in enumerate(texts) if cost_by_hand(mark, text) <= cost}
        assert found[cost] == by_hand


@pytest.mark.parametrize(
    ("mark", "text", "cost"),
    [
        ("6204", "6204", 0),
        ("62O4", "6204", 0),
        ("62?4", "6204", 0),
        ("6[29]04", "6204", 0),
        ("6*4", "6204", 0),
        ("604", "6204", 1),
        ("6024", "6204", 1),
        ("62047", "6204", 2),
        ("6704", "6204", 2),
        ("56905", "BW56905L", 2),
        ("WB11", "BW11134", 2),
    ],
)
def test_faults_cost_what_they_are_said_to(mark: str, text: str, cost: int) -> None:
    hits = scan_of([text], mark).hits
    assert [bool(hit) for hit in hits] == [at >= cost for at in range(MOST + 1)]


def test_designation_before_a_suffix_is_found_by_as_many_signs_as_it_has() -> None:
    scan = scan_of(["6204", "620", "62042RS"], "6204 2RS", takes_suffix=True)
    exact = scan.tails[0]
    assert [list(slots(hits)) for hits in exact] == [[1], [0], [], []]
    assert SHORTEST_BASE == 3


def test_spelling_that_takes_no_suffix_is_not_found_before_one() -> None:
    assert scan_of(["6204"], "6204 2RS").tails == []


def test_long_names_are_found_beyond_what_is_laid_out() -> None:
    name = "BOLTHEADANDNUT516BSWLARGEHEXAGON"
    hits = scan_of([name, name[:-1] + "X"], name).hits
    assert list(slots(hits[0])) == [0, 1]
