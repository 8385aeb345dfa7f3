"""What ``xref part price``, ``claim`` and ``kept`` share: facts that lists brought along."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import click

from xref.cli.app import the_store
from xref.cli.facts import limit_option, say_changed, say_facts, taken, which, without_option
from xref.cli.options import filled, json_option, maker_option, source_option
from xref.errors import InputError


def noted_group(
    kind: str, plural: str, about: str, fields: Mapping[str, str], without: tuple[str, ...]
) -> click.Group:
    """The group that lists, changes and removes facts of a sort, said in ``about``.

    ``fields`` maps what can be given to its help; what ``without`` names can be taken away.
    """

    @click.group(kind, epilog=f"\b\nExample:\n  xref part {kind} list QF-2214\n", help=about)
    def group() -> None:
        pass

    @group.command(
        "list",
        epilog=f"\b\nExample:\n  xref part {kind} list QF-2214\n",
        help=f"List {plural} with their numbers.\n\nThose of one part, or all.",
    )
    @click.argument("number", required=False)
    @maker_option
    @limit_option
    @json_option
    @click.pass_context
    def list_(
        ctx: click.Context, number: str | None, maker: str | None, limit: int, as_json: bool
    ) -> int:

        with the_store(ctx) as opened:
            found = opened.noted.listed(kind, number, maker, limit)
        return say_facts(plural.replace(" ", "_"), found, as_json)

    first = next(iter(fields))

    @group.command(
        "change",
        epilog=f"\b\nExample:\n  xref part {kind} change 4 --{first} TEXT\n",
        help=f"Change what is given of one of the {plural} and leave the rest.",
    )
    @which
    @click.pass_context
    def change(ctx: click.Context, /, which: int, **given: Any) -> int:

        gone = taken(given.pop("without", ()), without)
        source = given.pop("source", None)
        twice = [n for n in gone if (source if n == "source" else given.get(n)) is not None]
        if twice:
            raise InputError(f"{twice[0]} is given and taken away", "Leave one of them out.")
        values = {name: text for name, text in given.items() if text is not None}
        values |= dict.fromkeys(gone - {"source"}, "")
        with the_store(ctx) as opened:
            done = opened.noted.change(kind, which, values, "" if "source" in gone else source)
        say_changed(done)
        return 0

    for name, help_ in fields.items():
        option = click.option(f"--{name}", metavar="TEXT", callback=filled, help=help_)
        change = (source_option if name == "source" else option)(change)
    if without:
        change = without_option(without)(change)

    @group.command(
        "remove",
        epilog=f"\b\nExample:\n  xref part {kind} remove 4\n",
        help=f"Remove one of the {plural}.",
    )
    @which
    @click.pass_context
    def remove(ctx: click.Context, which: int) -> int:

        with the_store(ctx) as opened:
            done = opened.noted.remove(kind, which)
        say_changed(done)
        return 0

    return group
