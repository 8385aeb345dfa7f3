"""How fast ``xref import`` takes a csv, beside pandas reading and writing the same file."""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from pathlib import Path

from fixtures.workbooks import linked_csv, plain_csv
from xref.store.open.engine import open_engine

TARGET = 15_000
LINKED_TARGET = 5_000
MEMORY_MB = 600

PLAIN = """
import sys, pandas
from sqlalchemy import create_engine
frame = pandas.read_csv(sys.argv[1], dtype=str, keep_default_na=False)
frame.to_sql("parts", create_engine(f"sqlite:///{sys.argv[2]}"), index=False)
"""


def measure(sizes: Sequence[int], repeats: int, seed: int) -> None:
    """Import lists of these sizes into new stores, each in a process of its own, and print.

    ``links`` are lists of which each row names what replaced it, a model and a serial.
    """
    print(f"seed {seed}, 8 columns, {repeats} runs each, medians; {os.cpu_count()} cores")
    print("             rows    xref import   rows/s   rows/s of cpu   memory   pandas and to_sql")
    with tempfile.TemporaryDirectory() as folder:
        for size in sizes:
            for what, write in (("parts", plain_csv), ("links", linked_csv)):
                path = Path(folder) / f"{what}-{size}.csv"
                write(path, size, seed)
                print(f"{what}  {_measured(path, size, repeats)}")
    print(
        f"aims: {TARGET:,} rows/s at 100,000 rows, {LINKED_TARGET:,} with links, "
        f"under {MEMORY_MB} MB"
    )


def _measured(path: Path, size: int, repeats: int) -> str:
    ours = [_import(path, path.parent) for _ in range(repeats)]
    base = statistics.median(_plain(path, path.parent) for _ in range(repeats))
    wall = statistics.median(o[0] for o in ours)
    cpu = statistics.median(o[1] for o in ours)
    memory = max(o[2] for o in ours)
    return (
        f"{size:10,}   {wall:9.2f} s   {size / wall:8,.0f}   {size / cpu:10,.0f}   "
        f"{memory:8.0f} MB   {base:8.2f} s ({size / base:,.0f} rows/s)"
    )


def _import(path: Path, folder: Path) -> tuple[float, float, float]:
    """Wall and cpu seconds and megabytes of one import into a new store."""
    store = folder / "bench.xref"
    open_engine(store).close()
    command = [sys.executable, "-m", "xref", "--store", str(store), "import", str(path)]
    found = _run(command)
    store.unlink()
    return found


def _plain(path: Path, folder: Path) -> float:
    base = folder / "plain.sqlite"
    wall, _, _ = _run([sys.executable, "-c", PLAIN, str(path), str(base)])
    base.unlink()
    return wall


def _run(command: Sequence[str]) -> tuple[float, float, float]:
    start = time.perf_counter()
    with subprocess.Popen(command, stdout=subprocess.DEVNULL) as process:
        _, status, used = os.wait4(process.pid, 0)
        process.returncode = os.waitstatus_to_exitcode(status)
    took = time.perf_counter() - start
    if process.returncode:
        raise RuntimeError(f"{' '.join(command)} failed with {process.returncode}")
    unit = 1 if sys.platform == "darwin" else 1024
    return took, used.ru_utime + used.ru_stime, used.ru_maxrss * unit / 1_048_576
