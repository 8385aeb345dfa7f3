"""``xref wanted``: what is to be got."""

from __future__ import annotations

import click

from xref.cli.app import cautioned, echo_json, the_store
from xref.cli.facts import or_none, say_changed, taken, which, without_option
from xref.cli.options import Quantity, Whole, filled, json_option, machine_option
from xref.cli.written import say_written

WITHOUT = ("supplier", "price", "seen", "note", "machine")

_for_machine = machine_option("Leave out what is for another; what names none is for this one.")


@click.group("wanted", epilog="\b\nExample:\n  xref wanted list\n")
def command() -> None:
    """Keep what you need to get, and a page for a supplier."""


@command.command(
    "add",
    epilog=(
        "\b\nExample:\n"
        '  xref wanted add QF-1420 --quantity 2 --supplier Dunmarrow --price "4.20 GBP"\n'
    ),
)
@click.argument("need")
@click.option("--quantity", type=Quantity(), default=1.0, show_default=True, help="How many.")
@click.option("--supplier", metavar="S", help="Where to get it.")
@click.option("--price", metavar="P", help='One piece\'s price as seen: "4.20 GBP".')
@click.option("--seen", metavar="DATE", help="When the price was seen: 2026-11-25.")
@click.option("--note", metavar="TEXT", help="Anything else.")
@machine_option("The machine it is for: its serial may decide what to ask for.")
@json_option
@click.pass_context
def add(
    ctx: click.Context,
    need: str,
    quantity: float,
    supplier: str | None,
    price: str | None,
    seen: str | None,
    note: str | None,
    machine: str | None,
    as_json: bool,
) -> int:
    """Write down something to get.

    A number in the store, or a need in words.
    """
    from xref.render import wanted as render

    with the_store(ctx) as opened:
        ident = opened.wanted.add(
            need,
            quantity=quantity,
            supplier=supplier or "",
            price=price or "",
            seen=seen or "",
            note=note or "",
            machine=machine or "",
        )
        (line,) = opened.wanted.lines(ident=ident)
    lines = [f"Wanted, number {ident}.", *render.open_lines([line])]
    say_written(opened, as_json, render.line_json(line), lines)
    return 0


@command.command("list", epilog="\b\nExample:\n  xref wanted list\n")
@click.option("--supplier", metavar="S", help="Only from this supplier.")
@_for_machine
@click.option("--all", "all_", is_flag=True, help="Also what was got.")
@json_option
@click.pass_context
def list_(
    ctx: click.Context, supplier: str | None, machine: str | None, all_: bool, as_json: bool
) -> int:
    """List what is wanted, with what to ask for today."""
    from xref.render import wanted as render

    with the_store(ctx) as opened:
        rows = opened.wanted.lines(supplier or "", all_, machine=machine or "")
    if as_json:
        echo_json(render.wanted_json(rows))
    else:
        click.echo(render.wanted_text(rows))
        cautioned(text for line in rows for text in line.cautions)
    return 0


@command.command("done", epilog="\b\nExample:\n  xref wanted done 2\n")
@click.argument("ident", metavar="NUMBER", type=Whole())
@click.pass_context
def done(ctx: click.Context, ident: int) -> int:
    """Note that something wanted was got."""
    with the_store(ctx) as opened:
        row = opened.wanted.done(ident)
    click.echo(f"Got {row.need}.")
    return 0


@command.command("sheet", epilog="\b\nExample:\n  xref wanted sheet --supplier Dunmarrow\n")
@click.option("--supplier", metavar="S", help="Only from this supplier.")
@_for_machine
@click.option("--csv", "as_csv", is_flag=True, help="As CSV instead of Markdown.")
@click.pass_context
def sheet(ctx: click.Context, supplier: str | None, machine: str | None, as_csv: bool) -> int:
    """Print one page for a supplier; nothing is sent anywhere."""
    from xref.render import wanted as render
    from xref.render import wanted_page

    with the_store(ctx) as opened:
        rows = opened.wanted.lines(supplier or "", machine=machine or "")
    if as_csv:
        click.echo(wanted_page.page_csv(rows), nl=False)
        for told in render.open_lines(rows):
            click.echo(told, err=True)
    else:
        click.echo(wanted_page.page_markdown(supplier or "", rows))
    return 0 if rows else 1


@command.command("change", epilog="\b\nExample:\n  xref wanted change 2 --quantity 3\n")
@which
@click.option("--need", metavar="NEED", callback=filled, help="A number, or a need in words.")
@click.option("--quantity", type=Quantity(), help="How many.")
@click.option("--supplier", metavar="S", callback=filled, help="Where to get it.")
@click.option("--price", metavar="P", callback=filled, help="One piece's price as seen.")
@click.option("--seen", metavar="DATE", callback=filled, help="When the price was seen.")
@click.option("--note", metavar="TEXT", callback=filled, help="Anything else.")
@machine_option("The machine it is for.")
@click.option("--got/--not-got", default=None, help="It was got; it is wanted after all.")
@without_option(WITHOUT)
@click.pass_context
def change(
    ctx: click.Context,
    which: int,
    need: str | None,
    quantity: float | None,
    supplier: str | None,
    price: str | None,
    seen: str | None,
    note: str | None,
    machine: str | None,
    got: bool | None,
    without: tuple[str, ...],
) -> int:
    """Change what is given of something wanted and leave the rest."""
    gone = taken(without, WITHOUT)
    with the_store(ctx) as opened:
        done = opened.wanted.change(
            which,
            need=need,
            quantity=quantity,
            supplier=or_none(supplier, "supplier", gone),
            price=or_none(price, "price", gone),
            seen=or_none(seen, "seen", gone),
            note=or_none(note, "note", gone),
            got=got,
            machine=or_none(machine, "machine", gone),
        )
    say_changed(done)
    return 0


@command.command("remove", epilog="\b\nExample:\n  xref wanted remove 2\n")
@which
@click.pass_context
def remove(ctx: click.Context, which: int) -> int:
    """Remove something wanted, as though it had not been written down."""
    with the_store(ctx) as opened:
        done = opened.wanted.remove(which)
    say_changed(done)
    return 0
