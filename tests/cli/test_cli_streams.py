"""What is printed reaches the reader, whatever signs the terminal has."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

Run = Callable[..., subprocess.CompletedProcess[str]]
CHECKOUT = Path(__file__).parents[2]


def written(store: Path, encoding: str, *args: str) -> tuple[int, str, str]:
    """Exit code, stdout and stderr of a process whose streams have ``encoding``."""
    done = subprocess.run(
        [sys.executable, "-m", "xref", "--store", str(store), *args],
        capture_output=True,
        cwd=CHECKOUT,
        check=False,
        timeout=120,
        env={**os.environ, "PYTHONIOENCODING": encoding},
    )
    return done.returncode, done.stdout.decode(encoding), done.stderr.decode(encoding)


@pytest.fixture
def told(xref: Run, store: Path) -> Path:
    """A store with signs in it that a Western code page has not."""
    xref("part", "add", "QF-1", "--words", "втулка ø 20 ½")
    xref("supersede", "QF-1", "QF-2", "--reason", "longer → stronger")
    return store


@pytest.mark.parametrize("encoding", ["cp1252", "cp437", "latin-1"])
def test_text_is_written_in_the_signs_there_are(told: Path, encoding: str) -> None:
    code, out, err = written(told, encoding, "trace", "QF-1")
    assert (code, err) == (0, "")
    assert "QF-1 -> QF-2" in out
    assert "longer -> stronger" in out
    assert "\\u0432" in written(told, encoding, "part", "show", "QF-1")[1]


@pytest.mark.parametrize("encoding", ["cp1252", "utf-8"])
def test_json_loses_no_sign(told: Path, encoding: str) -> None:
    code, out, err = written(told, encoding, "part", "show", "QF-1", "--json")
    assert (code, err) == (0, "")
    assert json.loads(out)["description"] == "втулка ø 20 ½"


def test_a_refusal_is_written_too(store: Path) -> None:
    code, out, err = written(store, "cp1252", "part", "show", "втулка→")
    assert (code, out) == (1, "")
    assert "\\u0432" in err
    assert "->" in err
