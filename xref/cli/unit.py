"""``xref unit``: what a size without a unit is taken in."""

from __future__ import annotations

import click

from xref.cli.app import echo_json, the_store
from xref.cli.options import json_option


@click.command("unit", epilog="\b\nExample:\n  xref unit inch\n")
@click.argument("name", metavar="[mm|inch]", required=False)
@json_option
@click.pass_context
def command(ctx: click.Context, name: str | None, as_json: bool) -> int:
    """Say or set what a size without a unit is taken in.

    Sizes that are written down already stay as they are.
    """
    with the_store(ctx) as opened:
        if name is not None:
            opened.upkeep.set_unit(name)
        held = opened.upkeep.unit()
    if as_json:
        echo_json({"unit": held})
    else:
        click.echo(
            f"A size without a unit is taken in {'millimetres' if held == 'mm' else 'inches'}."
        )
    return 0
