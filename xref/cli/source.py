"""``xref source``: parts books and other places that knowledge comes from."""

from __future__ import annotations

import click

from xref.cli.app import echo_json, the_store
from xref.cli.options import json_option


@click.group("source", epilog="\b\nExample:\n  xref source list\n")
def command() -> None:
    """Write down the parts books and papers you take facts from."""


@command.command(
    "add",
    epilog=(
        '\b\nExample:\n  xref source add "Whimbrel parts book" --edition 1951 --kind "parts book"\n'
    ),
)
@click.argument("title")
@click.option("--edition", default="", metavar="E", help="Edition or year.")
@click.option("--kind", default="", metavar="K", help="parts book, drawing, letter, measured …")
@click.option("--note", default="", metavar="TEXT", help="Anything else about it.")
@click.pass_context
def add(ctx: click.Context, title: str, edition: str, kind: str, note: str) -> int:
    """Add a source."""
    from xref.services import sources

    with the_store(ctx) as opened, opened.store.writing("source add") as unit:
        named = sources.add(unit, title, edition, kind, note)
        unit.commit()
    click.echo(f"Added the source {named}.")
    return 0


@command.command("list", epilog="\b\nExample:\n  xref source list\n")
@json_option
@click.pass_context
def list_(ctx: click.Context, as_json: bool) -> int:
    """List every source."""
    from xref.render.parts import sources_text
    from xref.services import sources

    with the_store(ctx) as opened, opened.store.reading() as conn:
        rows = sources.every(conn)
    if as_json:
        echo_json(sources.to_json(rows))
    else:
        click.echo(sources_text(rows))
    return 0
