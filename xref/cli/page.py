"""``xref page``: the whole job in a browser."""

from __future__ import annotations

from pathlib import Path

import click

from xref.cli.app import the_store
from xref.cli.options import Whole, filled

EXAMPLE = """
\b
A certificate of your own, for --certificate (the phone asks once whether to trust it):
  openssl req -x509 -newkey rsa:2048 -nodes -days 3650 -subj /CN=shed \\
    -keyout key.pem -out cert.pem; cat cert.pem key.pem > shed.pem
\b
Example:
  xref page --phone
"""


@click.command("page", epilog=EXAMPLE)
@click.option("--phone", is_flag=True, help="Let phones on the same network in, each by one scan.")
@click.option("--port", type=Whole(1, 65535), metavar="N", help="Where to listen; 8417 if free.")
@click.option("--no-browser", is_flag=True, help="Only say the address.")
@click.option(
    "--name",
    "names",
    multiple=True,
    callback=filled,
    metavar="NAME",
    help="With --phone: a name this computer has on the network.",
)
@click.option(
    "--certificate",
    callback=filled,
    metavar="FILE.pem",
    help="Serve by https, so that nobody reads along: certificate and key in one file.",
)
@click.option("--devices", is_flag=True, help="Only list the devices that are let in.")
@click.pass_context
def command(
    ctx: click.Context,
    phone: bool,
    port: int | None,
    no_browser: bool,
    names: tuple[str, ...],
    certificate: str | None,
    devices: bool,
) -> int:
    """Open the page in your browser, on this computer alone, until Ctrl-C.

    It needs no network. With --phone others on the same network can reach it too, but only
    devices that were let in by a scan are answered.
    """
    with the_store(ctx, patient=False) as opened:
        if devices:
            return _devices(opened.where)
        from xref.web.serve import Listening, serve

        file = Path(certificate) if certificate else None
        serve(opened, Listening(port, phone, not no_browser, names, file), click.echo)
    click.echo("Stopped.")
    return 0


def _devices(where: str) -> int:
    from xref.web.keys import Keyring, keys_file

    found = Keyring(keys_file(where)).devices()
    for device in found:
        click.echo(device.name)
    if not found:
        click.echo("No device is let in yet: xref page opens a browser that is.")
    return 0
