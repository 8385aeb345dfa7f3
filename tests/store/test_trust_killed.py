"""A store outlives whoever is killed while writing to it, with all that was committed."""

from __future__ import annotations

from pathlib import Path

import pytest

from scripts.benches.trust import KINDS, Ground, kill
from scripts.benches.victim import few_standards

pytestmark = pytest.mark.slow

SEED = 312
ROWS = 300
KILLS = 5
"""Of each kind; ``scripts/bench trust`` kills two hundred times, with all the standards' rows."""


@pytest.fixture(scope="module")
def ground(small: Path, tmp_path_factory: pytest.TempPathFactory) -> Ground:
    return Ground(tmp_path_factory.mktemp("ground"), ROWS, small)


@pytest.mark.xdist_group("killed")
@pytest.mark.parametrize("what", KINDS)
def test_store_is_sound_and_whole_after_every_kill(
    ground: Ground, what: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("xref.store.open.seed.standard_parts", few_standards)
    found = kill(ground, what, KILLS, SEED)
    assert found.faults == []
    assert found.kills == found.drawn.total() == found.states.total() == KILLS
    assert found.drawn["in"] > 0
    assert set(found.states) <= {"old", "new"}
