"""``xref demo``: the main job on an invented locomotive, in a store of its own."""

from __future__ import annotations

import shlex
import tempfile
import textwrap
from pathlib import Path

import click

from xref.cli.app import run, width

INTRO = (
    "Invented scenario: volunteers of a quarry railway rebuild the Whimbrel locomotive QW 312, "
    "built by Quillfeather; spares once came from Dunmarrow. Nothing here touches your own store."
)


@click.command("demo", epilog="\b\nExample:\n  xref demo\n")
def command() -> int:
    """Show the main job on an invented locomotive.

    In a store of its own that is thrown away.
    """
    from xref.services.demo import fill, walk
    from xref.services.open import open_store

    click.echo(textwrap.fill(INTRO, width()))
    with tempfile.TemporaryDirectory(prefix="xref-demo-") as folder:
        store = str(Path(folder) / "demo.xref")
        with open_store(store) as opened, opened.store.writing("demo") as unit:
            count = fill(unit)
            unit.commit()
        click.echo(f"{count} parts were written down from its books.")
        for step in walk():
            click.echo("\n" + textwrap.fill(step.say, width()) if step.say else "")
            click.echo(f"  $ xref {shlex.join(step.args)}\n")
            run(["--store", store, *step.args])
    return 0
