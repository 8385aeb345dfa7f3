"""``xref draw``."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from xref.cli.app import the_store, width
from xref.cli.options import filled, machine_option, maker_option
from xref.errors import InputError

if TYPE_CHECKING:
    from xref.render.draw.figure import Drawing
    from xref.services.open import OpenStore

EXAMPLE = """
\b
Example:
  xref draw 6204 -o bearing.svg --with 6304
"""


@click.command("draw", epilog=EXAMPLE)
@click.argument("number", nargs=-1, required=True)
@click.option(
    "-o",
    "--output",
    "output",
    metavar="FILE.svg",
    callback=filled,
    help="Where the drawing goes; one that is there is replaced. Needed.",
)
@click.option(
    "--with", "other", metavar="OTHER", callback=filled, help="Lay this part over it, dashed."
)
@click.option("--chain", is_flag=True, help="Draw what it was superseded by and what it replaced.")
@click.option(
    "--ranges",
    is_flag=True,
    help="Draw its serial ranges; with several numbers also the range they share.",
)
@machine_option("Mark this machine's serial among the ranges; leave out steps of other serials.")
@maker_option
@click.pass_context
def command(
    ctx: click.Context,
    number: tuple[str, ...],
    output: str | None,
    other: str | None,
    chain: bool,
    ranges: bool,
    machine: str | None,
    maker: str | None,
) -> int:
    """Draw a part, its chain or its serial ranges.

    To scale, as an SVG file. Letters stand in the drawing, and their sizes are printed. Only sizes
    on record are dimensioned.
    """
    from xref.cli.picture import save, svg_path
    from xref.render.drawing import drawing_text

    if output is None:
        raise InputError("no file is named", "Say where the drawing goes: -o case.svg.")
    path = svg_path(output)
    _refuse(number, other, chain, ranges, machine)
    with the_store(ctx) as opened:
        if ranges:
            drawing = _ranges(opened, number, maker, machine)
        elif chain:
            drawing = _chain(opened, number[0], maker, machine)
        else:
            drawing = _part(opened, number[0], maker, other)
    click.echo(save(path, drawing))
    click.echo(drawing_text(drawing, width()))
    return 0


def _refuse(
    number: tuple[str, ...], other: str | None, chain: bool, ranges: bool, machine: str | None
) -> None:
    if chain + ranges + (other is not None) > 1:
        raise InputError("--with, --chain and --ranges are different drawings", "Give one of them.")
    if len(number) > 1 and not ranges:
        raise InputError(
            "several numbers are named", "Name one, or add --ranges; --with lays a second over it."
        )
    if machine and not (chain or ranges):
        raise InputError("--machine says nothing of a part's shape", "Add --ranges or --chain.")


def _part(opened: OpenStore, number: str, maker: str | None, other: str | None) -> Drawing:
    from xref.render.draw.closures import closed_of
    from xref.render.draw.part import draw_both, draw_part, subject_of

    one = subject_of(opened.part.look_up(number, maker), closed_of(number))
    if other is None:
        return draw_part(one)
    return draw_both(one, subject_of(opened.part.look_up(other), closed_of(other)))


def _chain(opened: OpenStore, number: str, maker: str | None, machine: str | None) -> Drawing:
    from xref.render.draw.chain import chain_of, draw_chain

    traced = opened.trace(number, maker=maker, machine=machine)
    return draw_chain(f"{traced.part.number}: chain of supersession", *chain_of(traced))


def _ranges(
    opened: OpenStore, numbers: tuple[str, ...], maker: str | None, machine: str | None
) -> Drawing:
    from xref.render.draw.ranges import draw_ranges, panels_of

    found = opened.ranged(numbers, maker=maker, machine=machine)
    panels, unread = panels_of(found.entries, found.machine, found.donor)
    named = numbers[0] if len(numbers) == 1 else f"{numbers[0]} and {len(numbers) - 1} more"
    beside = f", and {found.machine.name}" if found.machine else ""
    return draw_ranges(f"{named}: serial ranges{beside}", panels, unread)
