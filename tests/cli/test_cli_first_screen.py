"""The first screen of an answer: what fits 24 lines of 80 columns, and how to see the rest."""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from xref.render.first_screen import first_screen
from xref.render.identify import identify_text
from xref.services.open import OpenStore, open_store

LINES, COLUMNS = 23, 80
"""The 24th line is the shell's next prompt."""
SIZES = st.dictionaries(
    st.sampled_from(["bore", "outside", "width", "thickness", "length", "pitch", "diameter"]),
    st.builds("{}{}".format, st.integers(2, 90), st.sampled_from(["mm", "", "/16in"])),
    min_size=1,
    max_size=4,
)
MARKS = st.one_of(
    st.none(),
    st.sampled_from(["6204", "6?04", "7206", "NU 2210 ECP", "QJ206", "SPB 1250", "30?0*"]),
)
KINDS = st.sampled_from(["", "bearing", "chain", "thread", "seal", "o-ring", "key", "bush"])


@pytest.fixture(scope="module")
def opened(seeded_path: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[OpenStore]:
    path = shutil.copy(seeded_path, tmp_path_factory.mktemp("screen") / "s.xref")
    with open_store(str(path)) as store:
        yield store


@given(mark=MARKS, size=SIZES, kind=KINDS)
@settings(max_examples=8)
def test_the_first_screen_fits_whatever_is_asked(
    opened: OpenStore, mark: str | None, size: dict[str, str], kind: str
) -> None:
    answer = opened.identify(mark=[mark] if mark else (), size=size, kind=kind)
    lines = first_screen(answer, COLUMNS).splitlines()
    assert len(lines) <= LINES
    assert max(map(len, lines)) <= COLUMNS


def test_the_first_screen_has_the_answer_a_check_a_caution_and_the_way_to_the_rest(
    opened: OpenStore,
) -> None:
    answer = opened.identify(size={"bore": "20mm", "outside": "47mm", "width": "14mm"})
    lines = first_screen(answer, COLUMNS).splitlines()
    assert lines[0].startswith("Several could be it")
    assert sum(bool(re.match(r" +[\d.]+ %  [A-Z0-9]+  ", line)) for line in lines) == 5
    assert any("--seen rings=" in line for line in lines)
    assert lines[-2].startswith("Odds are not")
    assert lines[-1].startswith("More: --why")
    assert "--all (3 candidates" in lines[-1]
    assert "L20" not in "\n".join(lines)
    assert "L20" in identify_text(answer, COLUMNS)


def test_an_answer_that_does_not_fit_a_line_of_its_own_is_named_all_the_same(
    opened: OpenStore,
) -> None:
    answer = opened.identify(size={"bore": "20mm", "outside": "47mm", "width": "14mm"})
    shown = first_screen(answer, COLUMNS)
    assert all(outcome.answer in shown for outcome in answer.next_check[0].outcomes)


def test_one_row_that_is_all_but_sure_is_not_called_several(opened: OpenStore) -> None:
    answer = opened.identify(kind="thread", size={"diameter": "12mm"}, mark=["M12x1.75"])
    best = answer.candidates[0]
    assert best.probability > 0.9
    told = first_screen(answer, COLUMNS).splitlines()[0]
    assert "Several" not in told
    assert best.part.number in told


def test_sizes_are_told_in_the_unit_that_was_typed(opened: OpenStore) -> None:
    """An inch standard's own size stands behind millimetres; checks are typed in inches too."""
    metric = opened.identify(kind="chain", size={"pitch": "12.71mm", "roller": "8.5mm"})
    assert "12.7 mm (1/2 in)" in identify_text(metric, COLUMNS)
    inches = opened.identify(kind="chain", size={"pitch": "0.5in"})
    sizes = [c for c in inches.next_check if c.key in ("roller", "inner-width", "pin")]
    assert sizes
    assert all(o.answer.endswith("in") for c in sizes for o in c.outcomes)
    asked = {sizes[0].key: sizes[0].outcomes[0].answer}
    assert opened.identify(kind="chain", size={"pitch": "0.5in"}, seen=asked).candidates


def test_a_worn_chain_is_told_in_per_cent_on_the_first_screen(opened: OpenStore) -> None:
    worn = opened.identify(kind="chain", size={"pitch": "129.9mm/10", "roller": "8.51mm"})
    assert "grown by 2.3 %" in " ".join(first_screen(worn, COLUMNS).split())
    new = opened.identify(kind="chain", size={"pitch": "127mm/10", "roller": "8.51mm"})
    assert "grown by" not in first_screen(new, COLUMNS)
