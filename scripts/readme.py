"""Fills the console blocks of README.md, and the files that hold every command's help.

A block is fenced as ``console``; each line that begins with ``$ xref`` is run, in order, on one
store that holds the demo's parts, and what it prints follows it (``| head -N`` cuts it). The help
of each command lies in a file of its own below ``tests/contract/help``. Tests hold all of it.
"""

from __future__ import annotations

import contextlib
import io
import os
import re
import shlex
import tempfile
from collections.abc import Iterator
from pathlib import Path

import click

TOP = Path(__file__).resolve().parent.parent
README = TOP / "README.md"
HELP = TOP / "tests" / "contract" / "help"
WIDTH = "80"
"""Columns of the terminal that what is shown was printed on."""
BLOCK = re.compile(r"(?<=^```console\n).*?(?=^```$)", re.MULTILINE | re.DOTALL)
PROMPT = "$ xref "
MASKED = (
    (re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ"), "2026-11-25T09:30:00Z"),
    (re.compile(r"\d[\d,]* bytes"), "6,000,000 bytes"),
    (re.compile(r"replaced-\d{8}-\d{6}"), "replaced-20261125-093000"),
)
"""What differs from run to run, and how it is shown."""


def filled(text: str) -> str:
    """``text`` with every console block run again."""
    from xref.services.demo import fill
    from xref.services.open import open_store

    with tempfile.TemporaryDirectory() as folder:
        store = str(Path(folder) / "parts.xref")
        with open_store(store) as opened, opened.store.writing("demo") as unit:
            fill(unit)
            unit.commit()
        here = Path.cwd()
        os.chdir(folder)
        try:
            return BLOCK.sub(lambda found: _run_block(found[0], store), text)
        finally:
            os.chdir(here)


def _run_block(block: str, store: str) -> str:
    commands = [line for line in block.splitlines() if line.startswith(PROMPT)]
    return "\n".join(f"{command}\n{_run(command, store)}" for command in commands)


def _run(command: str, store: str) -> str:
    command, _, most = command.partition(" | head -")
    text = _printed(shlex.split(command.removeprefix(PROMPT)), store)
    for folder in dict.fromkeys((Path(store).parent, Path(store).resolve().parent)):
        text = text.replace(f"{folder}/", "")
    for pattern, always in MASKED:
        text = pattern.sub(always, text)
    lines = [line.rstrip() for line in text.splitlines()]
    shown = lines[: int(most)] if most else lines
    return "\n".join(shown).strip("\n") + "\n"


def _printed(args: list[str], store: str) -> str:
    """What ``xref`` prints for these arguments, errors too."""
    from xref.cli.app import main

    said = io.StringIO()
    before = {name: os.environ.get(name) for name in ("XREF_STORE", "COLUMNS")}
    os.environ |= {"XREF_STORE": store, "COLUMNS": WIDTH}
    try:
        with contextlib.redirect_stdout(said), contextlib.redirect_stderr(said):
            main(args)
    finally:
        for name, value in before.items():
            os.environ.pop(name, None)
            if value is not None:
                os.environ[name] = value
    return said.getvalue()


def commands() -> list[str]:
    """Every command as it is typed after ``xref``, subcommands too; "" is ``xref`` itself."""
    from xref.cli.app import app

    return ["", *_below(app, click.Context(app, info_name="xref"))]


def _below(group: click.Group, ctx: click.Context, before: str = "") -> Iterator[str]:
    for name in group.list_commands(ctx):
        command = group.get_command(ctx, name)
        if command is None or command.hidden:
            continue
        yield f"{before}{name}"
        if isinstance(command, click.Group):
            yield from _below(command, ctx, f"{before}{name} ")


def help_file(command: str) -> Path:
    """Where the help of ``command`` is kept: ``bench add`` in ``bench-add.txt``."""
    return HELP / f"{'-'.join(command.split()) or 'xref'}.txt"


def help_of(command: str) -> str:
    """What ``xref COMMAND --help`` prints, without blanks at the ends of lines."""
    printed = _printed([*command.split(), "--help"], "")
    return "".join(f"{line.rstrip()}\n" for line in printed.splitlines())


def write_help() -> None:
    """Write every command's help anew; the file of a command that is gone goes too."""
    HELP.mkdir(exist_ok=True)
    files = {help_file(command): help_of(command) for command in commands()}
    for gone in set(HELP.glob("*.txt")) - set(files):
        gone.unlink()
    for file, text in files.items():
        file.write_text(text, "utf-8")


if __name__ == "__main__":
    README.write_text(filled(README.read_text("utf-8")), "utf-8")
    write_help()
