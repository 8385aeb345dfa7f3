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
    from xref.services.upkeep import check as checking

    with the_store(ctx) as opened, steps(not as_json) as told:
        if mends:
            opened.store.keep_as_it_is()
            with opened.store.writing("check --mend", watched=False) as unit:
                checking.mend(unit, told)
                told("writing it down")
                unit.commit()
        with opened.store.reading() as conn:
            found = checking.check(conn, opened.store.where, told)
    if as_json:
        echo_json(checks_json(found))
    else:
        click.echo(checks_text(found, width()))
    return 1 if found else 0
