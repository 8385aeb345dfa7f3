"""How far a long command is, for who waits at a terminal; nothing where nobody looks."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager

import click

from xref.cli.streams import screen
from xref.domain.steps import Steps, silent

_LINE = 44
"""Characters of the line of steps: what is told is shorter, and a narrow window has them."""


@contextmanager
def counted(wanted: bool) -> Iterator[Callable[[str, int, int], None] | None]:
    """A bar that is told what is coming in, how many are done, and of about how many."""
    if not wanted or not sys.stderr.isatty():
        yield None
        return
    from rich.console import Console
    from rich.progress import BarColumn, Progress, TextColumn, TimeElapsedColumn

    said = TextColumn("{task.completed:,.0f} of about {task.total:,.0f} {task.description}")
    columns = (BarColumn(), said, TimeElapsedColumn())
    with Progress(*columns, console=Console(file=screen()), transient=True) as bar:
        task = bar.add_task("rows", total=0, visible=False)
        yield lambda what, done, about: bar.update(
            task, description=what, completed=done, total=about, visible=True, refresh=True
        )


@contextmanager
def steps(wanted: bool = True) -> Iterator[Steps]:
    """A line that is told what is being done now, and is blank again in the end."""
    if not wanted or not sys.stderr.isatty():
        yield silent
        return
    try:
        yield lambda what: click.echo(f"\r{f'{what} …':<{_LINE}}", nl=False, file=screen())
    finally:
        click.echo(f"\r{'':<{_LINE}}\r", nl=False, file=screen())
