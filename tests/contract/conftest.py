"""Stores with the invented scenario in them, and the command line in this process."""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from xref.cli.app import main
from xref.services.open import OpenStore, open_store

Json = dict[str, Any]


@pytest.fixture
def path(scenario_path: Path, tmp_path: Path) -> Path:
    """A store of this test's own, with the scenario in it."""
    return Path(shutil.copy(scenario_path, tmp_path / "whimbrel.xref"))


@pytest.fixture
def whimbrel(path: Path) -> Iterator[OpenStore]:
    """The same store, open."""
    with open_store(str(path)) as opened:
        yield opened


@pytest.fixture
def said(path: Path, capsys: pytest.CaptureFixture[str]) -> Callable[..., tuple[int, str, str]]:
    """Run a command and return its exit code, stdout and stderr."""

    def run(*args: str) -> tuple[int, str, str]:
        capsys.readouterr()
        code = main(["--store", str(path), *args])
        out, err = capsys.readouterr()
        return code, out, err

    return run


@pytest.fixture
def asked(said: Callable[..., tuple[int, str, str]]) -> Callable[..., tuple[int, Json]]:
    """Run a command with --json and return its exit code and the one document on stdout."""

    def run(*args: str) -> tuple[int, Json]:
        code, out, _ = said(*args, "--json")
        return code, json.loads(out)

    return run
