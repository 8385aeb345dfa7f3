"""``xref trace``."""

from __future__ import annotations

import click

from xref.cli.app import echo_json, the_store, width
from xref.cli.options import json_option, machine_option, maker_option

EXAMPLE = """
\b
Example:
  xref trace QF-2214 --machine "QW 312"
"""


@click.command("trace", epilog=EXAMPLE)
@click.argument("number")
@machine_option("Leave out steps that hold for other serials.")
@maker_option
@json_option
@click.pass_context
def command(
    ctx: click.Context, number: str, machine: str | None, maker: str | None, as_json: bool
) -> int:
    """Follow a number to what is sold now.

    And back to what it replaced.
    """
    from xref.render.links import trace_text

    with the_store(ctx) as opened:
        traced = opened.trace(number, maker=maker, machine=machine)
    if as_json:
        echo_json(traced.to_json())
    else:
        click.echo(trace_text(traced, width()))
    return 0
