"""What is asked about a part: options alike in every command, and what they become."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

import click

from xref.cli.options import (
    SIZE_EXAMPLE,
    Option,
    filled,
    kind_option,
    machine_option,
    pairs,
    size_option,
)

if TYPE_CHECKING:
    from xref.services.question import Asked

SIZES: tuple[Option, ...] = (
    click.option(
        "--bore",
        metavar="V",
        multiple=True,
        callback=filled,
        help="Bore, with its unit: 20mm, 1-3/8in, 0.500in.",
    ),
    click.option(
        "--outside", metavar="V", multiple=True, callback=filled, help="Outside diameter."
    ),
    click.option(
        "--width",
        "width_",
        metavar="V",
        multiple=True,
        callback=filled,
        help="Width over everything (a bush's length).",
    ),
    size_option,
    kind_option,
)
QUESTION: tuple[Option, ...] = (
    click.option(
        "--mark",
        "marks",
        multiple=True,
        callback=filled,
        metavar="TEXT",
        help="A number mark as read: ? one lost character, * a lost stretch, [38] one of these.",
    ),
    click.option(
        "--cast",
        "casts",
        multiple=True,
        callback=filled,
        metavar="TEXT",
        help="A casting number: it narrows, it never proves.",
    ),
    *SIZES,
    click.option(
        "--words", metavar="TEXT", callback=filled, help='What it looks like: "chain case, left".'
    ),
    click.option(
        "--tool",
        metavar="TOOL",
        callback=filled,
        default="caliper",
        show_default=True,
        help="caliper, micrometer, rule or tape.",
    ),
    click.option(
        "--condition",
        metavar="C",
        callback=filled,
        default="used",
        show_default=True,
        help="new, used or worn.",
    ),
    click.option(
        "--cast-date",
        metavar="DATE",
        callback=filled,
        help="A casting date; its year is compared with --built.",
    ),
    machine_option("One of your machines: does it belong there?"),
    click.option(
        "--built", metavar="YEAR", callback=filled, help="The year the machine was built."
    ),
    click.option(
        "--cannot",
        multiple=True,
        callback=filled,
        metavar="CHECK",
        help="A size or a check that cannot be told: do not ask for it.",
    ),
    click.option(
        "--seen",
        multiple=True,
        callback=filled,
        metavar="CHECK=ANSWER",
        help="What a check showed, as it was asked: --seen rolls=balls.",
    ),
)
SEEN_EXAMPLE = "--seen rolls=balls"
_WORDS = ("kind", "words", "tool", "condition", "cast_date", "built", "machine")


def question_options(command: Any) -> Any:
    """Give a command every option of a question; ``asked`` makes one of what they hold."""
    return _with(QUESTION, command)


def size_options(command: Any) -> Any:
    """Give a command the sizes and the kind alone; ``sizes_of`` reads the sizes."""
    return _with(SIZES, command)


def _with(options: tuple[Option, ...], command: Any) -> Any:
    for option in reversed(options):
        command = option(command)
    return command


def sizes_of(given: Mapping[str, Any]) -> dict[str, str]:
    """Every size by its name; --bore V is short for --size bore=V, outside and width likewise.

    Raises InputError for a size that is given twice.
    """
    short = {"bore": given["bore"], "outside": given["outside"], "width": given["width_"]}
    typed = [f"{name}={text}" for name, texts in short.items() for text in texts]
    return pairs([*typed, *given["sizes"]], SIZE_EXAMPLE)


def asked(given: Mapping[str, Any]) -> Asked:
    """The question that the options hold, as typed."""
    from xref.services.question import Asked

    return Asked(
        marks=given["marks"],
        casts=given["casts"],
        sizes=sizes_of(given),
        cannot=given["cannot"],
        seen=pairs(given["seen"], SEEN_EXAMPLE),
        **{name: given[name] or "" for name in _WORDS},
    )


def asked_anew(ctx: click.Context, given: Mapping[str, Any]) -> dict[str, Any]:
    """What of a question was typed now, by the names of its fields; no defaults."""
    from click.core import ParameterSource

    typed = {
        name for name in given if ctx.get_parameter_source(name) == ParameterSource.COMMANDLINE
    }
    found = {name: given[name] for name in ("marks", "casts", "cannot", *_WORDS) if name in typed}
    sizes = sizes_of(given)
    seen = pairs(given["seen"], SEEN_EXAMPLE)
    found |= {"seen": seen} if seen else {}
    return {**found, **({"sizes": sizes} if sizes else {})}
