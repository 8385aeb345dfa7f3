"""Whatever is on record of the user's own parts: an export of it makes the same store again."""

from __future__ import annotations

import contextlib
import shutil
import tempfile
from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import Any

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from xref.errors import InputError
from xref.services.links.applies import applies
from xref.services.links.interchange import GRADES, interchange
from xref.services.links.supersede import supersede
from xref.services.lists.export import export_file
from xref.services.open import OpenStore
from xref.services.parts import mark as marking
from xref.services.parts import part as parts
from xref.services.parts import source as sources
from xref.store.open.engine import Store, open_engine

pytestmark = pytest.mark.slow

Fact = tuple[str, dict[str, Any]]
"""A name in RECORD, and the words it is recorded with."""

NUMBER = st.sampled_from(
    ("QF-1", "QF-2", "Dunmarrow:QF-1", "QF 3 and 4", "QF;5", ":QF-1", ":6204", "QF-1 [same]")
)
SOURCE = st.sampled_from(("", "Whimbrel book", "Garganey book 2nd"))
TEXT = st.sampled_from(("", "", "worn early", "=1+1", "-5", "'x", "GBP"))
SERIALS = st.sampled_from(("", "QW350", "to QW499", "QW101-QW349 exc. QW230", "all", "7"))
MODEL = st.sampled_from(("Whimbrel", "Garganey", "Whimbrel; narrow"))
QUANTITY = st.sampled_from((1.0, 2.0, 0.5, 3.141592653589793))
NUMBERS = st.lists(NUMBER, max_size=3, unique=True)


def _facts(name: str, **words: st.SearchStrategy[Any]) -> st.SearchStrategy[Fact]:
    return st.tuples(st.just(name), st.fixed_dictionaries(words))


STEP = _facts(
    "step",
    old=NUMBER,
    news=NUMBERS,
    kind=st.sampled_from(("one", "set", "choice")),
    serves_back=st.booleans(),
    serials=SERIALS,
    model=st.one_of(st.just(""), MODEL),
    quantity=QUANTITY,
    companions=NUMBERS,
    source=SOURCE,
    date=TEXT,
    reason=TEXT,
)
SWAP = _facts(
    "swap",
    number=NUMBER,
    other=st.one_of(NUMBER, st.just("6304")),
    grade=st.sampled_from(GRADES),
    one_way=st.booleans(),
    source=SOURCE,
    note=TEXT,
)
RANGE = _facts(
    "range",
    number=NUMBER,
    model=MODEL,
    serials=SERIALS,
    fits=st.booleans(),
    component=st.sampled_from(("works", "engine")),
    assembly=TEXT,
    quantity=st.one_of(st.none(), QUANTITY),
    source=SOURCE,
    note=TEXT,
)
OWN = st.sampled_from(("Quillfeather", "Dunmarrow", ""))
MARK = _facts(
    "mark",
    maker=OWN,
    text=st.sampled_from(("QF22", "C-7", "-8", "A|B")),
    role=st.sampled_from(marking.ROLES),
    source=SOURCE,
)
STATUS = _facts("status", maker=OWN, status=st.sampled_from(parts.STATUSES), order_instead=TEXT)
FACTS = st.lists(st.one_of(STEP, SWAP, RANGE, MARK, STATUS), min_size=1, max_size=8)

RECORD: dict[str, Callable[..., object]] = {
    "step": partial(supersede, record_anyway=True),
    "swap": interchange,
    "range": applies,
    "mark": lambda unit, **words: marking.add(unit, "QF-1", **words),
    "status": lambda unit, **words: parts.change(unit, "QF-1", **words),
}


def _filled(store: Store, facts: list[Fact]) -> None:
    with store.writing("parts") as unit:
        sources.add(unit, "Whimbrel book", "", "", "")
        sources.add(unit, "Garganey book", "2nd", "parts book", "")
        parts.add(unit, "QF-1", maker="Quillfeather", source="Whimbrel book")
        parts.add(unit, "QF-1", maker="Dunmarrow")
        parts.add(unit, "QF-1")
        parts.add(unit, "6204")
        unit.commit()
    for what, words in facts:
        with contextlib.suppress(InputError), store.writing("fact") as unit:
            RECORD[what](unit, **words)
            unit.commit()


def _exported(store: Store, path: Path) -> int:
    with store.reading() as conn:
        return export_file(conn, path).rows


CYCLE: list[Fact] = [
    ("step", {"old": "QF-2", "news": [":QF-1"]}),
    ("step", {"old": ":QF-1", "news": ["QF-2"], "source": "Whimbrel book"}),
]
BOTH_WAYS: list[Fact] = [
    ("swap", {"number": "QF-2", "other": ":QF-1", "grade": "stated"}),
    ("swap", {"number": ":QF-1", "other": "QF-2", "grade": "stated", "note": "GBP"}),
    ("swap", {"number": "6304", "other": "QF-2", "grade": "tried-does-not-fit", "one_way": True}),
]


COMPANION_TWICE: list[Fact] = [
    ("step", {"old": ":QF-1", "news": ["QF-2"], "companions": ["QF-3", "QF 3"]})
]
LIKE_A_GRADE: list[Fact] = [("swap", {"number": "QF-2", "other": "QF-1 [same]", "grade": "stated"})]


@settings(max_examples=15)
@example(facts=CYCLE, ending="csv")
@example(facts=BOTH_WAYS, ending="xlsx")
@example(facts=LIKE_A_GRADE, ending="csv")
@example(facts=COMPANION_TWICE, ending="csv")
@given(facts=FACTS, ending=st.sampled_from(("csv", "xlsx")))
def test_an_export_makes_the_same_store_again(small: Path, facts: list[Fact], ending: str) -> None:
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        one = open_engine(shutil.copy(small, folder / "one.xref"))
        two = open_engine(shutil.copy(small, folder / "two.xref"))
        _filled(one, facts)
        out = folder / f"out.{ending}"
        rows = _exported(one, out)
        again = OpenStore(one).import_file(out)
        assert (again.read, again.unchanged) == (rows, rows)
        brought = OpenStore(two).import_file(out)
        assert (brought.read, brought.rejected) == (rows, 0)
        _exported(one, folder / "one.csv")
        _exported(two, folder / "two.csv")
        assert (folder / "two.csv").read_text("utf-8") == (folder / "one.csv").read_text("utf-8")
        one.close()
        two.close()
