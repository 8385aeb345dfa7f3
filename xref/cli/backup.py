"""``xref backup``."""

from __future__ import annotations

from pathlib import Path

import click

from xref.cli.app import whole
from xref.cli.progress import steps


@click.command("backup", epilog="\b\nExample:\n  xref backup before-winter.xref\n")
@click.argument("file", type=click.Path(path_type=Path))
@click.pass_context
def command(ctx: click.Context, file: Path) -> int:
    """Copy the store to FILE, whoever writes meanwhile.

    Nothing is overwritten.

    The copy is checked before it is given its name. Photos go to FILE.photos beside it.
    """
    from xref.services.upkeep.copies import back_up

    with steps() as told:
        kept = back_up(ctx.obj, file, told)
    click.echo(f"Copied the store to {whole(str(kept.file))} ({kept.size:,} bytes, checked).")
    if kept.photos:
        click.echo(f"Its photos ({kept.photos}) are beside it in {whole(str(kept.folder))}.")
    return 0
