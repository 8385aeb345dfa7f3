"""``xref import``: a spreadsheet of parts into the store."""

from __future__ import annotations

import sys
from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

import click

from xref.cli.app import ToldError, echo_json, shown, the_store, width
from xref.cli.options import json_option
from xref.cli.progress import counted
from xref.errors import InputError

if TYPE_CHECKING:
    from xref.services.lists.asking import Choice, Question
    from xref.services.lists.imported import Imported


@click.command(
    "import",
    epilog=(
        "\b\nExample:\n"
        "  xref import parts.xlsx --preview\n"
        '  xref import parts.csv --map "Our no.=number" --units inch --keep-good\n'
    ),
)
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--sheet", metavar="NAME", help="One sheet; without it, all that are parts lists.")
@click.option(
    "--map",
    "told",
    multiple=True,
    metavar="COLUMN=FIELD",
    help="Say what a column is: number, maker, bore, extra … (a wrong one is answered with all).",
)
@click.option("--units", type=click.Choice(["mm", "inch"]), help="What a bare size is in.")
@click.option("--preview", is_flag=True, help="Show what would happen; change nothing.")
@click.option("--keep-good", is_flag=True, help="Keep the good rows where others are rejected.")
@click.option("--ask", is_flag=True, help="Ask what is not certain, and remember the answers.")
@click.option("--forget", is_flag=True, help="Forget what was answered of such a file before.")
@json_option
@click.pass_context
def command(
    ctx: click.Context,
    file: Path,
    sheet: str | None,
    told: tuple[str, ...],
    units: str | None,
    preview: bool,
    keep_good: bool,
    ask: bool,
    forget: bool,
    as_json: bool,
) -> int:
    """Merge the parts of a spreadsheet into the store.

    FILE is csv, tsv, xlsx, xls or ods.

    A part that is there is completed, never overwritten: what contradicts is kept beside it.
    """
    from xref.render.imported import imported_text, refused_text
    from xref.sheets.column_seen import WhichColumnError

    if ask and as_json:
        raise InputError(
            "--ask asks at the terminal, and --json does not", "Leave one of them out."
        )
    mapping = mapped(told)
    with the_store(ctx) as opened, counted(not as_json) as progress:
        if forget:
            gone = opened.forget_answers(file)
            click.echo("Forgotten." if gone else "There was nothing to forget.", err=True)
        bring_in = partial(
            opened.import_file,
            file,
            sheet=sheet or "",
            keep_good=keep_good,
            remember=ask,
            progress=progress,
        )
        try:
            if ask:
                mapping, units = _answers(partial(bring_in, preview=True), mapping, units or "")
            done = bring_in(map=mapping, units=units or "", preview=preview)
        except WhichColumnError as refused:
            if preview and as_json:
                columns = [column.to_json() for column in refused.columns]
                echo_json({**refused.to_json(), "columns": columns})
                raise ToldError.of(refused) from None
            if preview and refused.columns:
                click.echo(refused_text(refused))
            raise
    if as_json:
        echo_json(done.to_json())
    else:
        click.echo(imported_text(done, width()))
    return 1 if done.rejected else 0


def mapped(texts: Sequence[str]) -> dict[str, str]:
    """``COLUMN=FIELD`` options as a mapping. A heading may have = in it, and quotes around it.

    Raises InputError for one that is no such pair, and for a column that is named twice.
    """
    found: dict[str, str] = {}
    for text in texts:
        column, sign, field = (piece.strip() for piece in text.rpartition("="))
        if len(column) > 2 and column[0] == column[-1] in ("'", '"'):
            column = column[1:-1]
        if not sign or not column or not field:
            raise InputError(
                f'"{shown(text)}" is not written as COLUMN=FIELD', 'For example "Our no.=number".'
            )
        if column in found:
            raise InputError(f"{shown(column)} is given twice", "Leave one of them out.")
        found[column] = field
    return found


def _answers(
    preview: Callable[..., Imported], mapping: dict[str, str], units: str
) -> tuple[dict[str, str], str]:
    """What is told of the columns and of bare sizes, with what a person answered."""
    from xref.services.lists.asking import UNIT, questions, told_by, which_column
    from xref.sheets.column_seen import WhichColumnError

    try:
        done = preview(map=mapping, units=units)
    except WhichColumnError as refused:
        asked = which_column(refused)
        if not asked:
            raise
        told, _ = told_by([_answer(question) for question in asked])
        mapping = {**mapping, **told}
        done = preview(map=mapping, units=units)
    asked = [q for q in questions(done) if not (q.key == UNIT and units)]
    told, said = told_by([_answer(question) for question in asked])
    return {**mapping, **told}, units or said


def _answer(question: Question) -> Choice:
    """One answer, by its number; Enter takes the first."""
    click.echo(f"\n{question.text}", err=True)
    for at, choice in enumerate(question.choices, 1):
        click.echo(f"  {at}  {choice.text}", err=True)
    while True:
        click.echo("Number, or Enter for the first: ", nl=False, err=True)
        line = sys.stdin.readline()
        if not line:
            raise InputError(
                "the question was not answered",
                "Answer at the terminal, or say it with --map and --units.",
            )
        text = line.strip() or "1"
        if text.isascii() and text.isdigit() and 0 < int(text[:6]) <= len(question.choices):
            return question.choices[int(text[:6]) - 1]
        click.echo(f"Write a number from 1 to {len(question.choices)}.", err=True)
