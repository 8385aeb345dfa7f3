"""Wrong use of the command line, said in plain words with what to type instead."""

from __future__ import annotations

import difflib
from collections.abc import Sequence

import click

from xref.cli.options import called
from xref.domain.number import visible
from xref.domain.part import COUNTS
from xref.domain.size_names import NAMES
from xref.errors import InputError, XrefError

MOST = 300
"""Characters of a message; a longer one is cut."""
NEEDED = "Write something after it, or leave it out."
ALIKE = 0.7
"""How alike a slip and an option are, at the least, for it to be offered. Judged."""


def in_plain_words(error: click.ClickException, args: Sequence[str]) -> XrefError:
    """What ``error`` means to the person who typed ``args``."""
    ctx = getattr(error, "ctx", None)
    message = error.format_message().rstrip(".").replace("\n", " ")
    help_ = f"See {ctx.command_path if ctx else 'xref'} --help."
    if isinstance(error, click.exceptions.NoArgsIsHelpError) and ctx:
        return _half_a_command(ctx, help_)
    if isinstance(error, click.NoSuchOption):
        return _no_option(error, args, help_)
    if isinstance(error, click.MissingParameter) and error.param and ctx:
        return InputError(f"{called(error.param)} is missing", _example(ctx.command) or help_)
    if isinstance(error, click.BadParameter) and error.param:
        wanted = getattr(error.param.type, "choices", ())
        if wanted:
            return InputError(f"{called(error.param)} takes {' or '.join(wanted)}", help_)
    if isinstance(error, click.BadOptionUsage) and message.endswith("requires an argument"):
        return InputError(f"nothing follows {visible(error.option_name)}", NEEDED)
    if "unexpected extra argument" in message:
        return InputError(_too_many(message), _quotes(ctx, help_))
    return InputError(visible(message, MOST), help_)


def _half_a_command(ctx: click.Context, help_: str) -> InputError:
    words = ctx.command.list_commands(ctx) if isinstance(ctx.command, click.Group) else []
    return InputError(
        f"{ctx.command_path} needs one more word", f"One of: {', '.join(words)}. {help_}"
    )


def _no_option(error: click.NoSuchOption, args: Sequence[str], help_: str) -> InputError:
    hint = help_
    near = _near(error)
    size = error.option_name.lstrip("-").lower()
    if size in NAMES and error.ctx and _takes(error.ctx, "--size"):
        hint = f"Write it as --size {size}={'17' if size in COUNTS else '20mm'}. {help_}"
    elif near:
        hint = f"Did you mean {' or '.join(near)}? {help_}"
    elif any(a[:1] == "-" and a[1:2].isalnum() for a in args):
        hint = f"A number that begins with a dash is given after --. {help_}"
    return InputError(f"there is no option {visible(error.option_name)}", hint)


def _near(error: click.NoSuchOption) -> list[str]:
    """The options that the slip resembles, best first; click itself takes far ones too."""
    every = set(error.possibilities or ()) - {"--help"}
    begun = sorted(name for name in every if name.startswith(error.option_name))
    return begun or difflib.get_close_matches(error.option_name, sorted(every), 2, ALIKE)


def _takes(ctx: click.Context, option: str) -> bool:
    return any(option in param.opts for param in ctx.command.params)


def _example(command: click.Command) -> str:
    """The first example of the command's help, as a hint; "" where it has none."""
    told = (command.epilog or "").splitlines()
    shown = next((line.strip() for line in told if line.strip().startswith("xref ")), "")
    return f"For example: {shown}" if shown else ""


def _too_many(message: str) -> str:
    words = message.partition("(")[2].rstrip(")")
    return f'"{visible(words)}" is not understood here'


def _quotes(ctx: click.Context | None, help_: str) -> str:
    where = "What was read goes after --mark. " if ctx and _takes(ctx, "--mark") else ""
    return f'{where}Put what has spaces in quotes: "chain case". {help_}'
