"""``xref identify``."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from textwrap import fill, indent
from typing import TYPE_CHECKING, Any

import click

from xref.cli.app import echo_json, echo_json_line, the_store, width
from xref.cli.options import Whole, filled, json_option
from xref.cli.question import asked, asked_anew, question_options
from xref.domain.part import COUNTS
from xref.domain.query import MOST_CANDIDATES
from xref.domain.size_names import SIZES
from xref.errors import InputError

if TYPE_CHECKING:
    from xref.services.open import OpenStore

NO_MATCH = 1
_NAMES = indent(fill(", ".join(SIZES) + ";", 76, break_on_hyphens=False), "  ")
EXAMPLE = f"""
\b
Size names:
{_NAMES}
  counts: {", ".join(COUNTS)}.
  A pitch may be measured over several: --size pitch=127.6mm/10.
\b
Example:
  xref identify --mark "6?04" --bore 20mm --width 15mm --tool caliper
"""


@click.command("identify", epilog=EXAMPLE)
@click.argument("line", metavar="[WORD]...", nargs=-1)
@question_options
@click.option(
    "--from",
    "box",
    metavar="FILE",
    callback=filled,
    help="A whole box of parts, one a row (csv, xlsx, ods).",
)
@click.option(
    "--keep", metavar="WHERE", callback=filled, help="Put it in the bench book: where it came off."
)
@click.option(
    "--draw",
    metavar="FILE.svg",
    callback=filled,
    help="Draw the first candidate with what was measured laid over it.",
)
@click.option(
    "--limit",
    type=Whole(1, MOST_CANDIDATES),
    default=10,
    show_default=True,
    help="Candidates to print.",
)
@click.option(
    "--why", is_flag=True, help="Show every bit of evidence, and the mark character by character."
)
@click.option(
    "--all", "everything", is_flag=True, help="Show the whole answer, not its first screen."
)
@json_option
@click.pass_context
def command(
    ctx: click.Context,
    /,
    line: tuple[str, ...],
    box: str | None,
    limit: int,
    why: bool,
    everything: bool,
    as_json: bool,
    **given: Any,
) -> int:
    """Say what a part is from what can be read and measured on it.

    WORDs are one line for everything, taken by their form: a mark, sizes, the condition, words for
    the part (6?04 20x47x14 worn "deep groove"). Options win over them.
    """
    if box is not None:
        _refuse_beside_box(ctx, given)
        return _box(ctx, box, limit, as_json)
    place, drawn = given.pop("keep"), given.pop("draw")
    if drawn is not None:
        _svg(drawn)
    question = _in_one_line(ctx, line, given) if line else asked(given)
    with the_store(ctx) as opened:
        answer = opened.answer(question, limit)
        if place is not None:
            _keep(opened, place, question)
    if as_json:
        echo_json(answer.to_json())
    else:
        click.echo(_text(answer, why, everything))
    if drawn is not None:
        _draw(drawn, answer)
    return NO_MATCH if answer.verdict == "none" else 0


def _svg(file: str) -> Path:
    from xref.cli.picture import svg_path

    return svg_path(file)


def _draw(file: str, answer: Any) -> None:
    """The first candidate as a drawing; said beside the answer, which may be piped."""
    from xref.cli.picture import save, say
    from xref.render.draw.closures import closed_of
    from xref.render.draw.part import draw_part, millimetres, subject_of

    if not answer.candidates:
        say("Nothing to draw: no candidate was found.")
        return
    part = answer.candidates[0].part
    measured = millimetres({name: size.value for name, size in answer.query.sizes.items()})
    drawing = draw_part(subject_of(part, closed_of(part.number)), measured)
    say(f"{save(_svg(file), drawing)} It shows {part.number}. {drawing.description}")


def _text(answer: Any, why: bool, everything: bool) -> str:
    if why or everything:
        from xref.render.identify import identify_text

        return identify_text(answer, width(), why)
    from xref.render.first_screen import first_screen

    return first_screen(answer, width())


def _in_one_line(ctx: click.Context, line: tuple[str, ...], given: Mapping[str, Any]) -> Any:
    """The question of the line, said once as it was taken; what an option says wins."""
    from dataclasses import replace

    from xref.services.one_line import taken

    found = taken(line)
    click.echo(f"Taken as: {found.told or 'nothing'}.", err=True)
    typed = asked_anew(ctx, given)
    sizes = {**found.asked.sizes, **typed.pop("sizes", {})}
    return replace(found.asked, sizes=sizes, **typed)


def _keep(opened: OpenStore, place: str, question: Any) -> None:
    label = opened.bench.keep(place, question)
    click.echo(f"On the bench with label {label}.", err=True)


def _refuse_beside_box(ctx: click.Context, given: Mapping[str, Any]) -> None:
    """Refuse what asks of one part, typed beside a file that asks of many."""
    for param in ctx.command.params:
        source = ctx.get_parameter_source(param.name or "")
        if param.name in given and source is click.core.ParameterSource.COMMANDLINE:
            raise InputError(
                f"{param.opts[0]} cannot be given with --from, whose file asks for every row",
                "Give it in a column of the file, or ask for one part without --from.",
            )


def _box(ctx: click.Context, box: str, limit: int, as_json: bool) -> int:
    """A line a row, plain or JSON, in order; a row that cannot be read has an error in its place.

    What stands in columns that mean nothing here is carried: before the answer, in JSON under
    "carried".
    """
    from dataclasses import fields

    from xref.errors import XrefError
    from xref.render.box import box_line, fault_line
    from xref.services.question import Asked
    from xref.sheets.box import read_box

    code = 0
    with the_store(ctx) as opened:
        for row in read_box(Path(box), {field.name for field in fields(Asked)}):
            try:
                answer = opened.answer(Asked(**row.question()), limit)
                document = answer.to_json()
                plain = box_line(answer, row.number, row.carried)
            except XrefError as error:
                if error.exit_code == 3:
                    raise
                document = error.to_json()
                plain = fault_line(error, row.number, row.carried)
                code = NO_MATCH
            if as_json:
                echo_json_line({**document, "carried": row.carried} if row.carried else document)
            else:
                click.echo(plain)
    return code
