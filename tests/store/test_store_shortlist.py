"""The shortlist lets the right number through whatever one fault the reading has."""

from __future__ import annotations

import random
from collections.abc import Callable

import pytest
from sqlalchemy import select

from xref.domain.mark import read_mark
from xref.services.parts import part as parts
from xref.store.index.cut import EQUALS
from xref.store.index.shortlist import MOST, nearest_spellings
from xref.store.open.engine import Store
from xref.store.tables.tables import spelling

Fault = Callable[[str, random.Random], str]
DRAWN = 60
LOOKS_LIKE = {"0": "O", "O": "0", "1": "I", "2": "Z", "5": "S", "6": "G", "8": "B", "B": "8"}


def faultless(text: str, _chance: random.Random) -> str:
    """The number as it stands."""
    return text


def illegible(text: str, chance: random.Random) -> str:
    """One character that cannot be read."""
    at = chance.randrange(len(text))
    return f"{text[:at]}?{text[at + 1 :]}"


def look_alikes(text: str, _chance: random.Random) -> str:
    """Every character that has a look-alike read as that."""
    return "".join(LOOKS_LIKE.get(c, c) for c in text)


def misread(text: str, chance: random.Random) -> str:
    """One character read as another that looks nothing like it."""
    at = chance.randrange(len(text))
    return text[:at] + ("X" if text[at] != "X" else "4") + text[at + 1 :]


def missing(text: str, chance: random.Random) -> str:
    """One character passed over."""
    at = chance.randrange(len(text))
    return text[:at] + text[at + 1 :]


def swapped(text: str, chance: random.Random) -> str:
    """Two neighbours the wrong way round."""
    at = chance.randrange(len(text) - 1)
    return text[:at] + text[at + 1] + text[at] + text[at + 2 :]


def end_gone(text: str, _chance: random.Random) -> str:
    """The last character and maybe more broken off."""
    return text[:-1] + "*"


def beginning_gone(text: str, _chance: random.Random) -> str:
    """The first character and maybe more broken off."""
    return "*" + text[1:]


def middle_gone(text: str, _chance: random.Random) -> str:
    """A stretch in the middle ground away."""
    return f"{text[:3]}*{text[-3:]}"


@pytest.mark.parametrize(
    "fault",
    [
        faultless,
        illegible,
        look_alikes,
        misread,
        missing,
        swapped,
        end_gone,
        beginning_gone,
        middle_gone,
    ],
    ids=lambda f: f.__name__,
)
def test_right_spelling_is_let_through(store: Store, fault: Fault) -> None:
    chance = random.Random(fault.__name__)
    with store.reading() as conn:
        rows = conn.execute(
            select(spelling.c.id, spelling.c.folded).where(spelling.c.weight >= 0.3)
        ).all()
        drawn = chance.sample([(i, text) for i, text in rows if len(text) >= 6], DRAWN)
        lost = []
        for _, text in drawn:
            seen = fault(text, chance)
            let = nearest_spellings(conn, [read_mark(seen)])
            same = set(conn.scalars(select(spelling.c.id).where(spelling.c.folded == text)))
            if not same & set(let):
                lost.append((text, seen))
    assert lost == []


@pytest.mark.parametrize("kept", [slice(1, None), slice(0, -1), slice(1, -1), slice(0, None)])
@pytest.mark.parametrize("read", ["CN23468R", "CN23468B", "GN23468R"])
def test_stretch_between_two_lost_ends_may_reach_an_end_of_the_number(
    store: Store, read: str, kept: slice
) -> None:
    with store.writing("add") as unit:
        parts.add(unit, "CN 23468 R")
        unit.commit()
    with store.reading() as conn:
        let = nearest_spellings(conn, [read_mark(f"*{read[kept]}*")])
        wanted = set(conn.scalars(select(spelling.c.id).where(spelling.c.folded == "CN23468R")))
    assert wanted & set(let)


@pytest.mark.parametrize("tail", ["2RS", "ZZ C3", "2R5", "LLU"])
def test_number_with_a_suffix_after_it_is_let_through(store: Store, tail: str) -> None:
    with store.reading() as conn:
        let = nearest_spellings(conn, [read_mark(f"62O4 {tail}")])
        wanted = set(conn.scalars(select(spelling.c.id).where(spelling.c.folded == "6204")))
    assert wanted & set(let)


@pytest.mark.parametrize("text", ["2", "2*", "*2*", "?2??", "QW*?*312"])
def test_reading_that_says_next_to_nothing_gives_a_bounded_list(store: Store, text: str) -> None:
    with store.reading() as conn:
        let = nearest_spellings(conn, [read_mark(text)])
    assert 0 < len(let) == len(set(let)) <= EQUALS * MOST + MOST
