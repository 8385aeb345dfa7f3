"""The command group, what every command shares, and the one boundary for errors."""

from __future__ import annotations

import itertools
import json
import os
import re
import sys
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from copy import copy
from typing import TYPE_CHECKING, Any, ClassVar

import click

from xref.cli.options import filled
from xref.cli.streams import escaped, forgiving, writes
from xref.errors import InputError, XrefError

if TYPE_CHECKING:
    from xref.services.open import OpenStore

BARE = """\
xref finds out what the part on the bench is.

  xref identify --mark "62?4" --bore 20mm     what can be read and measured
  xref decode "6204 2RS C3"                   what a trade number means
  xref part add QF-2214 --words "chain case"  write down a part of your own

xref demo shows it at work, in a store of its own that is thrown away.
xref --help lists every command; xref COMMAND --help ends in an example."""
EXAMPLE = '\b\nExample:\n  xref identify --mark "62?4" --bore 20mm\n'

COMPLETE = "_XREF_COMPLETE"
"""Set by the shell when it asks for completions, or for the script that makes it ask."""


class Commands(click.Group):
    """A group whose commands are imported when they are called, and whose slips are answered."""

    homes: ClassVar[dict[str, str]] = {
        "identify": "xref.cli.identify",
        "decode": "xref.cli.decode",
        "equivalents": "xref.cli.equivalents",
        "draw": "xref.cli.draw",
        "trace": "xref.cli.trace",
        "belongs": "xref.cli.belongs",
        "donor": "xref.cli.donor",
        "part": "xref.cli.part",
        "mark": "xref.cli.mark",
        "source": "xref.cli.source",
        "machine": "xref.cli.machine",
        "model": "xref.cli.model",
        "applies": "xref.cli.applies",
        "supersede": "xref.cli.supersede",
        "interchange": "xref.cli.interchange",
        "import": "xref.cli.import_",
        "export": "xref.cli.export",
        "bench": "xref.cli.bench",
        "wanted": "xref.cli.wanted",
        "reading": "xref.cli.reading",
        "unit": "xref.cli.unit",
        "history": "xref.cli.history",
        "undo": "xref.cli.undo",
        "check": "xref.cli.check",
        "backup": "xref.cli.backup",
        "restore": "xref.cli.restore",
        "page": "xref.cli.page",
        "demo": "xref.cli.demo",
    }

    def list_commands(self, ctx: click.Context) -> list[str]:  # noqa: ARG002 (click's signature)
        """Every command, in the order people meet them."""
        return list(self.homes)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:  # noqa: ARG002
        """Import the one command that is wanted."""
        home = self.homes.get(cmd_name)
        if home is None:
            return None
        from importlib import import_module

        command: click.Command = import_module(home).command
        return command

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """Find the command, or name the nearest one to a slip."""
        word = click.utils.make_str(args[0]) if args else ""
        if word and word not in self.homes and not word.startswith("-"):
            if any(c.isdigit() or c in "?[ " for c in word):
                # No command is written so: it is a line of what was found on the bench.
                return "identify", self.get_command(ctx, "identify"), args
            import difflib

            near = difflib.get_close_matches(word, self.homes, n=1, cutoff=0.6)
            hint = f"Did you mean {near[0]}?" if near else "xref --help lists the commands."
            raise InputError(f'there is no command "{shown(word)}"', hint)
        return super().resolve_command(ctx, args)


def shown(text: str) -> str:
    """``text`` fit for a message."""
    from xref.domain.number import visible

    return visible(text)


def whole(text: str) -> str:
    """All of ``text`` with whatever a terminal would obey or not print made visible."""
    from xref.domain.number import visible

    return visible(text, len(text))


@click.group(cls=Commands, invoke_without_command=True, epilog=EXAMPLE)
@click.option(
    "--store",
    metavar="PATH",
    callback=filled,
    help="The store to use: a file, or postgresql+psycopg://…",
)
@click.version_option(package_name="xref", message="xref %(version)s")
@click.pass_context
def app(ctx: click.Context, store: str | None) -> None:
    """Find out what the part on the bench is, from a worn mark and a few sizes.

    The store is --store, else the variable XREF_STORE, else a file in your data folder. It is
    made on first use, with the standards' tables in it.

    \b
    To have the shell complete commands and options, put in ~/.bashrc:
      eval "$(_XREF_COMPLETE=bash_source xref)"
    (zsh_source in ~/.zshrc, fish_source for fish)
    """
    ctx.obj = store
    if ctx.invoked_subcommand is None:
        click.echo(BARE)


def main(argv: Sequence[str] | None = None) -> int:
    """Run the command line and return its exit code. No traceback ever leaves here.

    Where whoever reads our output has gone, it leaves quietly, as any filter does.
    """
    forgiving()
    args = list(sys.argv[1:] if argv is None else argv)
    try:
        asked = os.environ.get(COMPLETE)
        return _complete(asked) if asked else _run(args)
    except BrokenPipeError:
        _hush()
        return 0


def _complete(asked: str) -> int:
    """Answer the shell, as click's own ``main`` would; a slip on the line completes to nothing."""
    from click.shell_completion import shell_complete

    try:
        return shell_complete(app, {}, "xref", COMPLETE, asked)
    except (XrefError, click.ClickException):
        return 1


def run(args: Sequence[str]) -> Any:
    """Run one command and return what it returns.

    Not by click's own ``main``, which answers a broken pipe with exit 1 before we see it.
    """
    with app.make_context("xref", list(args)) as ctx:
        return app.invoke(ctx)


def _run(args: list[str]) -> int:
    try:
        result = run(args)
    except XrefError as error:
        return _refuse(error, args)
    except click.exceptions.Exit as stop:
        return stop.exit_code
    except click.Abort:
        click.echo("Stopped; nothing was changed.", err=True)
        return 1
    except click.ClickException as error:
        from xref.cli.slips import in_plain_words

        return _refuse(in_plain_words(error, args), args)
    except KeyboardInterrupt:
        click.echo("Stopped; nothing was changed.", err=True)
        return 130
    except BrokenPipeError:
        raise
    except Exception as error:
        return _refuse(_unforeseen(error), args)
    return result if isinstance(result, int) else 0


def _hush() -> None:
    """Let what is still unwritten go nowhere, so that leaving cannot complain of it."""
    nowhere = os.open(os.devnull, os.O_WRONLY)
    for stream in (sys.stdout, sys.stderr):
        if stream is not None:
            os.dup2(nowhere, stream.fileno())


def _unforeseen(error: Exception) -> XrefError:
    """Our own fault, said in one line: the store is rolled back by its unit of work."""
    failure = XrefError(
        f"something went wrong inside xref ({type(error).__name__}: {shown(str(error))})",
        "Nothing was changed. Please report it with the command you typed.",
    )
    if os.environ.get("XREF_DEBUG"):
        raise error
    return failure


class ToldError(XrefError):
    """A refusal whose JSON document the command has printed, with more in it than the refusal."""

    @classmethod
    def of(cls, error: XrefError) -> ToldError:
        """``error`` as one that was told."""
        told = cls(error.message, error.hint)
        told.kind, told.exit_code = error.kind, error.exit_code
        return told


def _refuse(error: XrefError, args: Sequence[str]) -> int:
    failure = copy(error)
    failure.message, failure.hint = whole(error.message), whole(error.hint)
    if isinstance(error, ToldError):
        args = ()
    options = itertools.takewhile(lambda arg: arg != "--", args)
    try:
        click.echo(f"xref: {_sentence(failure.message)}", err=True)
        if failure.hint:
            click.echo(f"      {failure.hint}", err=True)
        if "--json" in options:
            echo_json_line(failure.to_json())
    except BrokenPipeError:
        _hush()
    return failure.exit_code


def _sentence(message: str) -> str:
    return message if message.endswith((".", "?")) else f"{message}."


def echo_json(document: dict[str, Any]) -> None:
    """Print exactly one JSON document."""
    click.echo(_json(document, indent=2))


def echo_json_line(document: dict[str, Any]) -> None:
    """Print one JSON document on one line: a row of a box, or an error."""
    click.echo(_json(document))


def _json(document: dict[str, Any], indent: int | None = None) -> str:
    """``document`` as JSON: signs that stdout has not, or that are not seen, are escaped.

    Lone surrogates are made visible.
    """
    text = json.dumps(document, ensure_ascii=False, indent=indent)
    text = re.sub("[\ud800-\udfff]", lambda found: rf"\\x{ord(found[0]):x}", text)
    text = escaped(text)
    return text if writes(text) else re.sub("[^\x00-\x7f]", lambda c: json.dumps(c[0])[1:-1], text)


@contextmanager
def the_store(ctx: click.Context, *, patient: bool = True) -> Iterator[OpenStore]:
    """The open store of this command; what opening it did is said on stderr."""
    from xref.services.open import open_store

    with open_store(ctx.obj, patient=patient) as opened:
        for notice in opened.notices:
            click.echo(f"xref: {whole(notice)}", err=True)
        yield opened
        for name in opened.news:
            click.echo(f"xref: {name.told()}.", err=True)


def mentioned(numbers: Iterable[str]) -> None:
    """Say on stderr which numbers were made only because a command named them."""
    for number in numbers:
        click.echo(f"{number} was not in the store: added as mentioned only.", err=True)


def cautioned(texts: Iterable[str]) -> None:
    """Print the cautions of what a command named, after an empty line; nothing for none."""
    from xref.render.lines import cautioned as lines_of

    for line in lines_of(texts, width()):
        click.echo(line)


def width() -> int:
    """Columns to write in: the terminal's, not over 100, 80 when piped."""
    import shutil

    return max(40, min(100, shutil.get_terminal_size((80, 24)).columns))
