"""Listen, open the browser, warm the store, and stop when asked to."""

from __future__ import annotations

import logging
import os
import socket
import ssl
import sys
import threading
import webbrowser
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

import uvicorn

from xref.errors import FileError, XrefError
from xref.web.app import make_app
from xref.web.keys import Keyring, keys_file
from xref.web.page import House, environment
from xref.web.worker import Worker

if TYPE_CHECKING:
    from xref.services.open import OpenStore

PORT = 8417
PORTS_TRIED = 10
HOME = "127.0.0.1"
NOWHERE = ("192.0.2.1", 9)
"""An address for documents (RFC 5737): asking which way leads to it sends nothing."""
GRACE = 2
"""Seconds that answers under way may take after one has said stop."""

Say = Callable[[str], None]


@dataclass(frozen=True, slots=True)
class Listening:
    """How the page is served. ``port`` None: the usual one, or the next that is free.

    ``phone``: on the local network too; ``names`` are further names of this computer there.
    ``certificate``: a PEM file with certificate and key, for https.
    """

    port: int | None = None
    phone: bool = False
    browser: bool = True
    names: tuple[str, ...] = ()
    certificate: Path | None = None
    demo: bool = False


def serve(opened: OpenStore, how: Listening, say: Say) -> None:
    """Serve the page over ``opened`` until Ctrl-C; ``say`` is told where, in lines for a person.

    Raises XrefError where the port is taken, or the certificate cannot be used.
    """
    _try_certificate(how.certificate)
    doors, addresses = _doors(how)
    worker = Worker()
    keyring = Keyring(keys_file(opened.where))
    house = House(opened, keyring, worker, addresses, how.demo)
    try:
        server = uvicorn.Server(config(house, how.certificate))
        worker.begin(lambda: _warm(opened))
        _told(house, how, say)
        server.run(sockets=doors)
    except KeyboardInterrupt:
        pass
    finally:
        for door in doors:
            door.close()
        worker.close()
        house.jobs.close()


def config(house: House, certificate: Path | None = None) -> uvicorn.Config:
    """How the server runs: plainly, saying nothing, trusting no header of another server."""
    logging.getLogger("uvicorn.error").setLevel(logging.CRITICAL)
    return uvicorn.Config(
        make_app(house),
        log_config=None,
        access_log=False,
        lifespan="off",
        ws="none",
        http="h11",
        loop="asyncio",
        proxy_headers=False,
        server_header=False,
        timeout_graceful_shutdown=GRACE,
        ssl_certfile=certificate,
    )


def _doors(how: Listening) -> tuple[list[socket.socket], tuple[str, ...]]:
    """The sockets that listen, and the addresses they are reached by, our own first."""
    home = _home_door(how.port)
    port = home.getsockname()[1]
    doors, hosts = [home], [HOME, "localhost"]
    if how.phone:
        near = network_address()
        if near is None:
            home.close()
            raise XrefError(
                "this computer is on no network that a phone could reach it by",
                "Join the network of the phone, or leave --phone out.",
            )
        try:
            doors.append(_door(near, port))
        except OSError as error:
            home.close()
            raise _taken(port) from error
        hosts.append(near)
    hosts += [name.lower() for name in how.names]
    scheme = "https" if how.certificate else "http"
    return doors, tuple(f"{scheme}://{host}:{port}" for host in hosts)


def _home_door(port: int | None) -> socket.socket:
    tried = [port] if port is not None else [*range(PORT, PORT + PORTS_TRIED), 0]
    for one in tried:
        try:
            return _door(HOME, one)
        except OSError as error:
            failure = error
    raise _taken(tried[0]) from failure


def _taken(port: int) -> XrefError:
    return XrefError(
        f"port {port} cannot be listened on: it is in use, or not allowed",
        "Give another with --port, or leave --port out.",
    )


def _door(host: str, port: int) -> socket.socket:
    door = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    try:
        if os.name == "posix":
            # Elsewhere this would let two programs listen at once.
            door.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        door.bind((host, port))
        door.listen(128)
    except OSError:
        door.close()
        raise
    return door


def network_address() -> str | None:
    """This computer's address on the local network; None where it is on none."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as asking:
        try:
            asking.connect(NOWHERE)
            found = str(asking.getsockname()[0])
        except OSError:
            return None
    return None if found.startswith(("127.", "0.")) else found


def _try_certificate(file: Path | None) -> None:
    if file is None:
        return
    try:
        ssl.create_default_context(ssl.Purpose.CLIENT_AUTH).load_cert_chain(file)
    except (OSError, ssl.SSLError) as error:
        raise FileError(
            f"{file} holds no certificate with its key",
            "Give one PEM file with both; xref page --help says how to make it.",
        ) from error


def _told(house: House, how: Listening, say: Say) -> None:
    at = f"{house.addresses[0]}/pair#{house.keyring.new_code()}"
    if how.browser and _has_screen():
        threading.Thread(target=webbrowser.open, args=(at,), daemon=True).start()
        say("The page opens in your browser; if it does not, open this in one:")
    else:
        say("Open this in a browser:")
    say(f"  {at}")
    say("(good for five minutes and one browser)")
    if how.phone:
        say(f"For a phone on the same network, {house.addresses[2]}: open Devices and scan.")
        if how.certificate is None:
            say(
                "Others on the same network could read along. Use it on a network of your own, "
                "or give --certificate."
            )
    say("Stop with Ctrl-C.")


def _has_screen() -> bool:
    """Whether a browser would have a screen; in a bare terminal one might open in its place."""
    if sys.platform.startswith("linux"):
        return bool(os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"))
    return True


def _warm(opened: OpenStore) -> None:
    """Ask something once, so that the first answer need not read tables and templates in."""
    try:
        for name in environment().list_templates():
            environment().get_template(name)
        opened.identify(mark="62?4", bore="20mm", words="bearing")
    except XrefError:
        return  # whoever asks is told
