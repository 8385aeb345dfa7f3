"""A command in a process that counts what it does to its store, and kills itself at a given count.

An event is a number of SQLite's own steps, a statement, a page copied, or a file opened or moved.
The counting lives here alone; the command under it is the one that people run.
"""

from __future__ import annotations

import multiprocessing
import os
import signal
import sqlite3
import sys
import threading
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from multiprocessing.connection import Connection as Pipe
from typing import Any

import alembic.command
import pandas

import xref.cli.restore
import xref.services.lists
import xref.services.upkeep.check
import xref.services.upkeep.copies
import xref.store.open.migrate
import xref.store.open.seed
import xref.store.upkeep.backup
import xref.store.upkeep.undo
from xref.cli.app import main
from xref.domain.part import Part
from xref.standards.lookup import find

READY = (alembic.command, pandas, xref.services.lists)
"""There before a command begins, so that kills land in its work."""
STEPS = 400
"""SQLite's steps that make one event."""
FILES = frozenset({"open", "os.rename", "os.link", "os.remove", "os.mkdir"})

_server = multiprocessing.get_context("forkserver")
_server.set_forkserver_preload([__name__])


@dataclass
class Count:
    """The events so far, and at which of them each stage of the work began."""

    at: int = 0
    delay: float = 0.0
    events: int = 0
    begun: list[tuple[str, int]] = field(default_factory=lambda: [("before", 0)])

    def tick(self) -> None:
        """One event; the one that was asked for is the last."""
        self.events += 1
        if self.events == self.at:
            if self.delay:
                threading.Thread(target=self._later).start()
            else:
                os.kill(os.getpid(), signal.SIGKILL)

    def _later(self) -> None:
        time.sleep(self.delay)
        os.kill(os.getpid(), signal.SIGKILL)

    def stage(self, name: str) -> None:
        """From here on the work is in this stage."""
        self.begun.append((name, self.events))


COUNT = Count()


class Watched(sqlite3.Connection):
    """A connection whose work is counted."""

    def __init__(self, *args: Any, **named: Any) -> None:
        super().__init__(*args, **named)
        self.set_progress_handler(COUNT.tick, STEPS)
        self.set_trace_callback(_statement)

    def backup(self, target: sqlite3.Connection, **named: Any) -> None:
        """As SQLite's own; a page at a time is how a restore writes over the store."""
        said = named.pop("progress", None)

        def progress(*figures: int) -> None:
            COUNT.tick()
            if said is not None:
                said(*figures)

        if named.get("pages") == 1:
            COUNT.stage("in")
        super().backup(target, progress=progress, **named)
        if named.get("pages") == 1:
            COUNT.stage("after")


def _statement(text: str) -> None:
    COUNT.tick()
    if text.startswith("BEGIN IMMEDIATE"):
        COUNT.stage("in")
    elif text.startswith("COMMIT") and COUNT.begun[-1][0] == "in":
        COUNT.stage("after")


def few_standards() -> tuple[Part, ...]:
    """What stands in for all of the standards' rows where the time they take tells nothing."""
    return tuple(find("6204") + find("6304"))


def _watch() -> None:
    plain: Callable[..., sqlite3.Connection] = sqlite3.connect

    def connect(*args: Any, **named: Any) -> sqlite3.Connection:
        return plain(*args, **{"factory": Watched, **named})

    sqlite3.connect = connect  # type: ignore[assignment]
    sys.addaudithook(lambda event, _args: COUNT.tick() if event in FILES else None)


def _work(args: list[str], at: int, delay: float, few: bool, pipe: Pipe) -> None:
    sys.stdout = sys.stderr = open(os.devnull, "w")  # noqa: SIM115
    if few:
        xref.store.open.seed.standard_parts = few_standards  # type: ignore[attr-defined,assignment]
    _watch()
    COUNT.at, COUNT.delay = at, delay
    code = main(args)
    pipe.send((code, COUNT.events, COUNT.begun))
    COUNT.at = 0  # what it said counts: a kill after that would be none


@dataclass(frozen=True)
class Ran:
    """What became of one run: its exit code (None: killed), its events, when stages began."""

    code: int | None
    events: int = 0
    begun: tuple[tuple[str, int], ...] = ()

    def first(self, stage: str) -> tuple[int, int]:
        """The first and last event of the first stretch of this name."""
        starts = [*self.begun, ("", self.events)]
        found = next(at for at, (name, _) in enumerate(starts) if name == stage)
        return starts[found][1] + 1, max(starts[found][1] + 1, starts[found + 1][1])


def run(args: list[str], at: int = 0, delay: float = 0.0, few: bool = False) -> Ran:
    """Run a command in a process of its own, which dies at event ``at`` (0: never).

    ``delay``: it dies so many seconds later, so that it may be in the middle of a write. ``few``:
    the store has few of the standards' rows, and gets no more of them.
    """
    ours, theirs = _server.Pipe(duplex=False)
    child = _server.Process(target=_work, args=(args, at, delay, few, theirs))
    child.start()
    theirs.close()
    try:
        code, events, begun = ours.recv()
    except EOFError:
        code, events, begun = None, 0, []
    child.join()
    ours.close()
    if code is None and child.exitcode != -signal.SIGKILL:
        raise AssertionError(f"{args} died by itself, exit code {child.exitcode}")
    return Ran(code, events, tuple(begun))
