"""Kill real processes at counted points of what they do to a store, and look at what is left.

The points are drawn from a seed among the events that the same command had undisturbed, most of
them within its transaction; half of the kills come a moment after their event, so that they may
fall into the middle of a write to the disk.
"""

from __future__ import annotations

import os
import random
import shutil
import sqlite3
import tempfile
from collections import Counter
from contextlib import closing
from dataclasses import dataclass, field
from pathlib import Path

from fixtures import old_stores
from scripts.benches import crowd, damage
from scripts.benches.victim import Ran, run
from xref.services.upkeep.check import check
from xref.store.open.engine import open_engine
from xref.store.tables.layout import SCHEMA_HEAD

ROWS = 1500
STAGES = {"before": 1, "in": 8, "after": 1}
"""Where kills are drawn: before, in and after the transaction, so many times as often."""
LATER = 0.003
"""A kill comes up to so many seconds after its event: about what a commit takes."""
LEFT_OVER = "left over"
MOST_TRIES = 3
"""Draws a kill: where the delay outlasts the command, it is drawn again."""


@dataclass
class Survived:
    """What became of the kills: by the stage drawn, and by the content the store had after.

    ``left``: files in the making that were left, each of which xref check must name.
    """

    kills: int = 0
    too_late: int = 0
    left: int = 0
    drawn: Counter[str] = field(default_factory=Counter)
    states: Counter[str] = field(default_factory=Counter)
    faults: list[str] = field(default_factory=list)


def own_parts(path: Path) -> int:
    """Parts of the user's in the store, by plain SQL."""
    with closing(sqlite3.connect(path)) as conn:
        (count,) = conn.execute("SELECT count(*) FROM part WHERE origin = 'store'").fetchone()
    return int(count)


class Ground:
    """The stores and files that every round begins with, made once in ``folder``.

    ``small``: a store to begin with that holds few of the standards' rows.
    """

    def __init__(self, folder: Path, rows: int = ROWS, small: Path | None = None) -> None:
        self.folder = folder
        self.rows = rows
        self.few = small is not None
        self.base = folder / "base.xref"
        self.full = folder / "full.xref"
        self.box = folder / "box.csv"
        self.box.write_text(
            "number,description,bore\n"
            + "".join(f"QK-{n:05d},chain case stud,{n % 400 + 5}.5mm\n" for n in range(rows))
        )
        if small is not None:
            shutil.copy(small, self.base)
        run(["--store", str(self.base), "part", "add", "QF-1", "--size", "bore=20mm"])
        shutil.copy(self.base, self.full)
        run(["--store", str(self.full), "import", str(self.box)])
        assert (own_parts(self.base), own_parts(self.full)) == (1, 1 + rows)
        self._undisturbed: dict[tuple[str, str], Ran] = {}

    def round(self, what: str, turn: int) -> tuple[Path, list[str]]:
        """A fresh store for one round, and the command that is to be killed."""
        path = self.folder / what / "store.xref"
        shutil.rmtree(path.parent, ignore_errors=True)
        if what == "migration":
            shutil.copytree(self._old(_revision(turn)), path.parent)
            return path, ["--store", str(path), "part", "list"]
        path.parent.mkdir()
        shutil.copy(self.base if what == "import" else self.full, path)
        wanted = {"import": ["import", str(self.box)], "undo": ["undo"]}
        return path, ["--store", str(path), *wanted.get(what, ["restore", str(self.base)])]

    def _old(self, revision: str) -> Path:
        folder = self.folder / f"old-{revision}"
        if not folder.exists():
            folder.mkdir()
            old_stores.make(revision, folder / "store.xref")
        return folder

    def undisturbed(self, what: str, turn: int) -> Ran:
        """What the command does when nobody kills it."""
        case = (what, _revision(turn) if what == "migration" else "")
        if case not in self._undisturbed:
            _, args = self.round(what, turn)
            self._undisturbed[case] = run(args, few=self.few)
            assert self._undisturbed[case].code == 0
        return self._undisturbed[case]


def _revision(turn: int) -> str:
    """The layouts take turns; today's is none to move from."""
    return old_stores.REVISIONS[turn % (len(old_stores.REVISIONS) - 1)]


def _content(ground: Ground, path: Path, what: str, turn: int) -> str:
    """ "old" or "new": which whole content the store has; what else there is, in words."""
    if what == "migration":
        revision = old_stores.revision_of(path)
        return {_revision(turn): "old", SCHEMA_HEAD: "new"}.get(revision, f"revision {revision}")
    few, many = ("old", "new") if what == "import" else ("new", "old")
    found = own_parts(path)
    return {1: few, 1 + ground.rows: many}.get(found, f"{found} parts")


def _faults(path: Path) -> list[str]:
    """What ``xref check`` finds, but for files left in the making: of those, what it does not."""
    store = open_engine(path)
    try:
        with store.reading() as conn:
            found = check(conn, store.where)
    finally:
        store.close()
    named = {fault.message.split()[0] for fault in found if fault.check == LEFT_OVER}
    unnamed = {p.name for p in _left(path)} - named
    told = [f"{fault.check}: {fault.message}" for fault in found if fault.check != LEFT_OVER]
    return told + [f"{name} is left and not named" for name in unnamed]


def _left(path: Path) -> list[Path]:
    """Files that the kill left in the making."""
    stem = path.name.removesuffix(".xref")
    return [p for p in path.parent.glob(f"{stem}*") if ".new-" in p.name]


def kill(ground: Ground, what: str, rounds: int, seed: int) -> Survived:
    """Kill one command ``rounds`` times before it is done, and look at the store after each."""
    found = Survived()
    chance = random.Random(f"{seed} {what}")
    for turn in range(MOST_TRIES * rounds):
        if found.kills == rounds:
            break
        # A migration is killed within its own transaction: the renewal after it is another.
        weights = {"in": 1} if what == "migration" else STAGES
        (stage,) = chance.choices(list(weights), list(weights.values()))
        at = chance.randint(*ground.undisturbed(what, turn).first(stage))
        delay = chance.choice((0.0, chance.uniform(0.0, LATER)))
        path, args = ground.round(what, turn)
        shape, facts = old_stores.layout(path), old_stores.facts(path)
        killed = run(args, at, delay, ground.few).code is None
        found.kills += killed
        found.too_late += not killed
        found.drawn[stage] += killed
        state = _content(ground, path, what, turn)
        found.states[state] += killed
        found.left += len(_left(path))
        told = _faults(path)
        if state not in ("old", "new"):
            told.append(f"half done: {state}")
        if not killed and state != "new":
            told.append("said to be done, and gone")
        if what == "migration" and old_stores.facts(path, shape) != facts:
            told.append("facts were lost on the way up")
        if what == "restore":
            told += _kept_whole(ground, path, state)
        found.faults += [f"{what} {seed}/{turn}: {line}" for line in told]
    return found


def _kept_whole(ground: Ground, path: Path, state: str) -> list[str]:
    """What a killed restore kept beside the store must be the old content, whole."""
    kept = list(path.parent.glob("store.replaced-*.xref"))
    if state == "new" and len(kept) != 1:
        return ["the replaced store was not kept"]
    whole = 1 + ground.rows
    return [f"{k.name} is not whole" for k in kept if own_parts(k) != whole or _faults(k)]


KINDS = ("import", "undo", "restore", "migration")


def measure(kills: int, seconds: float, trials: int, seed: int) -> None:
    """Kill ``kills`` times, damage ``trials`` stores of each sort, crowd one store; and print."""
    print(f"seed {seed}; {os.cpu_count()} cores")
    with tempfile.TemporaryDirectory() as folder:
        everything = _killed(Ground(Path(folder)), kills, seed)
        everything += damage.measure(Path(folder) / "damage", trials, seed)
        crowded = crowd.crowd(Path(folder) / "crowd.xref", crowd.Until(seconds=seconds), seed)
    everything += crowded.faults
    print("\n".join(crowded.told()))
    print("\n".join(everything) if everything else "no fault")


def _killed(ground: Ground, kills: int, seed: int) -> list[str]:
    """Kill, print a line for each kind of command, and return the faults."""
    print("            killed: before its      in it   after    left by the kill:      came too")
    print(
        "          transaction began         its end          old content   new      late  faults"
    )
    total, faults = 0, []
    for what in KINDS:
        found = kill(ground, what, -(-kills // len(KINDS)), seed)
        total += found.kills
        faults += found.faults
        drawn, states = found.drawn, found.states
        print(
            f"{what:10}{drawn['before']:13}{drawn['in']:16}{drawn['after']:9}"
            f"{states['old']:15}{states['new']:6}{found.too_late:10}{found.left:7}"
            f"{len(found.faults):8}"
        )
    print(f"{total} kills of {kills} asked for; stores not sound after: {len(faults)}")
    return faults
