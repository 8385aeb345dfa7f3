"""What the commands on single facts share: a group that adds unless told otherwise, and how a
change is said."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from typing import TYPE_CHECKING, Any

import click

from xref.cli.app import echo_json, width
from xref.cli.options import Option, Whole, filled
from xref.domain.number import visible
from xref.errors import InputError

if TYPE_CHECKING:
    from xref.services.changing.fact import Changed, Fact

ADD = "add"


class AddingGroup(click.Group):
    """A group that writes down a new fact unless its first word is list, change or remove.

    A number that is called so is given after other options, or after ``--``.
    """

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """Put the word in that is left out."""
        named = bool(args) and (args[0] in self.commands or args[0] in ctx.help_option_names)
        if not named and (args or not ctx.resilient_parsing):
            args = [ADD, *args]
        return super().parse_args(ctx, args)

    def format_usage(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """How a fact is added, and how it is listed, changed and removed."""
        pieces = self.commands[ADD].collect_usage_pieces(ctx)
        formatter.write_usage(ctx.command_path, " ".join(pieces))
        others = "|".join(name for name in self.commands if name != ADD)
        formatter.write_usage(ctx.command_path, f"{others} …", prefix=" " * 7)

    def format_options(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """The options of adding, then the other commands."""
        click.Command.format_options(self.commands[ADD], ctx, formatter)
        self.format_commands(ctx, formatter)


which: Option = click.argument("which", metavar="ID", type=Whole(1, 999_999_999))
"""The number of a fact, as its list shows it."""

limit_option: Option = click.option(
    "--limit", type=Whole(), default=200, show_default=True, help="How many to list."
)


def without_option(names: Sequence[str], more: str = "") -> Option:
    """--without, for what can be taken from a fact."""
    return click.option(
        "--without",
        multiple=True,
        metavar="WHAT",
        callback=filled,
        help=f"Take this away: {', '.join(names)}{more}.",
    )


def taken(without: Iterable[str], names: Collection[str]) -> frozenset[str]:
    """What --without names. Raises InputError for what is none of ``names``."""
    found = frozenset(text.strip().lower() for text in without)
    for text in sorted(found - frozenset(names)):
        raise InputError(f'"{visible(text)}" cannot be taken away', f"Use {', '.join(names)}.")
    return found


def or_none(given: Any, name: str, without: Collection[str], blank: Any = "") -> Any:
    """What is given now; ``blank`` where it is taken away, None where it stays."""
    if name not in without:
        return given
    if given is not None and given != ():
        raise InputError(f"{name} is given and taken away", "Leave one of them out.")
    return blank


def say_facts(name: str, facts: Sequence[Fact], as_json: bool) -> int:
    """Print facts, a line each, or as one JSON document."""
    from xref.render.facts import facts_text

    if as_json:
        echo_json({name: [fact.to_json() for fact in facts]})
    else:
        click.echo(facts_text(facts, width()))
    return 0 if facts else 1


def say_changed(done: Changed) -> None:
    """Print what became of one fact."""
    from xref.render.facts import changed_lines

    click.echo("\n".join(changed_lines(done)))


def say_named(done: Changed) -> None:
    """Print what became of a source, a model or a machine."""
    from xref.render.facts import named_lines

    click.echo("\n".join(named_lines(done)))
