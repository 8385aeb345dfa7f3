"""``xref donor``."""

from __future__ import annotations

import click

from xref.cli.app import echo_json, the_store, width
from xref.cli.options import filled, json_option, machine_option
from xref.errors import InputError

EXAMPLE = """
\b
Example:
  xref donor QF-4471 QF-4477 QF-3311 QF-1420 --machine "QW 312"
"""


@click.command("donor", epilog=EXAMPLE)
@click.argument("number", nargs=-1)
@click.option(
    "--assembly",
    metavar="A",
    callback=filled,
    help="Take what lies on the bench of this assembly, with its odds.",
)
@machine_option("Say whether this machine lies inside.")
@json_option
@click.pass_context
def command(
    ctx: click.Context,
    number: tuple[str, ...],
    assembly: str | None,
    machine: str | None,
    as_json: bool,
) -> int:
    """Say which serials the parts of an assembly share.

    So that an odd assembly tells which machines left the works with it.
    """
    from xref.render.links import donor_text

    if assembly and number:
        raise InputError("numbers and --assembly are both given", "Give one or the other.")
    with the_store(ctx) as opened:
        found = opened.donor(number, assembly=assembly or "", machine=machine)
    if as_json:
        echo_json(found.to_json())
    else:
        click.echo(donor_text(found, width()))
    return 0 if found.ranges else 1
