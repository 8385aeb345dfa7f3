"""Kill real processes at random points of what they do to a store, and look at what is left.

The points are drawn from a seed, within the time that the same command takes undisturbed; the
modules that take long to import are there before the clock starts, so that kills land in the work.
"""

from __future__ import annotations

import os
import random
import shutil
import signal
import sqlite3
import subprocess
import sys
import tempfile
import time
from collections import Counter
from contextlib import closing, suppress
from dataclasses import dataclass, field
from pathlib import Path

from fixtures import old_stores
from scripts.benches import crowd
from xref.services.checking import check
from xref.store.engine import open_engine
from xref.store.layout import SCHEMA_HEAD

CHECKOUT = Path(__file__).resolve().parents[2]
ROWS = 1500
PAST_THE_END = 1.1
"""Kills are drawn up to so many times the undisturbed time: some come too late, as they must."""

MOST_TRIES = 6

CHILD = """
import sys
import alembic.command, pandas
import xref.services.importing, xref.store.backup, xref.store.migrate, xref.store.undo
from xref.cli.app import main
print("ready", flush=True)
code = main(sys.argv[1:])
print("done", flush=True)
sys.exit(code)
"""


@dataclass
class Survived:
    """What became of the kills: ``old`` and ``new`` count which content the store had after."""

    kills: int = 0
    too_late: int = 0
    states: Counter[str] = field(default_factory=Counter)
    faults: list[str] = field(default_factory=list)


def run(args: list[str], after: float | None = None) -> tuple[bool, float]:
    """Run a command in a process of its own and kill it ``after`` seconds of work.

    Whether it had said that it was done, and how long it worked.
    """
    with subprocess.Popen(
        [sys.executable, "-c", CHILD, *args], cwd=CHECKOUT, stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL, text=True,
    ) as child:  # fmt: skip
        assert child.stdout is not None
        assert child.stdout.readline() == "ready\n"
        begun = time.perf_counter()
        if after is not None:
            with suppress(subprocess.TimeoutExpired):
                child.wait(after)
            child.send_signal(signal.SIGKILL)
        said = child.stdout.read()
        took = time.perf_counter() - begun
    return "done" in said.splitlines(), took


def own_parts(path: Path) -> int:
    """Parts of the user's in the store, by plain SQL."""
    with closing(sqlite3.connect(path)) as conn:
        (count,) = conn.execute("SELECT count(*) FROM part WHERE origin = 'store'").fetchone()
    return int(count)


class Ground:
    """The stores and files that every round begins with, made once in ``folder``."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.base = folder / "base.xref"
        self.full = folder / "full.xref"
        self.box = folder / "box.csv"
        self.box.write_text(
            "number,description,bore\n"
            + "".join(f"QK-{n:05d},chain case stud,{n % 400 + 5}.5mm\n" for n in range(ROWS))
        )
        run(["--store", str(self.base), "part", "add", "QF-1", "--size", "bore=20mm"])
        shutil.copy(self.base, self.full)
        run(["--store", str(self.full), "import", str(self.box)])
        assert (own_parts(self.base), own_parts(self.full)) == (1, 1 + ROWS)

    def round(self, what: str, turn: int) -> tuple[Path, list[str]]:
        """A fresh store for one round, and the command that is to be killed."""
        path = self.folder / what / "store.xref"
        shutil.rmtree(path.parent, ignore_errors=True)
        path.parent.mkdir()
        if what == "migration":
            old_stores.make(old_stores.REVISIONS[turn % (len(old_stores.REVISIONS) - 1)], path)
            return path, ["--store", str(path), "part", "list"]
        shutil.copy(self.base if what == "import" else self.full, path)
        wanted = {"import": ["import", str(self.box)], "undo": ["undo"]}
        return path, ["--store", str(path), *wanted.get(what, ["restore", str(self.base)])]


def _content(path: Path, what: str, turn: int) -> str:
    """ "old" or "new": which whole content the store has; what else there is, in words."""
    if what == "migration":
        revision = old_stores.revision_of(path)
        before = old_stores.REVISIONS[turn % (len(old_stores.REVISIONS) - 1)]
        return {before: "old", SCHEMA_HEAD: "new"}.get(revision, f"revision {revision}")
    counts = {1: "new", 1 + ROWS: "old"} if what != "import" else {1: "old", 1 + ROWS: "new"}
    found = own_parts(path)
    return counts.get(found, f"{found} parts")


def _faults(path: Path) -> list[str]:
    """What ``xref check`` finds."""
    store = open_engine(path)
    try:
        with store.reading() as conn:
            found = [f"{fault.check}: {fault.message}" for fault in check(conn, store.where)]
    finally:
        store.close()
    return found


def _undisturbed(ground: Ground, what: str) -> float:
    """How long the command works when nobody kills it, in seconds."""
    _, args = ground.round(what, 0)
    finished, took = run(args)
    assert finished
    return took


def kill(ground: Ground, what: str, rounds: int, seed: int) -> Survived:
    """Kill one command ``rounds`` times before it is done, and look at the store after each."""
    found = Survived()
    chance = random.Random(f"{seed} {what}")
    span = min(_undisturbed(ground, what) for _ in range(2))
    for turn in range(MOST_TRIES * rounds):
        if found.kills == rounds:
            break
        path, args = ground.round(what, turn)
        facts = old_stores.facts(path)
        shape = old_stores.layout(path)
        finished, took = run(args, chance.uniform(0.0, PAST_THE_END * span))
        found.kills += not finished
        found.too_late += finished
        if finished:
            span = min(span, took)
        state = _content(path, what, turn)
        found.states[state] += 1
        told = _faults(path)
        if state not in ("old", "new"):
            told.append(f"half done: {state}")
        if finished and state != "new":
            told.append("said to be done, and gone")
        if what == "migration" and old_stores.facts(path, shape) != facts:
            told.append("facts were lost on the way up")
        if what == "restore":
            told += _kept_whole(path, state)
        found.faults += [f"{what} {seed}/{turn}: {line}" for line in told]
    return found


def _kept_whole(path: Path, state: str) -> list[str]:
    """What a killed restore kept beside the store must be the old content, whole."""
    kept = list(path.parent.glob("store.replaced-*.xref"))
    if state == "new" and len(kept) != 1:
        return ["the replaced store was not kept"]
    return [f"{k.name} is not whole" for k in kept if own_parts(k) != 1 + ROWS or _faults(k)]


KINDS = ("import", "undo", "restore", "migration")


def measure(kills: int, seconds: float, seed: int) -> None:
    """Kill ``kills`` times, let processes crowd one store for ``seconds``, and print."""
    print(f"seed {seed}; {os.cpu_count()} cores")
    everything: list[str] = []
    with tempfile.TemporaryDirectory() as folder:
        ground = Ground(Path(folder))
        print("killed in    kills   too late   content after (old, new)   faults")
        total = 0
        for what in KINDS:
            found = kill(ground, what, -(-kills // len(KINDS)), seed)
            total += found.kills
            everything += found.faults
            print(
                f"{what:10}   {found.kills:5}   {found.too_late:8}   "
                f"{found.states['old']:5}, {found.states['new']:5}             "
                f"{len(found.faults):12}"
            )
        print(f"{total} kills of {kills} asked for; stores not sound after: {len(everything)}")
        crowded = crowd.crowd(Path(folder) / "crowd.xref", seconds, seed)
    everything += crowded.faults
    print("\n".join(crowded.told()))
    print("\n".join(everything) if everything else "no fault")
