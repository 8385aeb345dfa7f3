"""Several processes import, add, search and undo in one store at once; nothing may be lost.

Each says what it did; the history, which every command writes in the same transaction as its
facts, must account for every row that was added, and for every row that is there.
"""

from __future__ import annotations

import itertools
import json
import math
import random
import sqlite3
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import closing
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from scripts.benches.command import command
from xref.services.upkeep.check import check
from xref.store.open.engine import open_engine

CHECKOUT = Path(__file__).resolve().parents[2]
WRITERS, SEARCHERS = 2, 1
MOST_ROWS = 40


@dataclass(frozen=True, slots=True)
class Until:
    """How long each process goes on: so many seconds, or so many turns."""

    seconds: float = math.inf
    turns: float = math.inf

    def turn(self) -> Iterator[int]:
        """The turns, from 1."""
        begun = time.monotonic()
        for turn in itertools.count(1):
            if turn > self.turns or time.monotonic() - begun > self.seconds:
                return
            yield turn


@dataclass
class Crowd:
    """What several processes did to one store, and what does not add up."""

    writers: int = 0
    imports: int = 0
    adds: int = 0
    undone: int = 0
    rows: int = 0
    there: int = 0
    searches: int = 0
    longest_search: float = 0.0
    longest_alone: float = 0.0
    faults: list[str] = field(default_factory=list)

    def told(self) -> list[str]:
        """The figures in lines."""
        return [
            f"{self.writers} writers at once: {self.imports} imports, {self.adds} single parts, "
            f"{self.undone} undone; {self.rows} rows written, {self.there} there, none lost"
            if not self.faults
            else f"{self.writers} writers at once: faults",
            f"searches meanwhile: {self.searches}, longest {self.longest_search * 1000:.0f} ms "
            f"(with nobody writing {self.longest_alone * 1000:.0f} ms)",
        ]


def crowd(path: Path, until: Until, seed: int) -> Crowd:
    """Let writers and searchers loose on the store at ``path``, a new one where none is there."""
    found = Crowd(writers=WRITERS)
    open_engine(path).close()
    alone = _told(_start("search", path, Until(min(until.seconds, 5.0), until.turns), seed))
    found.longest_alone = alone["longest"]
    jobs = ["write"] * WRITERS + ["search"] * SEARCHERS
    running = [_start(job, path, until, seed + at) for at, job in enumerate(jobs)]
    for job, child in zip(jobs, running, strict=True):
        _add(found, job, _told(child))
    _account(path, found)
    return found


def _add(found: Crowd, job: str, told: dict[str, Any]) -> None:
    found.faults += told["faults"]
    if job == "search":
        found.searches += told["searches"]
        found.longest_search = max(found.longest_search, told["longest"])
        return
    found.imports += told["imports"]
    found.adds += told["adds"]
    found.undone += told["undone"]
    found.rows += told["rows"]


def _start(job: str, path: Path, until: Until, seed: int) -> subprocess.Popen[str]:
    given = map(str, (path, until.seconds, until.turns, seed))
    args = [sys.executable, "-m", "scripts.benches.crowd", job, *given]
    return subprocess.Popen(args, cwd=CHECKOUT, stdout=subprocess.PIPE, text=True)


def _told(child: subprocess.Popen[str]) -> dict[str, Any]:
    said, _ = child.communicate()
    told: dict[str, Any] = json.loads(said)
    return told


def _account(path: Path, found: Crowd) -> None:
    """Hold the history against what the processes said, and the parts against the history."""
    with closing(sqlite3.connect(path)) as conn:
        rows = conn.execute(
            "SELECT undone, sum(high - low + 1), count(DISTINCT action.id) FROM action "
            "JOIN change ON action_id = action.id WHERE table_name = 'part' AND kind = 'insert' "
            "GROUP BY undone"
        ).fetchall()
        (found.there,) = conn.execute("SELECT count(*) FROM part WHERE origin = 'store'").fetchone()
    written = {bool(undone): int(count) for undone, count, _ in rows}
    commands = sum(int(count) for *_, count in rows)
    taken_back = sum(int(count) for undone, _, count in rows if undone)
    facts = {
        "commands": (commands, found.imports + found.adds),
        "undone": (taken_back, found.undone),
        "rows written": (sum(written.values()), found.rows),
        "rows there": (found.there, written.get(False, 0)),
    }
    found.faults += [f"{name}: {a}, not {b}" for name, (a, b) in facts.items() if a != b]
    store = open_engine(path)
    with store.reading() as conn:
        found.faults += [f"{f.check}: {f.message}" for f in check(conn, store.where)]
    store.close()


def _write(path: Path, until: Until, seed: int) -> dict[str, Any]:
    chance = random.Random(seed)
    told: dict[str, Any] = {"imports": 0, "adds": 0, "undone": 0, "rows": 0, "faults": []}
    with tempfile.TemporaryDirectory() as folder:
        for turn in until.turn():
            what = chance.choices(("imports", "adds", "undone"), (2, 3, 1))[0]
            rows = 1
            if what == "imports":
                rows = chance.randrange(1, MOST_ROWS)
                box = Path(folder) / "box.csv"
                lines = [f"QB-{seed}-{turn}-{n},stud,{n + 5}mm" for n in range(rows)]
                box.write_text("\n".join(["number,description,bore", *lines]) + "\n")
                code, said = command(path, "import", str(box))
            elif what == "adds":
                code, said = command(
                    path, "part", "add", f"QA-{seed}-{turn}", "--size", "bore=20mm"
                )
            else:
                rows = 0
                code, said = command(path, "undo")
                if code == 1 and "nothing to take back" in said:
                    continue
            if code:
                told["faults"].append(f"{what} left with {code}: {said.strip()}")
                continue
            told[what] += 1
            told["rows"] += rows
    return told


def _search(path: Path, until: Until, seed: int) -> dict[str, Any]:
    chance = random.Random(seed)
    told: dict[str, Any] = {"searches": 0, "longest": 0.0, "faults": []}
    command(path, "identify", "--mark", "6204")
    for _ in until.turn():
        mark = f"62{chance.randrange(10)}?"
        begun = time.perf_counter()
        code, said = command(path, "identify", "--mark", mark)
        told["longest"] = max(told["longest"], time.perf_counter() - begun)
        told["searches"] += 1
        if code not in (0, 1):
            told["faults"].append(f"search {mark} left with {code}: {said.strip()}")
    return told


if __name__ == "__main__":
    JOB, PATH, SECONDS, TURNS, SEED = sys.argv[1:]
    UNTIL = Until(float(SECONDS), float(TURNS))
    print(json.dumps({"write": _write, "search": _search}[JOB](Path(PATH), UNTIL, int(SEED))))
