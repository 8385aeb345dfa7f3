"""``xref export``: the user's own parts as a spreadsheet."""

from __future__ import annotations

from pathlib import Path

import click

from xref.cli.app import shown, the_store
from xref.cli.options import kind_option

SHOWN = 5


@click.command("export", epilog="\b\nExample:\n  xref export parts.xlsx --kind bearing\n")
@click.argument("file", type=click.Path(path_type=Path))
@kind_option
@click.pass_context
def command(ctx: click.Context, file: Path, kind: str | None) -> int:
    """Write your own parts to a csv or xlsx file that imports again unchanged.

    Cells that a spreadsheet would run as a formula get a ' in front; an import takes it off.
    """
    from xref.domain.kinds import kind_from
    from xref.domain.number import visible
    from xref.services.exporting import export_file

    named = kind_from(kind) if kind else ""
    with the_store(ctx) as opened, opened.store.reading() as conn:
        done = export_file(conn, file, named)
    click.echo(f"Wrote {done.parts} parts in {done.rows} rows to {shown(file.name)}.")
    if done.left_out:
        click.echo(f"Left out, because a list has no column for it ({len(done.left_out)}):")
        for text in done.left_out[:SHOWN]:
            click.echo(f"  {visible(text, 70)}")
    return 0 if done.parts else 1
