"""What must hold of every identification, whatever is asked and whatever the store holds."""

from __future__ import annotations

import math
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from xref.domain.part import Part, Spelling, StoredSize
from xref.domain.weights import ORIGIN_STORE
from xref.render.identify import NEAR_TIE
from xref.services.identify.answer import Identified
from xref.services.open import OpenStore, open_store
from xref.standards.families import standard_parts
from xref.standards.lookup import find
from xref.standards.tolerance import bearing_limits

BEARINGS = [
    p
    for p in standard_parts()
    if p.type == "deep groove ball" and {"bore", "outside", "width"} <= set(p.sizes)
]
NAMES = ("bore", "outside", "width")


@pytest.fixture(scope="module")
def opened(seeded_path: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[OpenStore]:
    path = shutil.copy(seeded_path, tmp_path_factory.mktemp("property") / "p.xref")
    with open_store(str(path)) as store:
        yield store


def mm(part: Part, name: str) -> str:
    """The size as a part of usual make shows it: the middle of its tolerance (ISO 492)."""
    values = {held: size.value for held, size in part.sizes.items()}
    limits = bearing_limits(part.type, name, values)
    middle = (limits.lower + limits.upper) / 2 if limits else 0
    return f"{(values[name] + middle) / 1e6} mm"


def rank(answer: Identified, part: Part) -> float:
    """How many candidates stand clearly before the part; ∞ where it is not printed.

    Odds within a factor of NEAR_TIE are told as equal.
    """
    mine = [c.probability for c in answer.candidates if c.part.group == part.group]
    if not mine:
        return math.inf
    return sum(c.probability > mine[0] * NEAR_TIE for c in answer.candidates)


def holds_together(answer: Identified) -> None:
    given_ = math.fsum(c.probability for c in answer.candidates)
    assert given_ + answer.others_probability + answer.none_of_these == pytest.approx(1.0)
    for c in answer.candidates:
        bits = math.fsum(e.bits for e in c.scored.evidence)
        assert c.scored.start_bits + bits == pytest.approx(c.scored.total_bits)


@given(part=st.sampled_from(BEARINGS), known=st.permutations(NAMES), spelled=st.booleans())
@settings(max_examples=40)
def test_an_extra_agreeing_size_never_lowers_the_right_parts_rank(
    opened: OpenStore, part: Part, known: list[str], spelled: bool
) -> None:
    mark = [part.number] if spelled else []
    before = math.inf
    for count in range(1, 4):
        sizes = {name: mm(part, name) for name in known[:count]}
        answer = opened.identify(mark=mark, size=sizes, limit=300)
        holds_together(answer)
        now = rank(answer, part)
        assert now <= before
        before = now
    if part.tables_agreeing >= 2:
        # A part of one table alone stands behind those of its size that two tables agree on.
        assert before == 0


@given(
    mark=st.text("0123456789ABQF?*-", min_size=1, max_size=9).filter(
        lambda t: any(c.isalnum() for c in t)
    ),
    bore=st.one_of(st.none(), st.floats(1, 200)),
    kind=st.sampled_from(["", "bearing", "bush", "o-ring"]),
)
@settings(max_examples=60)
def test_odds_and_bits_add_up_for_anything_asked(
    opened: OpenStore, mark: str, bore: float | None, kind: str
) -> None:
    size = {} if bore is None else {"bore": f"{bore:.2f} mm"}
    holds_together(opened.identify(mark=[mark], size=size, kind=kind))


@pytest.mark.parametrize("copies", [1, 2, 5])
def test_duplicates_of_a_part_never_split_its_odds(
    seeded_path: Path, tmp_path: Path, copies: int
) -> None:
    twin = find("6304")[0]
    with open_store(str(shutil.copy(seeded_path, tmp_path / "d.xref"))) as store:
        ask = {"mark": ["6?04"], "size": {"bore": "20mm", "width": "15mm"}}
        alone = store.identify(**ask).candidates[0]  # type: ignore[arg-type]
        with store.store.writing("copies") as unit:
            for copy in range(copies):
                unit.add_part(
                    Part(
                        number=f"6304 {'ABCDE'[copy]}",
                        maker="Dunmarrow",
                        kind="bearing",
                        group=twin.group,
                        origin=ORIGIN_STORE,
                        weight=twin.weight,
                        type=twin.type,
                        sizes={"bore": StoredSize(20_000_000)},
                        spellings=(Spelling("6304"),),
                    )
                )
            unit.commit()
        answer = store.identify(**ask)  # type: ignore[arg-type]
    best = [c for c in answer.candidates if c.part.group == twin.group]
    assert len(best) == 1
    assert best[0].probability == pytest.approx(alone.probability, abs=0.01)
    assert best[0].scored.total_bits == pytest.approx(alone.scored.total_bits, abs=0.2)
    holds_together(answer)
