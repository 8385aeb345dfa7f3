"""Options that several commands take, and what is refused of them before a service is asked."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

import click

from xref.domain.number import visible
from xref.errors import InputError

Option = Callable[[Any], Any]


def filled(ctx: click.Context, param: click.Parameter, value: str | None) -> str | None:  # noqa: ARG001
    """Refuse an option that is given and empty: it would be taken as not given."""
    if value is not None and not value.strip():
        raise InputError(f"{param.opts[-1]} is empty", "Write something after it, or leave it out.")
    return value


def pairs(values: Sequence[str], example: str) -> dict[str, str]:
    """``NAME=VALUE`` options as a mapping; ``example`` is one written rightly.

    Raises InputError for one that is no such pair, and for a name that is given twice.
    """
    found: dict[str, str] = {}
    for text in values:
        name, sign, value = (piece.strip() for piece in text.partition("="))
        if not sign or not name or not value:
            raise InputError(
                f'"{visible(text)}" is not written as NAME=VALUE', f"For example {example}."
            )
        if name in found:
            raise InputError(f"{visible(name)} is given twice", "Leave one of them out.")
        found[name] = value
    return found


json_option: Option = click.option(
    "--json", "as_json", is_flag=True, help="Print one JSON document."
)
maker_option: Option = click.option(
    "--maker", metavar="M", callback=filled, help="Whose number it is."
)
source_option: Option = click.option(
    "--source", metavar="S", callback=filled, help="Where it is from: a source added before."
)
kind_option: Option = click.option(
    "--kind",
    metavar="KIND",
    callback=filled,
    help="bearing, bush, shaft seal, o-ring … or the beginning of it.",
)
size_option: Option = click.option(
    "--size",
    "sizes",
    multiple=True,
    metavar="NAME=V",
    help="Any size by name, e.g. section=3.53mm, teeth=17.",
)
SIZE_EXAMPLE = "--size pitch=9.525mm"
