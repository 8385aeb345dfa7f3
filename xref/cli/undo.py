"""``xref undo``."""

from __future__ import annotations

import click

from xref.cli.app import the_store


@click.command("undo", epilog="\b\nExample:\n  xref undo\n")
@click.pass_context
def command(ctx: click.Context) -> int:
    """Take back the last command that changed something.

    The whole of it; once more for the one before.
    """
    from xref.services import recounting

    with the_store(ctx) as opened, opened.store.writing("undo", watched=False) as unit:
        done = recounting.undo_last(unit)
        unit.commit()
    click.echo(f"Took back {done.command} of {done.at}.")
    return 0
