"""``xref history``."""

from __future__ import annotations

import click

from xref.cli.app import echo_json, the_store, width
from xref.cli.options import Whole, json_option, maker_option


@click.command("history", epilog="\b\nExample:\n  xref history QF-2214\n")
@click.argument("number", required=False)
@click.option(
    "--limit", type=Whole(1, 10_000), default=20, show_default=True, help="Commands shown."
)
@maker_option
@json_option
@click.pass_context
def command(
    ctx: click.Context, number: str | None, limit: int, maker: str | None, as_json: bool
) -> int:
    """Show what was changed, when and by which command.

    Of one part where NUMBER is given. The number before a command takes it back: xref undo 12.
    """
    from xref.render import history as render

    with the_store(ctx) as opened:
        told = opened.upkeep.history(number, maker, limit)
    if as_json:
        echo_json(render.history_json(told))
    else:
        click.echo(render.history_text(told, width()))
    return 0
