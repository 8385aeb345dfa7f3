"""``xref export``: the user's own parts as a spreadsheet."""

from __future__ import annotations

from pathlib import Path

import click

from xref.cli.app import shown, the_store
from xref.cli.options import kind_option


@click.command("export", epilog="\b\nExample:\n  xref export parts.xlsx --kind bearing\n")
@click.argument("file", type=click.Path(path_type=Path))
@kind_option
@click.pass_context
def command(ctx: click.Context, file: Path, kind: str | None) -> int:
    """Write your own parts to a csv or xlsx file.

    It imports again with nothing changed.

    Cells that a spreadsheet would run as a formula get a ' in front; an import takes it off.
    """
    from xref.domain.kinds import kind_from

    named = kind_from(kind) if kind else ""
    with the_store(ctx) as opened:
        done = opened.export_file(file, kind=named)
    click.echo(f"Wrote {done.parts} parts in {done.rows} rows to {shown(file.name)}.")
    if done.beyond:
        counted = ", ".join(f"{what} ({count})" for what, count in done.beyond.items())
        click.echo(f"A list of parts has no place for: {counted}. xref backup keeps them.")
    return 0 if done.parts else 1
