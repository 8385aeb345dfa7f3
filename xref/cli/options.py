"""Options that several commands take, and what is refused of them before a service is asked."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

import click

from xref.domain.number import visible
from xref.errors import InputError

Option = Callable[[Any], Any]


Texts = str | tuple[str, ...] | None


def filled(ctx: click.Context, param: click.Parameter, value: Texts) -> Texts:
    """Refuse an option that is given and empty: it would be taken as not given.

    One that is followed by another option of its command has taken that for its value.
    """
    options = {name for other in ctx.command.params for name in other.opts}
    for text in (value,) if isinstance(value, str) else value or ():
        if not text.strip() or text in options:
            after = f": it is followed by {text}" if text.strip() else ""
            raise InputError(
                f"{param.opts[-1]} is empty{after}", "Write something after it, or leave it out."
            )
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


class Whole(click.ParamType[int]):
    """A whole number from ``least`` to ``most``."""

    name = "n"

    def __init__(self, least: int = 1, most: int = 1_000_000) -> None:
        self.least, self.most = least, most

    def convert(
        self,
        value: Any,
        param: click.Parameter | None,
        ctx: click.Context | None,  # noqa: ARG002 (click's signature)
    ) -> int:
        """The number. Raises InputError for what is none, or out of range."""
        text = str(value).strip()
        short = text.isascii() and text.isdigit() and len(text) < 10
        if short and self.least <= int(text) <= self.most:
            return int(text)
        raise InputError(
            f"{called(param)} takes a whole number from {self.least} to {self.most:,}, "
            f'not "{visible(text)}"',
            "For example 1.",
        )


class Quantity(click.ParamType[float]):
    """How many: a number more than 0."""

    name = "n"

    def convert(
        self,
        value: Any,
        param: click.Parameter | None,  # noqa: ARG002 (click's signature)
        ctx: click.Context | None,  # noqa: ARG002
    ) -> float:
        """The number. Raises InputError for what is none."""
        try:
            return float(str(value).strip().replace(",", "."))
        except ValueError:
            raise InputError(
                f'"{visible(str(value))}" is no quantity', "Give how many, such as 2."
            ) from None


def called(param: click.Parameter | None) -> str:
    """What a person calls an option or argument: --limit, LABEL."""
    if isinstance(param, click.Option):
        return max(param.opts, key=len)
    return (param.metavar or param.name or "").upper().rstrip(".") if param else "It"


def machine_option(help_: str, **how: Any) -> Option:
    """--machine, for a command that looks at one machine of the user's."""
    return click.option("--machine", metavar="NAME", callback=filled, help=help_, **how)


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
