"""``xref supersede``."""

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
from xref.cli.options import Quantity, filled, json_option, maker_option, source_option
from xref.cli.written import say_written

EXAMPLE = """
\b
Example:
  xref supersede QF-2214 QF-4471 --from-serial QW350 --source "Whimbrel Service Letters"
"""


WITHOUT = ("serials", "model", "with", "source", "date", "reason")


@click.group("supersede", cls=AddingGroup, epilog=EXAMPLE)
def command() -> None:
    """Write down that OLD is superseded by NEW, or change what is written."""


@command.command("add", hidden=True, epilog=EXAMPLE.replace("xref supersede", "xref supersede add"))
@click.argument("old")
@click.argument("new", nargs=-1, required=True)
@click.option("--as", "kind", metavar="HOW", help="one, set (all of them) or choice (any of them).")
@click.option(
    "--serves-back", is_flag=True, help="The old still serves where the new is asked for."
)
@click.option(
    "--from-serial",
    "serials",
    metavar="S",
    callback=filled,
    help="The serials it holds for: QW350, to QW400 …",
)
@click.option("--model", metavar="X", callback=filled, help="The model those serials count on.")
@click.option("--quantity", type=Quantity(), default=1.0, help="How many new ones replace one old.")
@click.option("--with", "companions", multiple=True, metavar="NUMBER", help="Change it as well.")
@click.option("--record-anyway", is_flag=True, help="Even where the book closes a cycle.")
@source_option
@click.option("--date", metavar="D", help="When, as the source gives it.")
@click.option("--reason", metavar="TEXT", help="Why, in its words.")
@maker_option
@json_option
@click.pass_context
def add(
    ctx: click.Context,
    old: str,
    new: tuple[str, ...],
    kind: str | None,
    serves_back: bool,
    serials: str | None,
    model: str | None,
    quantity: float,
    companions: tuple[str, ...],
    record_anyway: bool,
    source: str | None,
    date: str | None,
    reason: str | None,
    maker: str | None,
    as_json: bool,
) -> int:
    """Write down that OLD is superseded by NEW."""
    with the_store(ctx) as opened:
        done = opened.supersede.add(
            old,
            new,
            kind=kind or "",
            serves_back=serves_back,
            serials=serials or "",
            model=model or "",
            quantity=quantity,
            companions=companions,
            record_anyway=record_anyway,
            source=source or "",
            date=date or "",
            reason=reason or "",
            maker=maker,
        )
    if done.cycle:
        click.echo(f"This closes a cycle: {' → '.join(done.cycle)}.", err=True)
    said = f"{done.old.number} → {', '.join(p.number for p in done.news)}"
    line = f"{said} is already on record." if done.known else f"{said}."
    document = {
        "old": done.old.number,
        "new_numbers": [part.number for part in done.news],
        "was_there": done.known,
        "cycle": list(done.cycle),
    }
    say_written(opened, as_json, document, [line], done.made, done.cautions)
    return 0


@command.command("list", epilog="\b\nExample:\n  xref supersede list QF-2214\n")
@click.argument("number", required=False)
@maker_option
@limit_option
@json_option
@click.pass_context
def list_(
    ctx: click.Context, number: str | None, maker: str | None, limit: int, as_json: bool
) -> int:
    """List supersessions with their numbers.

    Those that name one part, or all.
    """
    with the_store(ctx) as opened:
        found = opened.supersede.listed(number, maker, limit)
    return say_facts("supersessions", found, as_json)


@command.command("change", epilog="\b\nExample:\n  xref supersede change 2 --new QF-4472\n")
@which
@click.option("--new", "news", multiple=True, metavar="NUMBER", help="What takes its place now.")
@click.option("--as", "kind", metavar="HOW", callback=filled, help="one, set or choice.")
@click.option(
    "--serves-back/--not-back", default=None, help="The old still serves for the new; it does not."
)
@click.option("--from-serial", "serials", metavar="S", callback=filled, help="The serials.")
@click.option("--model", metavar="X", callback=filled, help="The model those serials count on.")
@click.option("--quantity", type=Quantity(), help="How many new ones replace one old.")
@click.option("--with", "companions", multiple=True, metavar="NUMBER", help="Change it as well.")
@click.option("--record-anyway", is_flag=True, help="Even where the book closes a cycle.")
@source_option
@click.option("--date", metavar="D", callback=filled, help="When, as the source gives it.")
@click.option("--reason", metavar="TEXT", callback=filled, help="Why, in its words.")
@without_option(WITHOUT)
@click.pass_context
def change(
    ctx: click.Context,
    which: int,
    news: tuple[str, ...],
    kind: str | None,
    serves_back: bool | None,
    serials: str | None,
    model: str | None,
    quantity: float | None,
    companions: tuple[str, ...],
    record_anyway: bool,
    source: str | None,
    date: str | None,
    reason: str | None,
    without: tuple[str, ...],
) -> int:
    """Change what is given of one supersession and leave the rest."""
    gone = taken(without, WITHOUT)
    with the_store(ctx) as opened:
        done = opened.supersede.change(
            which,
            news=news or None,
            kind=kind,
            serves_back=serves_back,
            serials=or_none(serials, "serials", gone),
            model=or_none(model, "model", gone),
            quantity=quantity,
            companions=or_none(companions or None, "with", gone, ()),
            record_anyway=record_anyway,
            source=or_none(source, "source", gone),
            date=or_none(date, "date", gone),
            reason=or_none(reason, "reason", gone),
        )
    say_changed(done)
    return 0


@command.command("remove", epilog="\b\nExample:\n  xref supersede remove 2\n")
@which
@click.pass_context
def remove(ctx: click.Context, which: int) -> int:
    """Remove one supersession; its parts stay."""
    with the_store(ctx) as opened:
        done = opened.supersede.remove(which)
    say_changed(done)
    return 0
