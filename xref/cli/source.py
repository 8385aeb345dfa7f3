"""``xref source``: parts books and other places that knowledge comes from."""

from __future__ import annotations

import click

from xref.cli.app import echo_json, the_store
from xref.cli.facts import or_none, say_named, taken, without_option
from xref.cli.options import filled, json_option
from xref.cli.written import say_written

WITHOUT = ("edition", "kind", "note")


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
@json_option
@click.pass_context
def add(ctx: click.Context, title: str, edition: str, kind: str, note: str, as_json: bool) -> int:
    """Add a source."""
    with the_store(ctx) as opened:
        named = opened.source.add(title, edition, kind, note)
    say_written(opened, as_json, {"source": named}, [f"Added the source {named}."])
    return 0


@command.command("list", epilog="\b\nExample:\n  xref source list\n")
@json_option
@click.pass_context
def list_(ctx: click.Context, as_json: bool) -> int:
    """List every source."""
    from xref.render.parts import sources_text
    from xref.services.parts import source as sources

    with the_store(ctx) as opened:
        rows = opened.source.every()
    if as_json:
        echo_json(sources.to_json(rows))
    else:
        click.echo(sources_text(rows))
    return 0


@command.command(
    "change", epilog='\b\nExample:\n  xref source change "Whimbrel parts book" --edition 1952\n'
)
@click.argument("name")
@click.option("--title", metavar="TITLE", callback=filled, help="What it is called.")
@click.option("--edition", metavar="E", callback=filled, help="Edition or year.")
@click.option("--kind", metavar="K", callback=filled, help="parts book, drawing, letter …")
@click.option("--note", metavar="TEXT", callback=filled, help="Anything else about it.")
@without_option(WITHOUT)
@click.pass_context
def change(
    ctx: click.Context,
    name: str,
    title: str | None,
    edition: str | None,
    kind: str | None,
    note: str | None,
    without: tuple[str, ...],
) -> int:
    """Change what is given of a source and leave the rest."""
    gone = taken(without, WITHOUT)
    with the_store(ctx) as opened:
        done = opened.source.change(
            name,
            title=title,
            edition=or_none(edition, "edition", gone),
            kind=or_none(kind, "kind", gone),
            note=or_none(note, "note", gone),
        )
    say_named(done)
    return 0


@command.command(
    "merge", epilog='\b\nExample:\n  xref source merge "Wimbrel parts book" "Whimbrel parts book"\n'
)
@click.argument("name")
@click.argument("into")
@click.pass_context
def merge(ctx: click.Context, name: str, into: str) -> int:
    """Make a mistyped source NAME one with INTO.

    All that names it names INTO from then on.
    """
    with the_store(ctx) as opened:
        done = opened.source.merge(name, into)
    say_named(done)
    return 0


@command.command(
    "remove", epilog='\b\nExample:\n  xref source remove "Whimbrel parts book" --keep-facts\n'
)
@click.argument("name")
@click.option("--keep-facts", is_flag=True, help="Keep what is from it, without a source.")
@click.pass_context
def remove(ctx: click.Context, name: str, keep_facts: bool) -> int:
    """Remove a source."""
    with the_store(ctx) as opened:
        done = opened.source.remove(name, keep_facts)
    say_named(done)
    return 0
