"""What long commands show on a terminal while they run, seen from a pseudo-terminal's other end."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from fixtures.workbooks import plain_csv

pty = pytest.importorskip("pty", reason="this system has no pseudo-terminals")
CHECKOUT = Path(__file__).parents[2]
ROWS = 120


@pytest.fixture
def parts(tmp_path: Path) -> Path:
    """A list whose first part replaces another."""
    path = tmp_path / "parts.csv"
    plain_csv(path, ROWS)
    lines = path.read_text(encoding="utf-8").splitlines()
    lines[0] += ",Replaces"
    lines[1] += ",QF-1"
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return path


def _on_a_terminal(store: Path, *args: str) -> tuple[str, str]:
    """What the command writes on standard output, and what a terminal gets of its errors."""
    ours, theirs = pty.openpty()
    with subprocess.Popen(
        [sys.executable, "-m", "xref", "--store", str(store), *args],
        stdout=subprocess.PIPE,
        stderr=theirs,
        encoding="utf-8",
        cwd=CHECKOUT,
        env={**os.environ, "TERM": "xterm", "COLUMNS": "100"},
    ) as process:
        os.close(theirs)
        seen = _until_closed(ours)
        said, _ = process.communicate(timeout=120)
    os.close(ours)
    assert process.returncode == 0
    return said, seen.decode("utf-8")


def _until_closed(terminal: int) -> bytes:
    seen = b""
    while True:
        try:
            piece = os.read(terminal, 65_536)
        except OSError:
            # Linux says so where nobody has the other end open any more.
            return seen
        if not piece:
            return seen
        seen += piece


def test_terminal_shows_rows_and_links_done_of_about_how_many(store: Path, parts: Path) -> None:
    said, seen = _on_a_terminal(store, "import", str(parts))
    assert f"{ROWS} rows read: {ROWS} added" in said
    assert "of about" not in said
    for bar in (f"{ROWS} of about {ROWS} rows", "0 of about 1 links", "━"):
        assert bar in seen


def test_json_and_a_pipe_show_no_bar(store: Path, parts: Path) -> None:
    said, seen = _on_a_terminal(store, "import", str(parts), "--json")
    assert said.startswith("{")
    assert seen == ""
    piped = subprocess.run(
        [sys.executable, "-m", "xref", "--store", str(store), "import", str(parts)],
        capture_output=True,
        encoding="utf-8",
        cwd=CHECKOUT,
        check=True,
        timeout=120,
    )
    assert piped.stderr == ""


def test_terminal_shows_what_a_long_command_does_and_nothing_is_left(
    store: Path, tmp_path: Path
) -> None:
    copy = str(tmp_path / "copy.xref")
    for args, steps in (
        (("backup", copy), ("copying the store …", "checking the copy …")),
        (("restore", copy), ("checking the copy …", "putting it in the place of the store …")),
        (("check", "--mend"), ("making the search index anew …", "looking at the figures …")),
    ):
        said, seen = _on_a_terminal(store, *args)
        assert "…" not in said
        assert [step for step in steps if step not in seen] == []
        assert seen.endswith(f"\r{' ' * 44}\r")
    assert _on_a_terminal(store, "check", "--json")[1] == ""
