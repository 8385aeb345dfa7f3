"""``xref demo``: the main job on an invented locomotive, in a store of its own."""

from __future__ import annotations

import shlex
import tempfile
import textwrap
from pathlib import Path

import click

from xref.cli.app import run, width
from xref.cli.options import Whole

INTRO = (
    "Invented scenario: volunteers of a quarry railway rebuild the Whimbrel locomotive QW 312, "
    "built by Quillfeather; spares once came from Dunmarrow. Nothing here touches your own store."
)


@click.command("demo", epilog="\b\nExample:\n  xref demo\n")
@click.option("--page", is_flag=True, help="Show it in your browser instead, until Ctrl-C.")
@click.option("--port", type=Whole(1, 65535), metavar="N", help="With --page: where to listen.")
@click.option("--no-browser", is_flag=True, help="With --page: only say the address.")
def command(page: bool, port: int | None, no_browser: bool) -> int:
    """Show the main job on an invented locomotive.

    In a store of its own that is thrown away.
    """
    from xref.services.demo import walk
    from xref.services.open import open_store

    click.echo(textwrap.fill(INTRO, width()))
    with tempfile.TemporaryDirectory(prefix="xref-demo-") as folder:
        store = str(Path(folder) / "demo.xref")
        with open_store(store) as opened:
            count = opened.fill_with_demo()
        click.echo(f"{count} parts were written down from its books.")
        if page:
            return _page(store, port, not no_browser)
        for step in walk():
            click.echo("\n" + textwrap.fill(step.say, width()) if step.say else "")
            click.echo(f"  $ xref {shlex.join(step.args)}\n")
            run(["--store", store, *step.args])
    return 0


def _page(store: str, port: int | None, browser: bool) -> int:
    from xref.services.open import open_store
    from xref.web.serve import Listening, serve

    with open_store(store, patient=False) as opened:
        serve(opened, Listening(port, browser=browser, demo=True), click.echo)
    click.echo("Stopped; the demo's store is thrown away.")
    return 0
