"""``xref machine``: the user's machines."""

from __future__ import annotations

import click

from xref.cli.app import echo_json, the_store
from xref.cli.facts import say_named
from xref.cli.options import filled, json_option, pairs
from xref.cli.written import say_written


@click.group("machine", epilog="\b\nExample:\n  xref machine list\n")
def command() -> None:
    """Write down your machines and their serials."""


@command.command(
    "add",
    epilog=(
        "\b\nExample:\n"
        '  xref machine add "QW 312" --model Whimbrel --serial QW312 --maker Quillfeather\n'
        '    --component "engine=E 1187@crankcase, left" --prefixes QW\n'
    ),
)
@click.argument("name")
@click.option("--model", required=True, metavar="X", help="The model, made when first named.")
@click.option("--serial", required=True, metavar="S", help="Its works serial.")
@click.option("--maker", metavar="M", help="Who built it.")
@click.option(
    "--component",
    "components",
    multiple=True,
    metavar="C=SERIAL",
    help="Another serial: engine, gearbox …; after @ where it is stamped.",
)
@click.option("--stamped", metavar="WHERE", help="Where the works serial is stamped.")
@click.option("--prefixes", metavar="P,P…", help="The model's serial prefixes in order of build.")
@json_option
@click.pass_context
def add(
    ctx: click.Context,
    name: str,
    model: str,
    serial: str,
    maker: str | None,
    components: tuple[str, ...],
    stamped: str | None,
    prefixes: str | None,
    as_json: bool,
) -> int:
    """Add a machine, or more serials to one that is there."""
    with the_store(ctx) as opened:
        added = opened.machine.add(
            name,
            model=model,
            serial=serial,
            maker=maker or "",
            components=pairs(components, '--component "engine=E 1187"'),
            stamped=stamped or "",
            prefixes=[p for p in (prefixes or "").replace(",", " ").split() if p],
        )
    named = added.machine
    lines = [f"{'Changed' if added.known else 'Added'} {named.name}, a {named.model}."]
    lines += [f"Its {what} serial was {old} and is {new} now." for what, old, new in added.changed]
    changed = [{"component": what, "was": old, "now": new} for what, old, new in added.changed]
    document = {**named.to_json(), "was_there": added.known, "changed": changed}
    say_written(opened, as_json, document, lines)
    return 0


@command.command("list", epilog="\b\nExample:\n  xref machine list\n")
@json_option
@click.pass_context
def list_(ctx: click.Context, as_json: bool) -> int:
    """List your machines with their serials."""
    from xref.render.links import machines_text

    with the_store(ctx) as opened:
        found = opened.machine.every()
    if as_json:
        echo_json({"machines": [m.to_json() for m in found]})
    else:
        click.echo(machines_text(found))
    return 0


@command.command("change", epilog='\b\nExample:\n  xref machine change "QW 312" --name Hettie\n')
@click.argument("name")
@click.option("--name", "new_name", metavar="N", callback=filled, help="What it is called.")
@click.option("--model", metavar="X", callback=filled, help="The model, made when first named.")
@click.option("--serial", metavar="S", callback=filled, help="Its works serial.")
@click.option(
    "--component",
    "components",
    multiple=True,
    metavar="C=SERIAL",
    help="Another serial; after @ where it is stamped.",
)
@click.option(
    "--without",
    multiple=True,
    metavar="C",
    callback=filled,
    help="Take a component's serial away: engine, gearbox …",
)
@click.pass_context
def change(
    ctx: click.Context,
    name: str,
    new_name: str | None,
    model: str | None,
    serial: str | None,
    components: tuple[str, ...],
    without: tuple[str, ...],
) -> int:
    """Change what is given of a machine and leave the rest."""

    serials = pairs(components, '--component "engine=E 1187"')
    if serial:
        serials["works"] = serial
    with the_store(ctx) as opened:
        done = opened.machine.change(
            name, new_name=new_name, model=model, serials=serials, without=without
        )
    say_named(done)
    return 0


@command.command("remove", epilog='\b\nExample:\n  xref machine remove "QW 312"\n')
@click.argument("name")
@click.option("--keep-items", is_flag=True, help="Keep bench items from it, without a machine.")
@click.pass_context
def remove(ctx: click.Context, name: str, keep_items: bool) -> int:
    """Remove a machine; the ranges of its model stay."""
    with the_store(ctx) as opened:
        done = opened.machine.remove(name, keep_items)
    say_named(done)
    return 0
