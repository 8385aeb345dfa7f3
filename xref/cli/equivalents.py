"""``xref equivalents``."""

from __future__ import annotations

from typing import Any

import click

from xref.cli.app import echo_json, the_store, width
from xref.cli.options import filled, json_option, machine_option, maker_option
from xref.cli.question import size_options, sizes_of

EXAMPLE = """
\b
Example:
  xref equivalents QF-1420
  xref equivalents --bore 20mm --outside 47mm --width 14mm --kind bearing
"""


@click.command("equivalents", epilog=EXAMPLE)
@click.argument("number", required=False)
@size_options
@click.option(
    "--words", metavar="TEXT", callback=filled, help='What the place asks for: "relief spring".'
)
@machine_option("The machine it is for: its serial may decide what a number is sold as.")
@maker_option
@json_option
@click.pass_context
def command(
    ctx: click.Context,
    /,
    number: str | None,
    kind: str | None,
    words: str | None,
    machine: str | None,
    maker: str | None,
    as_json: bool,
    **given: Any,
) -> int:
    """Say what else will do for a number or for sizes.

    With what differs, and what only seems to fit.
    """
    from xref.render.equivalents import equivalents_text

    with the_store(ctx) as opened:
        found = opened.equivalents(
            number,
            size=sizes_of(given),
            kind=kind or "",
            words=words or "",
            maker=maker,
            machine=machine,
        )
    if as_json:
        echo_json(found.to_json())
    else:
        click.echo(equivalents_text(found, width()))
    return 0 if any(e.grade not in ("near miss", "tried, does not fit") for e in found.found) else 1
