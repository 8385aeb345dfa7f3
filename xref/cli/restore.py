"""``xref restore``."""

from __future__ import annotations

from pathlib import Path

import click

from xref.cli.app import whole
from xref.cli.progress import steps


@click.command("restore", epilog="\b\nExample:\n  xref restore before-winter.xref\n")
@click.argument("file", type=click.Path(path_type=Path))
@click.pass_context
def command(ctx: click.Context, file: Path) -> int:
    """Put the copy FILE in the place of the store.

    Only once it has passed its checks.

    The replaced store is kept beside it, and its name printed. The history comes with the copy.
    """
    from xref.services.upkeep.copies import restore

    with steps() as told:
        done = restore(ctx.obj, file, told)
    click.echo(f"The store {whole(str(done.store))} is now as in {whole(str(file))}.")
    if done.replaced is not None:
        click.echo(f"What it was before is kept as {whole(str(done.replaced))}.")
    if done.photos:
        click.echo(f"Photos brought back: {done.photos}.")
    return 0
