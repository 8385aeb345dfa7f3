"""The page as a command: it listens where it says, stops when asked, and costs others nothing."""

from __future__ import annotations

import os
import re
import shutil
import signal
import socket
import ssl
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import httpx
import pytest

from xref.errors import FileError, XrefError
from xref.web import serve as serving
from xref.web.serve import HOME, Listening, _doors, _home_door, _try_certificate

CHECKOUT = Path(__file__).parents[2]
ADDRESS = re.compile(r"(https?://[\d.]+:(\d+))/pair#(\w+)")

Begin = Callable[..., tuple["subprocess.Popen[str]", re.Match[str]]]


@pytest.fixture
def begin(store: Path, tmp_path: Path) -> Iterator[Begin]:
    """Starts ``xref ARGS`` in a process of its own, and waits until it says where it listens."""
    begun: list[subprocess.Popen[str]] = []

    def start(*args: str) -> tuple[subprocess.Popen[str], re.Match[str]]:
        process = subprocess.Popen(
            [sys.executable, "-u", "-m", "xref", "--store", str(store), *args],
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            encoding="utf-8",
            cwd=CHECKOUT,
            env={**os.environ, "XDG_DATA_HOME": str(tmp_path), "TMPDIR": str(tmp_path)},
        )
        begun.append(process)
        said = ""
        for line in process.stdout or ():
            said += line
            if "Ctrl-C" in line:
                break
        found = ADDRESS.search(said)
        assert found is not None, said
        return process, found

    yield start
    for process in begun:
        process.kill()
        process.wait()
        if process.stdout:
            process.stdout.close()


def stopped(process: subprocess.Popen[str]) -> tuple[int, str]:
    """What a process says and exits with when Ctrl-C is pressed."""
    process.send_signal(signal.SIGINT)
    said = process.stdout.read() if process.stdout else ""
    return process.wait(60), said


def test_it_listens_lets_the_printed_address_in_and_stops_cleanly(begin: Begin) -> None:
    process, at = begin("page", "--no-browser")
    with httpx.Client(base_url=at[1], headers={"Origin": at[1]}, timeout=60) as client:
        assert client.get("/").status_code == 403
        assert client.post("/pair", data={"code": at[3]}).status_code == 303
        assert "What is it?" in client.get("/").text
        assert "6204" in client.get("/?mark=6204").text
    code, said = stopped(process)
    assert (code, said.strip()) == (0, "Stopped.")


def test_it_stops_though_a_browser_keeps_its_line_open(begin: Begin) -> None:
    process, at = begin("page", "--no-browser")
    with socket.create_connection((HOME, int(at[2])), timeout=20) as line:
        line.sendall(f"GET /pair HTTP/1.1\r\nHost: {at[1][7:]}\r\n\r\n".encode())
        assert line.recv(100).startswith(b"HTTP/1.1 200")
        begun = time.monotonic()
        assert stopped(process)[0] == 0
    assert time.monotonic() - begun < 30


def test_the_demo_serves_its_own_store_and_throws_it_away(begin: Begin, tmp_path: Path) -> None:
    process, at = begin("demo", "--page", "--no-browser")
    with httpx.Client(base_url=at[1], headers={"Origin": at[1]}, timeout=60) as client:
        client.post("/pair", data={"code": at[3]})
        text = client.get("/?mark=QF+447%3F").text
        assert "QF-4471" in text
        assert "Demo: an invented locomotive" in text
    assert any(tmp_path.glob("xref-demo-*"))
    code, said = stopped(process)
    assert code == 0
    assert "thrown away" in said
    assert not any(tmp_path.glob("xref-demo-*"))


def test_a_taken_port_is_told_and_the_usual_one_gives_way() -> None:
    with _home_door(0) as held:
        port = held.getsockname()[1]
        with pytest.raises(XrefError, match="cannot be listened on"):
            _home_door(port)
    with _home_door(None) as first, _home_door(None) as second:
        assert first.getsockname()[1] != second.getsockname()[1]


def test_it_listens_on_the_network_only_when_a_phone_is_to_come(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(serving, "network_address", lambda: "127.0.0.2")
    doors, addresses = _doors(Listening(port=0))
    assert [door.getsockname()[0] for door in doors] == [HOME]
    assert len(addresses) == 2
    doors[0].close()
    doors, addresses = _doors(Listening(port=0, phone=True, names=("Shed.local",)))
    port = doors[0].getsockname()[1]
    assert [door.getsockname() for door in doors] == [(HOME, port), ("127.0.0.2", port)]
    assert addresses[2:] == (f"http://127.0.0.2:{port}", f"http://shed.local:{port}")
    for door in doors:
        door.close()


def test_a_phone_without_a_network_is_told_so(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(serving, "network_address", lambda: None)
    with pytest.raises(XrefError, match="no network"):
        _doors(Listening(port=0, phone=True))


@pytest.mark.parametrize("held", [None, "", "no certificate", "-----BEGIN CERTIFICATE-----\nAAAA"])
def test_a_file_that_is_no_certificate_is_refused(tmp_path: Path, held: str | None) -> None:
    file = tmp_path / "shed.pem"
    if held is not None:
        file.write_text(held)
    with pytest.raises(FileError, match="no certificate"):
        _try_certificate(file)


def test_with_a_certificate_the_addresses_are_https(tmp_path: Path) -> None:
    doors, addresses = _doors(Listening(port=0, certificate=tmp_path / "shed.pem"))
    doors[0].close()
    assert all(address.startswith("https://") for address in addresses)


@pytest.mark.skipif(shutil.which("openssl") is None, reason="no openssl to make a certificate with")
def test_a_certificate_made_as_the_help_says_serves_by_https(begin: Begin, tmp_path: Path) -> None:
    key, cert, both = (tmp_path / name for name in ("key.pem", "cert.pem", "shed.pem"))
    made = "openssl req -x509 -newkey rsa:2048 -nodes -days 3650 -subj /CN=shed -keyout"
    command = [*made.split(), str(key), "-out", str(cert)]
    subprocess.run(command, check=True, capture_output=True)
    both.write_text(cert.read_text() + key.read_text())
    process, at = begin("page", "--no-browser", "--certificate", str(both))
    trusted = ssl.create_default_context(cafile=cert)
    trusted.check_hostname = False
    with httpx.Client(base_url=at[1], headers={"Origin": at[1]}, verify=trusted) as client:
        answer = client.post("/pair", data={"code": at[3]})
        assert answer.status_code == 303
        assert "secure" in answer.headers["set-cookie"].lower()
        assert client.get("/devices").status_code == 200
    assert stopped(process)[0] == 0


def test_other_commands_do_not_load_the_page(small: Path) -> None:
    code = (
        "import sys; from xref.cli.app import main;"
        f"main(['--store', {str(small)!r}, 'decode', '6204']); main(['demo', '--help']);"
        "print(sorted({m.partition('.')[0] for m in sys.modules}"
        " & {'starlette', 'uvicorn', 'jinja2', 'segno', 'PIL', 'anyio'}))"
    )
    done = subprocess.run(
        [sys.executable, "-c", code],
        capture_output=True,
        encoding="utf-8",
        cwd=CHECKOUT,
        check=True,
    )
    assert done.stdout.splitlines()[-1] == "[]"
