"""``xref applies``."""

from __future__ import annotations

import click

from xref.cli.app import mentioned, the_store
from xref.cli.options import Quantity, filled, maker_option, source_option
from xref.errors import InputError

EXAMPLE = """
\b
Example:
  xref applies QF-2214 --model Whimbrel --from QW101 --to QW349 --assembly "chain drive"
"""


@click.command("applies", epilog=EXAMPLE)
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
@click.pass_context
def command(
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
) -> int:
    """Write down on which serials of a model a part belongs."""
    from xref.services import applying

    if serials and (low or high):
        raise InputError("the range is given twice", "Use --serials, or --from and --to.")
    with the_store(ctx) as opened, opened.store.writing("applies") as unit:
        done = applying.applies(
            unit,
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
        unit.commit()
    mentioned([done.part.number] if done.made else [])
    click.echo(f"{done.part.number}: {done.entry.shown()}.")
    return 0
