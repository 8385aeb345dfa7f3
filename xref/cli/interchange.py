"""``xref interchange``."""

from __future__ import annotations

import click

from xref.cli.app import cautioned, mentioned, the_store
from xref.cli.options import source_option

EXAMPLE = """
\b
Example:
  xref interchange "D 70-0142" QF-4471 --grade same --source "Dunmarrow Price List"
"""


@click.command("interchange", epilog=EXAMPLE)
@click.argument("a")
@click.argument("b")
@click.option(
    "--grade",
    required=True,
    metavar="G",
    help="same, stated, with-work, tried-fits or tried-does-not-fit.",
)
@click.option("--one-way", is_flag=True, help="A serves for B, but B not for A.")
@source_option
@click.option("--note", metavar="TEXT", help="What work, or what did not fit.")
@click.pass_context
def command(
    ctx: click.Context,
    a: str,
    b: str,
    grade: str,
    one_way: bool,
    source: str | None,
    note: str | None,
) -> int:
    """Write down that A and B serve for each other.

    With --grade, how sure that is.
    """
    from xref.services.interchanging import TOLD, interchange

    with the_store(ctx) as opened, opened.store.writing("interchange") as unit:
        done = interchange(
            unit, a, b, grade=grade, one_way=one_way, source=source or "", note=note or ""
        )
        unit.commit()
    mentioned(done.made)
    sign = "→" if one_way else "↔"
    click.echo(f"{done.part.number} {sign} {done.other.number}: {TOLD[grade]}.")
    cautioned(done.cautions)
    return 0
