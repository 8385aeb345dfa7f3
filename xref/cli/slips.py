"""Wrong use of the command line, said in plain words with what to type instead."""

from __future__ import annotations

from collections.abc import Sequence

import click

from xref.cli.options import called
from xref.domain.number import visible
from xref.errors import InputError, XrefError

MOST = 300
"""Characters of a message; a longer one is cut."""


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
    near = sorted(set(error.possibilities or ()) - {"--help"})
    if near:
        hint = f"Did you mean {' or '.join(near)}? {help_}"
    elif any(a[:1] == "-" and a[1:2].isalnum() for a in args):
        hint = f"A number that begins with a dash is given after --. {help_}"
    return InputError(f"there is no option {visible(error.option_name)}", hint)


def _example(command: click.Command) -> str:
    """The first example of the command's help, as a hint; "" where it has none."""
    told = (command.epilog or "").splitlines()
    shown = next((line.strip() for line in told if line.strip().startswith("xref ")), "")
    return f"For example: {shown}" if shown else ""


def _too_many(message: str) -> str:
    words = message.partition("(")[2].rstrip(")")
    return f'"{visible(words)}" is not understood here'


def _quotes(ctx: click.Context | None, help_: str) -> str:
    options = {name for param in ctx.command.params for name in param.opts} if ctx else set()
    where = "What was read goes after --mark. " if "--mark" in options else ""
    return f'{where}Put what has spaces in quotes: "chain case". {help_}'
