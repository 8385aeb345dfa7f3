"""``xref equivalents``."""

from __future__ import annotations

import click

from xref.cli.app import (
    echo_json,
    json_option,
    maker_option,
    pairs,
    size_option,
    the_store,
    width,
)

EXAMPLE = """
\b
Example:
  xref equivalents QF-1420
  xref equivalents --bore 20mm --outside 47mm --width 14mm --kind bearing
"""


@click.command("equivalents", epilog=EXAMPLE)
@click.argument("number", required=False)
@click.option("--bore", metavar="V", help="Bore, with its unit.")
@click.option("--outside", metavar="V", help="Outside diameter.")
@click.option("--width", "width_", metavar="V", help="Width.")
@size_option
@click.option("--kind", metavar="KIND", help="bearing, bush, shaft seal, o-ring …")
@maker_option
@json_option
@click.pass_context
def command(
    ctx: click.Context,
    number: str | None,
    bore: str | None,
    outside: str | None,
    width_: str | None,
    sizes: tuple[str, ...],
    kind: str | None,
    maker: str | None,
    as_json: bool,
) -> int:
    """Say what else will do for a number, or for sizes, and what differs."""
    from xref.render.equivalents import equivalents_text
    from xref.services.equivalents import equivalents

    named = {"bore": bore, "outside": outside, "width": width_}
    wanted = {name: text for name, text in named.items() if text is not None} | pairs(sizes)
    with the_store(ctx) as opened, opened.store.reading() as conn:
        found = equivalents(conn, number, wanted, kind or "", maker)
    if as_json:
        echo_json(found.to_json())
    else:
        click.echo(equivalents_text(found, width()))
    return 0 if any(e.grade not in ("near miss", "tried, does not fit") for e in found.found) else 1
