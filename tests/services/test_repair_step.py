"""A repair step explains only what it leaves within tolerance, wear and reading.

The steps are common practice, no published source; the bush's sizes are those of the test.
"""

from __future__ import annotations

import pytest

from xref.services.open import OpenStore
from xref.services.parts import part as parts

BUSH = {"outside": "1in", "width": "1-1/4in"}


def reasons(store: OpenStore, bore: str, measured: str) -> list[str]:
    """What is said of the bore of a bush of ``bore`` that measures ``measured``."""
    with store.store.writing("part add") as unit:
        parts.add(unit, "QF-1", kind="bush", words="bush", sizes={"bore": bore, **BUSH})
        unit.commit()
    answer = store.identify(size={"bore": measured, **BUSH}, kind="bush", limit=1000)
    return [
        e.reason
        for c in answer.candidates
        if c.part.number == "QF-1"
        for e in c.scored.evidence
        if e.about == "size: bore"
    ]


@pytest.mark.parametrize("measured", ["3/4in", "1-1/8in"])
def test_an_eighth_of_an_inch_is_no_repair_step(bare: OpenStore, measured: str) -> None:
    told = reasons(bare, "7/8in", measured)
    assert not any("repair step" in text for text in told)


def test_no_candidate_of_an_exact_bush_is_told_by_a_step_that_leaves_it_wide(
    bare: OpenStore,
) -> None:
    answer = bare.identify(size={"bore": "3/4in", **BUSH}, kind="bush", limit=200)
    bores = [
        c.part.sizes["bore"].value / 25_400_000
        for c in answer.candidates
        for e in c.scored.evidence
        if e.about == "size: bore" and "repair step" in e.reason
    ]
    assert all(abs(bore - 0.75) < 0.1 for bore in bores)


def test_a_step_that_explains_the_reading_is_still_named(bare: OpenStore) -> None:
    (told,) = reasons(bare, "7/8in", "0.835in")
    assert "0.040 in undersize: a usual repair step" in told
