"""A seeded store for each test, and the command line in this process or in one of its own."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from xref.cli.app import main

Done = subprocess.CompletedProcess[str]
CHECKOUT = Path(__file__).parents[2]


@pytest.fixture
def store(seeded_path: Path, tmp_path: Path) -> Path:
    """The path of a store of this test's own."""
    return Path(shutil.copy(seeded_path, tmp_path / "store.xref"))


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Whoever forgets --store gets one in the test's folder; output is 80 columns wide."""
    monkeypatch.setenv("XREF_STORE", str(tmp_path / "forgotten.xref"))
    monkeypatch.delenv("XREF_DEBUG", raising=False)
    monkeypatch.delenv("COLUMNS", raising=False)


@pytest.fixture
def xref(store: Path, capsys: pytest.CaptureFixture[str]) -> Callable[..., Done]:
    """Run the command line in this process, on this test's store."""

    def run(*args: str) -> Done:
        capsys.readouterr()
        code = main(["--store", str(store), *args])
        said = capsys.readouterr()
        return subprocess.CompletedProcess(args, code, said.out, said.err)

    return run


@pytest.fixture
def process(store: Path) -> Callable[..., Done]:
    """Run the command line in a process of its own, on this test's store."""

    def run(*args: str, **env: str) -> Done:
        return subprocess.run(
            [sys.executable, "-m", "xref", "--store", str(store), *args],
            capture_output=True,
            encoding="utf-8",
            cwd=CHECKOUT,
            check=False,
            timeout=120,
            env={**os.environ, **env},
        )

    return run
