"""``xref backup``."""

from __future__ import annotations

from pathlib import Path

import click

from xref.cli.app import whole


@click.command("backup", epilog="\b\nExample:\n  xref backup before-winter.xref\n")
@click.argument("file", type=click.Path(path_type=Path))
@click.pass_context
def command(ctx: click.Context, file: Path) -> int:
    """Copy the store to FILE, whoever writes to it meanwhile; nothing is overwritten.

    The copy is checked before it is given its name.
    """
    from xref.services.safekeeping import back_up

    kept = back_up(ctx.obj, file)
    click.echo(f"Copied the store to {whole(str(kept.file))} ({kept.size:,} bytes, checked).")
    if kept.photos is not None:
        click.echo(f"Its photos are not in it: copy the folder {whole(str(kept.photos))} too.")
    return 0
