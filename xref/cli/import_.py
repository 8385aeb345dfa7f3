"""``xref import``: a spreadsheet of parts into the store."""

from __future__ import annotations

from pathlib import Path

import click

from xref.cli.app import echo_json, the_store, width
from xref.cli.options import json_option, pairs
from xref.cli.progress import counted


@click.command(
    "import",
    epilog=(
        "\b\nExample:\n"
        "  xref import parts.xlsx --preview\n"
        '  xref import parts.csv --map "Our no.=number" --units inch --keep-good\n'
    ),
)
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--sheet", metavar="NAME", help="One sheet; without it, all that are parts lists.")
@click.option(
    "--map",
    "told",
    multiple=True,
    metavar="COLUMN=FIELD",
    help="Say what a column is: number, maker, bore, extra … (a wrong one is answered with all).",
)
@click.option("--units", type=click.Choice(["mm", "inch"]), help="What a bare size is in.")
@click.option("--preview", is_flag=True, help="Show what would happen; change nothing.")
@click.option("--keep-good", is_flag=True, help="Keep the good rows where others are rejected.")
@json_option
@click.pass_context
def command(
    ctx: click.Context,
    file: Path,
    sheet: str | None,
    told: tuple[str, ...],
    units: str | None,
    preview: bool,
    keep_good: bool,
    as_json: bool,
) -> int:
    """Merge the parts of a spreadsheet into the store.

    FILE is csv, tsv, xlsx, xls or ods.

    A part that is there is completed, never overwritten: what contradicts is kept beside it.
    """
    from xref.render.imported import imported_text

    mapping = pairs(told, '--map "Our no.=number"')
    with the_store(ctx) as opened, counted(not as_json) as progress:
        done = opened.import_file(
            file,
            sheet=sheet or "",
            map=mapping,
            units=units or "",
            preview=preview,
            keep_good=keep_good,
            progress=progress,
        )
    if as_json:
        echo_json(done.to_json())
    else:
        click.echo(imported_text(done, width()))
    return 1 if done.rejected else 0
