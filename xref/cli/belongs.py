"""``xref belongs``."""

from __future__ import annotations

import click

from xref.cli.app import echo_json, the_store, width
from xref.cli.options import json_option, machine_option, maker_option

EXAMPLE = """
\b
Exit code 0 for listed and service part, 1 for not listed and unknown.
\b
Example:
  xref belongs QF-4471 --machine "QW 312"
"""
YES = ("listed", "service part")


@click.command("belongs", epilog=EXAMPLE)
@click.argument("number")
@machine_option("One of your machines.", required=True)
@maker_option
@json_option
@click.pass_context
def command(ctx: click.Context, number: str, machine: str, maker: str | None, as_json: bool) -> int:
    """Say whether a part is listed for your machine, and why."""
    from xref.render.links import belongs_text

    with the_store(ctx) as opened:
        told = opened.belongs(number, machine, maker=maker)
    if as_json:
        echo_json({**told.verdict.to_json(told.machine), "cautions": list(told.cautions)})
    else:
        click.echo(belongs_text(told.part, told.machine, told.verdict, width(), told.cautions))
    return 0 if told.verdict.verdict in YES else 1
