"""``xref check``."""

from __future__ import annotations

import click

from xref.cli.app import echo_json, the_store, width
from xref.cli.options import json_option
from xref.cli.progress import steps


@click.command("check", epilog="\b\nExample:\n  xref check\n")
@click.option(
    "--mend",
    "mends",
    is_flag=True,
    help="Make anew what follows from the parts: keys, figures, search index.",
)
@json_option
@click.pass_context
def command(ctx: click.Context, mends: bool, as_json: bool) -> int:
    """Look at all that must be true of the store.

    Each finding says how to mend it.

    The exit code is 1 where something was found.
    """
    from xref.render.checks import checks_json, checks_text

    with the_store(ctx) as opened, steps(not as_json) as told:
        if mends:
            opened.upkeep.mend(told)
        found = opened.upkeep.check(told)
    if as_json:
        echo_json(checks_json(found))
    else:
        click.echo(checks_text(found, width()))
    return 1 if found else 0
