"""``xref reading``: what was learned of how you read marks."""

from __future__ import annotations

import click

from xref.cli.app import echo_json, the_store
from xref.cli.options import json_option


@click.group("reading", epilog="\b\nExample:\n  xref reading show\n")
def command() -> None:
    """See, or forget, what was learned of how you read marks."""


@command.command("show", epilog="\b\nExample:\n  xref reading show\n")
@json_option
@click.pass_context
def show(ctx: click.Context, as_json: bool) -> int:
    """Say in plain words what the decided parts on the bench taught."""
    from xref.render.reading import reading_json, reading_text

    with the_store(ctx) as opened:
        found, characters = opened.upkeep.learned()
    if as_json:
        echo_json(reading_json(found, characters))
    else:
        click.echo(reading_text(found, characters))
    return 0


@command.command("reset", epilog="\b\nExample:\n  xref reading reset\n")
@click.pass_context
def reset(ctx: click.Context) -> int:
    """Forget all of it; xref undo brings it back."""
    with the_store(ctx) as opened:
        gone = opened.upkeep.forget_learned()
    click.echo("Forgotten." if gone else "There was nothing to forget.")
    return 0
