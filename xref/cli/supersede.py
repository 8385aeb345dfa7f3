"""``xref supersede``."""

from __future__ import annotations

import click

from xref.cli.app import cautioned, mentioned, the_store
from xref.cli.options import Quantity, filled, maker_option, source_option

EXAMPLE = """
\b
Example:
  xref supersede QF-2214 QF-4471 --from-serial QW350 --source "Whimbrel Service Letters"
"""


@click.command("supersede", epilog=EXAMPLE)
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
@click.pass_context
def command(
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
) -> int:
    """Write down that OLD is superseded by NEW."""
    from xref.services.superseding import supersede

    with the_store(ctx) as opened, opened.store.writing("supersede") as unit:
        done = supersede(
            unit,
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
        unit.commit()
    mentioned(done.made)
    if done.cycle:
        click.echo(f"This closes a cycle: {' → '.join(done.cycle)}.", err=True)
    said = f"{done.old.number} → {', '.join(p.number for p in done.news)}"
    click.echo(f"{said} is already on record." if done.known else f"{said}.")
    cautioned(done.cautions)
    return 0
