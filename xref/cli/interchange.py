"""``xref interchange``."""

from __future__ import annotations

import click

from xref.cli.app import the_store
from xref.cli.facts import (
    AddingGroup,
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

EXAMPLE = """
\b
Example:
  xref interchange "D 70-0142" QF-4471 --grade same --source "Dunmarrow Price List"
"""


WITHOUT = ("source", "note")


@click.group("interchange", cls=AddingGroup, epilog=EXAMPLE)
def command() -> None:
    """Write down that A and B serve for each other, or change what is written.

    With --grade, how sure that is.
    """


@command.command(
    "add", hidden=True, epilog=EXAMPLE.replace("xref interchange", "xref interchange add")
)
@click.argument("a")
@click.argument("b")
@click.option(
    "--grade",
    required=True,
    metavar="G",
    help="same, stated, with-work, tried-fits or tried-does-not-fit.",
)
@click.option("--one-way", is_flag=True, help="A serves for B, but B not for A.")
@source_option
@click.option("--note", metavar="TEXT", help="What work, or what did not fit.")
@json_option
@click.pass_context
def add(
    ctx: click.Context,
    a: str,
    b: str,
    grade: str,
    one_way: bool,
    source: str | None,
    note: str | None,
    as_json: bool,
) -> int:
    """Write down that A and B serve for each other.

    With --grade, how sure that is.
    """
    from xref.services.links.interchange import TOLD

    with the_store(ctx) as opened:
        done = opened.interchange.add(
            a, b, grade=grade, one_way=one_way, source=source or "", note=note or ""
        )
    sign = "→" if one_way else "↔"
    document = {
        "number": done.part.number,
        "other": done.other.number,
        "grade": grade,
        "both_ways": not one_way,
        "source": source or None,
        "note": note or None,
    }
    line = f"{done.part.number} {sign} {done.other.number}: {TOLD[grade]}."
    say_written(opened, as_json, document, [line], done.made, done.cautions)
    return 0


@command.command("list", epilog="\b\nExample:\n  xref interchange list QF-4471\n")
@click.argument("number", required=False)
@maker_option
@limit_option
@json_option
@click.pass_context
def list_(
    ctx: click.Context, number: str | None, maker: str | None, limit: int, as_json: bool
) -> int:
    """List interchanges with their numbers.

    Those of one part, or all.
    """
    with the_store(ctx) as opened:
        found = opened.interchange.listed(number, maker, limit)
    return say_facts("interchanges", found, as_json)


@command.command("change", epilog="\b\nExample:\n  xref interchange change 1 --grade stated\n")
@which
@click.option("--grade", metavar="G", callback=filled, help="As when it was written down.")
@click.option("--one-way/--both-ways", default=None, help="A serves for B alone; each for each.")
@source_option
@click.option("--note", metavar="TEXT", callback=filled, help="What work, or what did not fit.")
@without_option(WITHOUT)
@click.pass_context
def change(
    ctx: click.Context,
    which: int,
    grade: str | None,
    one_way: bool | None,
    source: str | None,
    note: str | None,
    without: tuple[str, ...],
) -> int:
    """Change what is given of one interchange and leave the rest."""
    gone = taken(without, WITHOUT)
    with the_store(ctx) as opened:
        done = opened.interchange.change(
            which,
            grade=grade,
            one_way=one_way,
            source=or_none(source, "source", gone),
            note=or_none(note, "note", gone),
        )
    say_changed(done)
    return 0


@command.command("remove", epilog="\b\nExample:\n  xref interchange remove 1\n")
@which
@click.pass_context
def remove(ctx: click.Context, which: int) -> int:
    """Remove one interchange.

    Two parts that it made one thing are two again.
    """
    with the_store(ctx) as opened:
        done = opened.interchange.remove(which)
    say_changed(done)
    return 0
