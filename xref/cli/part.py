"""``xref part``: the user's own parts."""

from __future__ import annotations

import click

from xref.cli.app import echo_json, the_store, width
from xref.cli.facts import or_none, without_option
from xref.cli.noted import noted_group
from xref.cli.options import (
    SIZE_EXAMPLE,
    Whole,
    filled,
    json_option,
    kind_option,
    maker_option,
    pairs,
    size_option,
    source_option,
)
from xref.cli.written import say_written
from xref.errors import InputError


@click.group("part", epilog="\b\nExample:\n  xref part show 6204\n")
def command() -> None:
    """Write down, look up and change parts of your own."""


WITHOUT = ("kind", "words", "maker", "source", "order-instead", "note")

WORDS_HELP = "What it is, in your words."


@command.command(
    "add",
    epilog=(
        "\b\nExample:\n"
        '  xref part add QF-2214 --maker Quillfeather --kind casting --words "chain case"\n'
    ),
)
@click.argument("number")
@maker_option
@kind_option
@size_option
@click.option("--words", metavar="TEXT", callback=filled, help=WORDS_HELP)
@source_option
@json_option
@click.pass_context
def add(
    ctx: click.Context,
    number: str,
    maker: str | None,
    kind: str | None,
    sizes: tuple[str, ...],
    words: str | None,
    source: str | None,
    as_json: bool,
) -> int:
    """Add a part. Sizes are nominal: --size bore=20mm --size teeth=17."""
    from xref.services.parts import part as parts

    with the_store(ctx) as opened:
        twin = opened.part.namesake(number)
        part = opened.part.add(
            number,
            maker=maker or "",
            kind=kind or "",
            words=words or "",
            sizes=pairs(sizes, SIZE_EXAMPLE),
            source=source or "",
        )
        notes = opened.part.slips(pairs(sizes, SIZE_EXAMPLE))
    if twin:
        whose = f"{twin.maker}'s" if twin.maker else "one of no maker"
        click.echo(
            f"There is a {twin.number} already, {whose}. If this is the same part, take it back "
            "with xref undo.",
            err=True,
        )
    say_written(opened, as_json, parts.to_json(part), [f"Added {part.number}."])
    _say(notes)
    return 0


def _say(notes: list[str]) -> None:
    for note in notes:
        click.echo(f"Note: {note}", err=True)


@command.command("show", epilog="\b\nExample:\n  xref part show 6204\n")
@click.argument("number")
@maker_option
@json_option
@click.pass_context
def show(ctx: click.Context, number: str, maker: str | None, as_json: bool) -> int:
    """Show everything known of one part, your own or a standard's."""
    from xref.render.card import card_json, card_text

    with the_store(ctx) as opened:
        found = opened.part.card(number, maker)
    if as_json:
        echo_json(card_json(found))
    else:
        click.echo(card_text(found, width()))
    return 0


@command.command("change", epilog="\b\nExample:\n  xref part change QF-2214 --status superseded\n")
@click.argument("number")
@maker_option
@kind_option
@size_option
@click.option("--words", metavar="TEXT", help=f"{WORDS_HELP} An empty text removes it.")
@click.option(
    "--status",
    metavar="S",
    help="current, superseded, discontinued … (a wrong one is answered with all).",
)
@click.option(
    "--order-instead", metavar="TEXT", help="The assembly or kit to order where not sold alone."
)
@click.option("--new-number", metavar="N", callback=filled, help="Its number, put right.")
@click.option("--new-maker", metavar="M", callback=filled, help="Its maker, put right.")
@source_option
@without_option(WITHOUT, ", any of its sizes by name")
@click.pass_context
def change(
    ctx: click.Context,
    number: str,
    maker: str | None,
    kind: str | None,
    sizes: tuple[str, ...],
    words: str | None,
    status: str | None,
    order_instead: str | None,
    new_number: str | None,
    new_maker: str | None,
    source: str | None,
    without: tuple[str, ...],
) -> int:
    """Change what is given of a part and leave the rest.

    All that names it follows it to a new number.
    """
    gone = frozenset(name.strip().lower() for name in without)
    others = (words, status, order_instead, new_number, new_maker, source)
    if not (sizes or gone or kind) and all(word is None for word in others):
        raise InputError(
            "nothing to change is given",
            "Give --words, --kind, --size, --status, --order-instead, --new-number, --new-maker "
            "or --source, or --without what is to go.",
        )
    with the_store(ctx) as opened:
        done = opened.part.change(
            number,
            maker=maker,
            kind=kind,
            words=words,
            status=status,
            sizes=pairs(sizes, SIZE_EXAMPLE),
            order_instead=order_instead,
            new_number=new_number,
            new_maker=or_none(new_maker, "maker", gone),
            source=or_none(source, "source", gone),
            without=gone,
        )
        notes = opened.part.slips(pairs(sizes, SIZE_EXAMPLE))
    was, now = (f"{p.maker} {p.number}".strip() for p in (done.before, done.after))
    name = done.before.number
    click.echo(f"Changed {name}." if was == now else f"Changed {name}: it was {was}, it is {now}.")
    _say(notes)
    return 0


@command.command("remove", epilog="\b\nExample:\n  xref part remove NLA --with-links\n")
@click.argument("number")
@maker_option
@click.option(
    "--with-links", is_flag=True, help="Even where it stands in chains or the bench book."
)
@click.pass_context
def remove(ctx: click.Context, number: str, maker: str | None, with_links: bool) -> int:
    """Remove a part of your own and what hangs on it.

    With --with-links, what it stood in goes too, and is named.
    """
    from xref.cli.facts import say_changed

    with the_store(ctx) as opened:
        gone = opened.part.remove(number, maker, with_links)
    click.echo(f"Removed {gone.part.number}.")
    for link in gone.links:
        say_changed(link)
    return 0


@command.command("list", epilog="\b\nExample:\n  xref part list --kind bearing\n")
@kind_option
@maker_option
@click.option(
    "--standard", is_flag=True, help="List the standards' rows instead of your own parts."
)
@click.option("--limit", type=Whole(), default=200, show_default=True, help="Parts to list.")
@json_option
@click.pass_context
def list_(
    ctx: click.Context,
    kind: str | None,
    maker: str | None,
    standard: bool,
    limit: int,
    as_json: bool,
) -> int:
    """List your own parts in order of number."""
    from xref.domain.kinds import kind_from
    from xref.render.parts import parts_text
    from xref.services.parts import part as parts

    named = kind_from(kind) if kind else ""
    with the_store(ctx) as opened:
        found = opened.part.listed(named, maker or "", standard, limit)
    if as_json:
        echo_json(parts.many_to_json(found))
    else:
        click.echo(parts_text(found))
    return 0 if found else 1


for group in (
    noted_group(
        "price",
        "prices",
        "List the prices that came with parts, and put them right.",
        {
            "supplier": "Who asks it.",
            "price": "What is asked, as written.",
            "currency": "Its currency.",
            "seen": "When it was seen.",
            "note": "Anything else.",
        },
        ("supplier", "price", "currency", "seen", "note"),
    ),
    noted_group(
        "claim",
        "claims",
        "List what sources say against the record of a part, and put it right.",
        {"value": "What is claimed; a size with its unit.", "source": ""},
        ("source",),
    ),
    noted_group(
        "kept",
        "kept cells",
        "List the cells of lists that are kept with parts and not understood.",
        {"value": "What the cell says.", "label": "The heading it stands under."},
        (),
    ),
):
    command.add_command(group)
