"""``xref applies``."""

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
from xref.errors import InputError

EXAMPLE = """
\b
Example:
  xref applies QF-2214 --model Whimbrel --from QW101 --to QW349 --assembly "chain drive"
"""


WITHOUT = ("serials", "assembly", "quantity", "source", "note")


@click.group("applies", cls=AddingGroup, epilog=EXAMPLE)
def command() -> None:
    """Write down on which serials of a model a part belongs, or change what is written."""


@command.command("add", hidden=True, epilog=EXAMPLE.replace("xref applies", "xref applies add"))
@click.argument("number")
@click.option("--model", required=True, metavar="X", help="The model, made when first named.")
@click.option(
    "--from",
    "low",
    metavar="S",
    callback=filled,
    help="The first serial; left out: from the beginning.",
)
@click.option(
    "--to",
    "high",
    metavar="S",
    callback=filled,
    help="The last serial, included; left out: and up.",
)
@click.option(
    "--serials",
    metavar="TEXT",
    callback=filled,
    help='As the book writes it: "QW101-QW349 exc. 230-240".',
)
@click.option(
    "--counts", "component", default="works", metavar="C", help="Which serial: engine, gearbox …"
)
@click.option("--assembly", metavar="A", help="The assembly it is part of.")
@click.option("--quantity", type=Quantity(), help="How many a machine.")
@click.option("--not", "not_", is_flag=True, help="It does NOT fit there.")
@source_option
@click.option("--note", metavar="TEXT", help="A note on this range.")
@maker_option
@json_option
@click.pass_context
def add(
    ctx: click.Context,
    number: str,
    model: str,
    low: str | None,
    high: str | None,
    serials: str | None,
    component: str,
    assembly: str | None,
    quantity: float | None,
    not_: bool,
    source: str | None,
    note: str | None,
    maker: str | None,
    as_json: bool,
) -> int:
    """Write down on which serials of a model a part belongs."""
    from xref.services.links import applies as applying

    if serials and (low or high):
        raise InputError("the range is given twice", "Use --serials, or --from and --to.")
    with the_store(ctx) as opened:
        done = opened.applies.add(
            number,
            model=model,
            serials=serials or applying.serials_from(low or "", high or ""),
            fits=not not_,
            component=component,
            assembly=assembly or "",
            quantity=quantity,
            source=source or "",
            note=note or "",
            maker=maker,
        )
    lines = [f"{done.part.number}: {done.entry.shown()}."]
    for gone in done.replaced:
        lines.append(f"In place of {gone.shown()}, which {gone.source or 'you'} said before.")
    document = {
        "number": done.part.number,
        "maker": done.part.own_maker or None,
        "range": done.entry.to_json(),
        "in_place_of": [gone.to_json() for gone in done.replaced],
    }
    say_written(opened, as_json, document, lines, [done.part.number] if done.made else [])
    return 0


@command.command("list", epilog="\b\nExample:\n  xref applies list QF-2214\n")
@click.argument("number", required=False)
@click.option("--model", metavar="X", callback=filled, help="Only ranges on this model.")
@maker_option
@limit_option
@json_option
@click.pass_context
def list_(
    ctx: click.Context,
    number: str | None,
    model: str | None,
    maker: str | None,
    limit: int,
    as_json: bool,
) -> int:
    """List ranges with their numbers.

    Of one part, on one model, or all.
    """
    with the_store(ctx) as opened:
        found = opened.applies.listed(number, maker, model or "", limit)
    return say_facts("ranges", found, as_json)


@command.command("change", epilog="\b\nExample:\n  xref applies change 3 --to QW360\n")
@which
@click.option("--model", metavar="X", callback=filled, help="The model, made when first named.")
@click.option("--from", "low", metavar="S", callback=filled, help="The first serial.")
@click.option("--to", "high", metavar="S", callback=filled, help="The last serial, included.")
@click.option("--serials", metavar="TEXT", callback=filled, help="As the book writes it.")
@click.option("--counts", "component", metavar="C", callback=filled, help="Which serial counts.")
@click.option("--assembly", metavar="A", callback=filled, help="The assembly it is part of.")
@click.option("--quantity", type=Quantity(), help="How many a machine.")
@click.option("--fits/--not", "fits", default=None, help="It goes in there; it does NOT.")
@source_option
@click.option("--note", metavar="TEXT", callback=filled, help="A note on this range.")
@without_option(WITHOUT)
@click.pass_context
def change(
    ctx: click.Context,
    which: int,
    model: str | None,
    low: str | None,
    high: str | None,
    serials: str | None,
    component: str | None,
    assembly: str | None,
    quantity: float | None,
    fits: bool | None,
    source: str | None,
    note: str | None,
    without: tuple[str, ...],
) -> int:
    """Change what is given of one range and leave the rest.

    With --from or --to alone, the other end stays.
    """
    gone = taken(without, WITHOUT)
    if serials and (low or high):
        raise InputError("the range is given twice", "Use --serials, or --from and --to.")
    whole = or_none(serials or low or high, "serials", gone)
    with the_store(ctx) as opened:
        done = opened.applies.change(
            which,
            model=model,
            serials=None if low or high else whole,
            low=low or "",
            high=high or "",
            fits=fits,
            component=component,
            assembly=or_none(assembly, "assembly", gone),
            quantity=or_none(quantity, "quantity", gone, 0.0),
            source=or_none(source, "source", gone),
            note=or_none(note, "note", gone),
        )
    say_changed(done)
    return 0


@command.command("remove", epilog="\b\nExample:\n  xref applies remove 3\n")
@which
@click.pass_context
def remove(ctx: click.Context, which: int) -> int:
    """Remove one range."""
    with the_store(ctx) as opened:
        done = opened.applies.remove(which)
    say_changed(done)
    return 0
