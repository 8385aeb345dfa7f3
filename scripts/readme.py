"""Fills the console blocks of README.md with what the commands really print.

A block is fenced as ``console``; each line that begins with ``$ xref`` is run, in order, on one
store that holds the demo's parts, and what it prints follows it (``| head -N`` cuts it). A test
holds README.md to this.
"""

from __future__ import annotations

import contextlib
import io
import os
import re
import shlex
import tempfile
from pathlib import Path

README = Path(__file__).resolve().parent.parent / "README.md"
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
    from xref.services.opening import open_store
    from xref.services.scenario import fill

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
    from xref.cli.app import main

    said = io.StringIO()
    command, _, most = command.partition(" | head -")
    before = {name: os.environ.get(name) for name in ("XREF_STORE", "COLUMNS")}
    os.environ |= {"XREF_STORE": store, "COLUMNS": "80"}
    try:
        with contextlib.redirect_stdout(said), contextlib.redirect_stderr(said):
            main(shlex.split(command.removeprefix(PROMPT)))
    finally:
        for name, value in before.items():
            os.environ.pop(name, None)
            if value is not None:
                os.environ[name] = value
    text = said.getvalue()
    for folder in dict.fromkeys((Path(store).parent, Path(store).resolve().parent)):
        text = text.replace(f"{folder}/", "")
    for pattern, always in MASKED:
        text = pattern.sub(always, text)
    lines = [line.rstrip() for line in text.splitlines()]
    shown = lines[: int(most)] if most else lines
    return "\n".join(shown).strip("\n") + "\n"


if __name__ == "__main__":
    README.write_text(filled(README.read_text("utf-8")), "utf-8")
