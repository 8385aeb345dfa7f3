"""A store outlives whoever is killed while writing to it, with all that was committed."""

from __future__ import annotations

import pytest

from scripts.benches.trust import KINDS, Ground, kill

SEED = 312
KILLS = 3
"""Of each kind; ``scripts/bench trust`` kills two hundred times."""


@pytest.fixture(scope="module")
def ground(tmp_path_factory: pytest.TempPathFactory) -> Ground:
    return Ground(tmp_path_factory.mktemp("ground"))


@pytest.mark.xdist_group("killed")
@pytest.mark.parametrize("what", KINDS)
def test_store_is_sound_and_whole_after_every_kill(ground: Ground, what: str) -> None:
    found = kill(ground, what, KILLS, SEED)
    assert found.faults == []
    assert found.kills == KILLS
    assert found.states.total() == found.kills + found.too_late
    assert set(found.states) <= {"old", "new"}
