"""``xref decode``."""

from __future__ import annotations

import click

from xref.cli.app import echo_json, width
from xref.cli.options import json_option

EXAMPLE = """
\b
Example:
  xref decode "6204 2RS C3"
"""


@click.command("decode", epilog=EXAMPLE)
@click.argument("text", nargs=-1, required=True)
@json_option
def command(text: tuple[str, ...], as_json: bool) -> int:
    """Say what a trade number means.

    Bearings, seals, O-rings, bushes, pins, rings, threads, chains, belts, spanner marks …
    """
    from xref.render.decode import decode_text
    from xref.services.decode.decode import decode
    from xref.services.parts.read_cautions import read_cautions

    decoded = decode(" ".join(text))
    if as_json:
        echo_json({**decoded.to_json(), "cautions": list(read_cautions(decoded.readings))})
    else:
        click.echo(decode_text(decoded, width()))
    return 0 if decoded.readings else 1
