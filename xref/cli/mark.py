"""``xref mark``: what is on the metal."""

from __future__ import annotations

import click

from xref.cli.app import mentioned, the_store
from xref.cli.options import maker_option, source_option


@click.group("mark", epilog='\b\nExample:\n  xref mark add QF-2214 "QF 2210" --role casting\n')
def command() -> None:
    """Note the marks found on a part."""


@command.command("add", epilog='\b\nExample:\n  xref mark add QF-2214 "QF 2210" --role casting\n')
@click.argument("number")
@click.argument("text")
@click.option("--role", required=True, metavar="ROLE", help="number, casting, size, date or other.")
@maker_option
@source_option
@click.pass_context
def add(
    ctx: click.Context, number: str, text: str, role: str, maker: str | None, source: str | None
) -> int:
    """Note a mark on a part. Only marks of the number role are searched as numbers."""
    from xref.services import marking

    with the_store(ctx) as opened, opened.store.writing("mark add") as unit:
        named = marking.add(unit, number, text, role, maker, source or "")
        unit.commit()
    mentioned([named.part.number] if named.made else [])
    click.echo(f"Noted {' '.join(text.split())} on {named.part.number} ({role}).")
    return 0
