"""``xref model``: the models that machines and ranges name."""

from __future__ import annotations

import click

from xref.cli.app import the_store
from xref.cli.facts import or_none, say_facts, say_named, taken, without_option
from xref.cli.options import filled, json_option

WITHOUT = ("maker", "prefixes")


@click.group("model", epilog="\b\nExample:\n  xref model list\n")
def command() -> None:
    """Put the names of models right; a model is made when it is first named."""


@command.command("list", epilog="\b\nExample:\n  xref model list\n")
@json_option
@click.pass_context
def list_(ctx: click.Context, as_json: bool) -> int:
    """List every model, with how much names it."""
    with the_store(ctx) as opened:
        found = opened.model.every()
    return say_facts("models", found, as_json)


@command.command(
    "change", epilog="\b\nExample:\n  xref model change Whimbrl --name Whimbrel --prefixes QW\n"
)
@click.argument("name")
@click.option("--name", "new_name", metavar="X", callback=filled, help="What it is called.")
@click.option("--maker", metavar="M", callback=filled, help="Who built it.")
@click.option("--prefixes", metavar="P,P…", callback=filled, help="In order of build.")
@without_option(WITHOUT)
@click.pass_context
def change(
    ctx: click.Context,
    name: str,
    new_name: str | None,
    maker: str | None,
    prefixes: str | None,
    without: tuple[str, ...],
) -> int:
    """Change what is given of a model and leave the rest."""
    gone = taken(without, WITHOUT)
    letters = prefixes.replace(",", " ").split() if prefixes else None
    with the_store(ctx) as opened:
        done = opened.model.change(
            name,
            new_name=new_name,
            maker=or_none(maker, "maker", gone),
            prefixes=or_none(letters, "prefixes", gone, ()),
        )
    say_named(done)
    return 0


@command.command("merge", epilog="\b\nExample:\n  xref model merge Whimbrl Whimbrel\n")
@click.argument("name")
@click.argument("into")
@click.pass_context
def merge(ctx: click.Context, name: str, into: str) -> int:
    """Make a mistyped model NAME one with INTO.

    All that names it names INTO from then on.
    """
    with the_store(ctx) as opened:
        done = opened.model.merge(name, into)
    say_named(done)
    return 0


@command.command("remove", epilog="\b\nExample:\n  xref model remove Whimbrl\n")
@click.argument("name")
@click.pass_context
def remove(ctx: click.Context, name: str) -> int:
    """Remove a model that nothing names."""
    with the_store(ctx) as opened:
        done = opened.model.remove(name)
    say_named(done)
    return 0
