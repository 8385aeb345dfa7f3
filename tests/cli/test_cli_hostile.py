"""Files that mean harm, in a process whose memory is measured: one clear line, exit 3."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from fixtures import workbooks
from fixtures.hostile import HOSTILE

CHECKOUT = Path(__file__).parents[2]

GOOD = {
    "good.csv": workbooks.messy_text,
    "good.xlsx": workbooks.sheets_xlsx,
    "good.xls": workbooks.old_xls,
    "good.ods": workbooks.open_ods,
}
"""Little lists that load everything an import needs: what memory this takes is no file's fault."""

MORE_MB = 60
"""Megabytes that the worst of the files may take beyond that, all in one process."""

RUN = """
import contextlib, io, json, resource, sys
from xref.cli.app import main

resource.setrlimit(resource.RLIMIT_AS, (4_000_000_000, 4_000_000_000))
store, *paths = sys.argv[1:]
for path in paths:
    said, failed = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(said), contextlib.redirect_stderr(failed):
        code = main(["--store", store, "import", path, "--preview"])
    used = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    print(json.dumps([path, code, said.getvalue(), failed.getvalue(), used]))
"""


def _imported(store: Path, paths: list[Path]) -> dict[str, tuple[int, str, str, float]]:
    """Code, output, errors and the highest megabytes so far, by name of the file."""
    unit = 1 if sys.platform == "darwin" else 1024
    done = subprocess.run(
        [sys.executable, "-c", RUN, str(store), *map(str, paths)],
        capture_output=True,
        encoding="utf-8",
        cwd=CHECKOUT,
        check=True,
        timeout=300,
    )
    found: dict[str, Any] = {}
    for line in done.stdout.splitlines():
        path, code, said, failed, used = json.loads(line)
        found[Path(path).name] = code, said, failed, used * unit / 1_000_000
    return found


def test_files_that_mean_harm_are_refused_in_two_lines_and_little_memory(
    store: Path, tmp_path: Path
) -> None:
    pytest.importorskip("resource", reason="there is no measure of memory on this system")
    files = {**GOOD, **HOSTILE}
    for name, write in files.items():
        write(tmp_path / name)
    found = _imported(store, [tmp_path / name for name in files])
    assert list(found) == list(files)
    for name in HOSTILE:
        code, said, failed, _ = found[name]
        assert (name, code, said) == (name, 3, "")
        first, second = failed.splitlines()
        assert first.startswith("xref: ")
        assert name in first
        assert second.strip().endswith(".")
    base = max(found[name][3] for name in GOOD)
    assert max(used for *_, used in found.values()) < base + MORE_MB
