"""Real store files: one seeded with every standard's row, copied for each test; and small ones."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from xref.domain.part import Part
from xref.store.open.engine import Store, open_engine

Tables = Callable[[list[Part], str], None]


@pytest.fixture
def path(seeded_path: Path, tmp_path: Path) -> Path:
    """The path of a store of this test's own."""
    return Path(shutil.copy(seeded_path, tmp_path / "store.xref"))


@pytest.fixture
def store(path: Path) -> Iterator[Store]:
    """An open store of this test's own."""
    opened = open_engine(path)
    yield opened
    opened.close()


@pytest.fixture
def tables(monkeypatch: pytest.MonkeyPatch) -> Tables:
    """Put other standards' tables in the place of the shipped ones."""

    def replace(parts: list[Part], version: str) -> None:
        monkeypatch.setattr("xref.store.open.seed.standard_parts", lambda: tuple(parts))
        monkeypatch.setattr("xref.store.open.seed.TABLES_VERSION", version)
        monkeypatch.setattr("xref.standards.version.TABLES_VERSION", version)

    return replace
