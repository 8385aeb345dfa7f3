"""Real store files, each made once a process and copied by whoever writes to it."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

from tests.servers import database
from xref.services.demo import fill
from xref.services.open import open_store
from xref.standards.lookup import find
from xref.store.open.engine import open_engine

settings.register_profile(
    "any machine",
    deadline=None,
    max_examples=50,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)
settings.load_profile("any machine")
# A busy machine must not fail a property, and none may take more than some seconds: a test that
# makes a store for each example says fewer.


@pytest.fixture(scope="session")
def seeded_path(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A store with the shipped tables in it; copy it, do not write to it."""
    path = tmp_path_factory.mktemp("seeded") / "seeded.xref"
    open_engine(path).close()
    return path


@pytest.fixture(scope="session")
def scenario_path(seeded_path: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A store with the invented scenario in it; copy it, do not write to it."""
    path = tmp_path_factory.mktemp("scenario") / "scenario.xref"
    shutil.copy(seeded_path, path)
    with open_store(str(path)) as opened, opened.store.writing("fill") as unit:
        fill(unit)
        unit.commit()
    return path


@pytest.fixture(scope="session")
def small(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A store with two standards' rows in it: copying it takes no time; do not write to it."""
    path = tmp_path_factory.mktemp("small") / "small.xref"
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("xref.store.open.seed.standard_parts", lambda: find("6204") + find("6304"))
        open_engine(path).close()
    return path


@pytest.fixture
def address() -> Iterator[str]:
    """The address of an empty database of this test's own, for a shared store."""
    with database() as made:
        yield made


@pytest.fixture(scope="session")
def seeded_address() -> Iterator[str]:
    """A shared store with the shipped tables in it; make copies of it, do not write to it."""
    with database() as made:
        open_engine(made).close()
        yield made


@pytest.fixture
def shared_address(seeded_address: str) -> Iterator[str]:
    """The address of a shared store of this test's own."""
    like = seeded_address.rsplit("/", 1)[-1]
    with database(f"TEMPLATE {like} STRATEGY FILE_COPY") as made:
        yield made
