"""``xref bench``: the bench book."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from xref.cli.app import cautioned, echo_json, the_store, width
from xref.cli.facts import say_changed
from xref.cli.options import Whole, filled, json_option, maker_option
from xref.cli.question import asked, asked_anew, question_options
from xref.cli.written import say_written


@click.group("bench", epilog='\b\nExample:\n  xref bench add "chain case, left" --mark "QF 44?1"\n')
def command() -> None:
    """Keep what lies on the bench, and what became of it.

    What was found, what it was decided to be, and how it fitted.
    """


@command.command(
    "add",
    epilog=(
        "\b\nExample:\n"
        '  xref bench add "chain case, left" --mark "QF 447?" --machine "QW 312"\n'
        '    --assembly "chain drive" --side left\n'
    ),
)
@click.argument("place")
@question_options
@click.option("--assembly", metavar="A", help="The assembly it came off.")
@click.option("--side", metavar="TEXT", help="Which side.")
@click.option("--position", metavar="TEXT", help="Where in the row, counted from where.")
@click.option("--orientation", metavar="TEXT", help="Which way round.")
@click.option("--shims", metavar="TEXT", help="Shims as found.")
@click.option("--neighbours", metavar="TEXT", help="What sat beside it.")
@click.option("--photo", "photos", multiple=True, metavar="FILE", help="Copied beside the store.")
@click.option("--note", metavar="TEXT", help="Anything else.")
@json_option
@click.pass_context
def add(ctx: click.Context, /, place: str, as_json: bool, **given: Any) -> int:
    """Put a part on the bench; PLACE is where it came off. Prints the number for its label."""
    from xref.services.bench import bench as benching

    found = {name: given[name] or "" for name in benching.FOUND}
    with the_store(ctx) as opened:
        ident = opened.bench.add(
            place,
            asked(given),
            assembly=given["assembly"] or "",
            found=found,
            note=given["note"] or "",
            photos=[Path(name) for name in given["photos"]],
        )
    say_written(opened, as_json, {"label": ident}, [f"On the bench with label {ident}."])
    return 0


@command.command("list", epilog="\b\nExample:\n  xref bench list --undecided\n")
@click.option("--undecided", is_flag=True, help="Only what is not decided, with its next check.")
@json_option
@click.pass_context
def list_(ctx: click.Context, undecided: bool, as_json: bool) -> int:
    """List what lies on the bench.

    What is undecided with its best next check.
    """
    from xref.render import bench as render

    with the_store(ctx) as opened:
        found = opened.bench.overview(undecided)
    if as_json:
        echo_json(render.list_json(found.items, found.still, found.numbers, found.cautions))
    else:
        click.echo(render.list_text(found.items, found.still, found.numbers, width()))
        cautioned(text for texts in found.cautions.values() for text in texts)
    return 0


@command.command("show", epilog="\b\nExample:\n  xref bench show 3\n")
@click.argument("label", type=Whole())
@json_option
@click.pass_context
def show(ctx: click.Context, label: int, as_json: bool) -> int:
    """Show everything kept of one part on the bench."""
    from xref.render import bench as render

    with the_store(ctx) as opened:
        found = opened.bench.one(label)
    (item,), mind = found.items, found.cautions[label]
    if as_json:
        echo_json({**render.item_json(item, found.numbers), "cautions": list(mind)})
    else:
        click.echo(render.item_text(item, found.numbers, width()))
        cautioned(mind)
    return 0


@command.command("decide", epilog="\b\nExample:\n  xref bench decide 3 QF-4471\n")
@click.argument("label", type=Whole())
@click.argument("number")
@maker_option
@json_option
@click.pass_context
def decide(ctx: click.Context, label: int, number: str, maker: str | None, as_json: bool) -> int:
    """Write down what a part was decided to be.

    What its odds were is kept with it.
    """
    from xref.render.identify import odds_text

    with the_store(ctx) as opened:
        told = opened.bench.decide(label, number, maker)
    document = {"label": label, "number": told.part.number, "odds": told.odds}
    line = f"Label {label} is {told.part.number}; its odds were {odds_text(told.odds)}."
    say_written(opened, as_json, document, [line], told.made, told.cautions)
    return 0


@command.command(
    "outcome", epilog='\b\nExample:\n  xref bench outcome 3 fitted "went in after cleaning"\n'
)
@click.argument("label", type=Whole())
@click.argument("result", metavar="fitted|did-not-fit|returned")
@click.argument("why", required=False, default="")
@click.option("--in-place-of", metavar="NUMBER", help="The number it was fitted in place of.")
@click.pass_context
def outcome(ctx: click.Context, label: int, result: str, why: str, in_place_of: str | None) -> int:
    """Write down how the part fitted.

    What was tried outranks any table from then on. A part that went back to whoever sold it,
    tried or not, is returned.
    """
    from xref.services.bench import outcome as trying

    with the_store(ctx) as opened:
        part, facts, mind = opened.bench.outcome(label, result, why, in_place_of or "")
    click.echo(f"Label {label}, {part.number}: {trying.SAME.get(result, result)}.")
    for fact in facts:
        click.echo(f"Noted as tried: {fact}.")
    cautioned(mind)
    return 0


@command.command(
    "change", epilog="\b\nExample:\n  xref bench change 3 --bore 20.1mm --without decision\n"
)
@click.argument("label", type=Whole())
@click.option("--place", metavar="TEXT", callback=filled, help="Where it came off.")
@question_options
@click.option("--assembly", metavar="A", callback=filled, help="The assembly it came off.")
@click.option("--side", metavar="TEXT", callback=filled, help="Which side.")
@click.option("--position", metavar="TEXT", callback=filled, help="Where in the row.")
@click.option("--orientation", metavar="TEXT", callback=filled, help="Which way round.")
@click.option("--shims", metavar="TEXT", callback=filled, help="Shims as found.")
@click.option("--neighbours", metavar="TEXT", callback=filled, help="What sat beside it.")
@click.option("--photo", "photos", multiple=True, metavar="FILE", help="One more photo.")
@click.option("--note", metavar="TEXT", callback=filled, help="Anything else.")
@click.option(
    "--without",
    multiple=True,
    metavar="WHAT",
    callback=filled,
    help="Take this away: decision, outcome, mark, a size or a photo by name …",
)
@click.pass_context
def change(ctx: click.Context, /, label: int, **given: Any) -> int:
    """Change what is given of a part on the bench and leave the rest.

    Marks given now stand in place of all before; sizes go by name.
    """
    from xref.services.bench import bench as benching

    with the_store(ctx) as opened:
        done = opened.bench.change(
            label,
            place=given["place"],
            assembly=given["assembly"],
            note=given["note"],
            found={name: given[name] for name in benching.FOUND if given[name]},
            asked=asked_anew(ctx, given),
            photos=[Path(name) for name in given["photos"]],
            without=frozenset(given["without"]),
        )
    say_changed(done)
    return 0


@command.command("remove", epilog="\b\nExample:\n  xref bench remove 3\n")
@click.argument("label", type=Whole())
@click.pass_context
def remove(ctx: click.Context, label: int) -> int:
    """Take a part out of the bench book."""
    with the_store(ctx) as opened:
        done = opened.bench.remove(label)
    say_changed(done)
    return 0
