"""How long a cold ``xref identify --mark`` takes against importing what it is built on."""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from pathlib import Path

from scripts.benches.stores import full_store

TARGET = 1.5
PARTS = 100_000
MARKS = ("QF 22?4", "W2I-0387-2", "31704?2", "BX 1O447")


def measure(repeats: int, seed: int, parts: int = PARTS) -> None:
    """Run both by turns ``repeats`` times and print medians and their ratio."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "bench.xref"
        store, _ = full_store(path, parts, seed)
        store.close()
        bare = [sys.executable, "-c", "import sqlalchemy, click"]
        program = str(Path(sys.executable).with_name("xref"))
        _run(bare)
        _run([program, "--store", str(path), "identify", "--mark", MARKS[0]])
        imports, whole = [], []
        for turn in range(repeats):
            imports.append(_run(bare))
            mark = MARKS[turn % len(MARKS)]
            whole.append(_run([program, "--store", str(path), "identify", "--mark", mark]))
    base, ours = statistics.median(imports), statistics.median(whole)
    print(f"seed {seed}, {parts:,} own parts, {repeats} runs of each by turns, medians")
    print(f"import sqlalchemy, click   {1000 * base:7.0f} ms  {_span(imports)}")
    print(f"xref identify --mark       {1000 * ours:7.0f} ms  {_span(whole)}")
    word = "within" if ours / base <= TARGET else "above"
    print(f"ratio {ours / base:.2f}, {word} the target of {TARGET:.1f}")


def _run(command: Sequence[str]) -> float:
    """Wall time of one process; raises where it fails.

    Exit code 1 only says that nothing matched, but even then the command has printed an answer.
    """
    start = time.perf_counter()
    done = subprocess.run(command, capture_output=True, text=True, check=False, env=_usual())
    took = time.perf_counter() - start
    if done.returncode not in (0, 1) or done.stderr.startswith("Traceback"):
        raise RuntimeError(f"{' '.join(command)} failed: {done.stderr.strip()}")
    return took


def _usual() -> dict[str, str]:
    """The environment, but with compiled modules kept, as Python does unless it is told not to."""
    return {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}


def _span(times: Sequence[float]) -> str:
    return f"({1000 * min(times):.0f}–{1000 * max(times):.0f})"
