"""``xref mark``: what is on the metal."""

from __future__ import annotations

import click

from xref.cli.app import the_store
from xref.cli.facts import (
    limit_option,
    or_none,
    say_changed,
    say_facts,
    taken,
    which,
    without_option,
)
from xref.cli.options import filled, json_option, maker_option, source_option
from xref.cli.written import say_written

WITHOUT = ("source",)


@click.group("mark", epilog='\b\nExample:\n  xref mark add QF-2214 "QF 2210" --role casting\n')
def command() -> None:
    """Note the marks found on a part."""


@command.command("add", epilog='\b\nExample:\n  xref mark add QF-2214 "QF 2210" --role casting\n')
@click.argument("number")
@click.argument("text")
@click.option("--role", required=True, metavar="ROLE", help="number, casting, size, date or other.")
@maker_option
@source_option
@json_option
@click.pass_context
def add(
    ctx: click.Context,
    number: str,
    text: str,
    role: str,
    maker: str | None,
    source: str | None,
    as_json: bool,
) -> int:
    """Note a mark on a part. Only marks of the number role are searched as numbers."""
    with the_store(ctx) as opened:
        named = opened.mark.add(number, text, role, maker, source or "")
    noted = " ".join(text.split())
    document = {"number": named.part.number, "text": noted, "role": role, "source": source or None}
    line = f"Noted {noted} on {named.part.number} ({role})."
    say_written(opened, as_json, document, [line], [named.part.number] if named.made else [])
    return 0


@command.command("list", epilog="\b\nExample:\n  xref mark list QF-2214\n")
@click.argument("number", required=False)
@maker_option
@limit_option
@json_option
@click.pass_context
def list_(
    ctx: click.Context, number: str | None, maker: str | None, limit: int, as_json: bool
) -> int:
    """List marks with their numbers.

    Those of one part, or all.
    """
    with the_store(ctx) as opened:
        found = opened.mark.listed(number, maker, limit)
    return say_facts("marks", found, as_json)


@command.command("change", epilog="\b\nExample:\n  xref mark change 4 --role casting\n")
@which
@click.option("--text", metavar="TEXT", callback=filled, help="What it reads.")
@click.option("--role", metavar="ROLE", callback=filled, help="As when it was noted.")
@source_option
@without_option(WITHOUT)
@click.pass_context
def change(
    ctx: click.Context,
    which: int,
    text: str | None,
    role: str | None,
    source: str | None,
    without: tuple[str, ...],
) -> int:
    """Change what is given of one mark and leave the rest."""
    gone = taken(without, WITHOUT)
    with the_store(ctx) as opened:
        done = opened.mark.change(
            which, text=text, role=role, source=or_none(source, "source", gone)
        )
    say_changed(done)
    return 0


@command.command("remove", epilog="\b\nExample:\n  xref mark remove 4\n")
@which
@click.pass_context
def remove(ctx: click.Context, which: int) -> int:
    """Remove one mark; a number mark is not searched any more."""
    with the_store(ctx) as opened:
        done = opened.mark.remove(which)
    say_changed(done)
    return 0
