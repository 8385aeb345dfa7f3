"""``xref undo``."""

from __future__ import annotations

import click

from xref.cli.app import the_store
from xref.cli.options import Whole


@click.command("undo", epilog="\b\nExample:\n  xref undo 12\n")
@click.argument("action", required=False, type=Whole(1, 999_999_999))
@click.option("--by", metavar="NAME", default="", help="In a shared store: whose it is, not mine.")
@click.pass_context
def command(ctx: click.Context, action: int | None, by: str) -> int:
    """Take back the last command that changed something.

    The whole of it; once more for the one before. With ACTION, a number that xref history shows,
    that one alone: refused where later ones touch the same rows, and they are named. In a store
    that several share it is the last of your own, and another's only where --by names whose.
    """
    with the_store(ctx) as opened:
        done = opened.upkeep.undo(action, by)
    whose = f" by {done.member}" if done.member else ""
    click.echo(f"Took back {done.id}: {done.command} of {done.at}{whose}.")
    return 0
