"""A drawing written to a file, and what is said of it."""

from __future__ import annotations

import os
from pathlib import Path
from typing import TYPE_CHECKING

import click

from xref.cli.app import shown
from xref.errors import FileError, InputError

if TYPE_CHECKING:
    from xref.render.draw.figure import Drawing


def svg_path(file: str) -> Path:
    """Where a drawing is to go. Raises InputError for a name that does not end in .svg."""
    path = Path(file)
    if path.suffix.lower() != ".svg":
        raise InputError(
            f"{shown(path.name)} does not end in .svg", "Drawings are SVG: name it case.svg."
        )
    return path


def save(path: Path, drawing: Drawing) -> str:
    """Write the drawing, whole or not at all, and say whether a file was replaced.

    Raises FileError where it cannot be written.
    """
    replaced = path.exists()
    beside = path.with_name(f".{path.name}.{os.getpid()}")
    try:
        try:
            beside.write_text(drawing.file(), encoding="utf-8")
            os.replace(beside, path)
        finally:
            beside.unlink(missing_ok=True)
    except (OSError, ValueError) as error:
        why = getattr(error, "strerror", None) or "its name cannot be used"
        raise FileError(
            f"{shown(path.name)} could not be written ({why})", "Choose another folder or name."
        ) from None
    return f"{'Replaced' if replaced else 'Wrote'} {shown(path.name)}."


def say(text: str) -> None:
    """Say on the error stream what was written, so that the answer can be piped."""
    click.echo(text, err=True)
