"""Stores for the services' tests: with the invented scenario in them, or the tables only."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from xref.services.open import OpenStore, open_store


@pytest.fixture
def bare(seeded_path: Path, tmp_path: Path) -> Iterator[OpenStore]:
    """An open store of this test's own, with the tables only."""
    path = tmp_path / "bare.xref"
    shutil.copy(seeded_path, path)
    with open_store(str(path)) as opened:
        yield opened


@pytest.fixture
def whimbrel(scenario_path: Path, tmp_path: Path) -> Iterator[OpenStore]:
    """An open store of this test's own, with the scenario in it."""
    path = tmp_path / "whimbrel.xref"
    shutil.copy(scenario_path, path)
    with open_store(str(path)) as opened:
        yield opened
