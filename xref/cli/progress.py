"""How far a long command is, for who waits at a terminal; nothing where nobody looks."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from rich.progress import Progress, ProgressColumn


@contextmanager
def counted(wanted: bool) -> Iterator[Callable[[str, int, int], None] | None]:
    """A bar that is told what is coming in, how many are done, and of about how many."""
    if not wanted or not sys.stderr.isatty():
        yield None
        return
    from rich.progress import BarColumn

    said = "{task.completed:,.0f} of about {task.total:,.0f} {task.description}"
    with _shown(said, BarColumn()) as bar:
        task = bar.add_task("rows", total=0, visible=False)
        yield lambda what, done, about: bar.update(
            task, description=what, completed=done, total=about, visible=True, refresh=True
        )


@contextmanager
def steps(wanted: bool = True) -> Iterator[Callable[[str], None]]:
    """A line that is told what is being done now, with the time since the beginning."""
    if not wanted or not sys.stderr.isatty():
        yield lambda _: None
        return
    with _shown("{task.description} …") as line:
        task = line.add_task("", visible=False)
        yield lambda what: line.update(task, description=what, visible=True, refresh=True)


@contextmanager
def _shown(said: str, *columns: ProgressColumn) -> Iterator[Progress]:
    from rich.console import Console
    from rich.progress import Progress, TextColumn, TimeElapsedColumn

    every = (*columns, TextColumn(said), TimeElapsedColumn())
    with Progress(*every, console=Console(stderr=True), transient=True) as bar:
        yield bar
