"""The guard: each line of its list, attacked."""

from __future__ import annotations

import socket
from collections.abc import Iterator

import httpx
import pytest

from xref.web.app import all_pages
from xref.web.guard import HEADERS, MOST_BODY
from xref.web.page import House

GETS = [a.path for p in all_pages() for a in p.addresses if a.method == "GET" and "{" not in a.path]
POSTS = [
    a.path.format(**dict.fromkeys(["ident"], "x"))
    for p in all_pages()
    for a in p.addresses
    if a.method == "POST" and a.path.count("{") == a.path.count("{ident}")
]
STATIC = ["/static/page.css", "/static/pair.js", "/static/mark.svg"]


def raw(house: House, text: bytes) -> bytes:
    """What is answered to ``text``, sent as it is."""
    with socket.create_connection(("127.0.0.1", house.port), timeout=20) as line:
        line.sendall(text)
        line.shutdown(socket.SHUT_WR)
        return b"".join(iter(lambda: line.recv(65536), b""))


@pytest.mark.parametrize("path", [*GETS, *STATIC, "/nowhere"])
@pytest.mark.parametrize(
    "host",
    [
        "evil.example",
        "127.0.0.1",
        "127.0.0.1:1",
        "evil.example:{port}",
        "127.0.0.1:{port}.evil.example",
        "LOCALHOST:{port}",
    ],
)
def test_another_host_is_misdirected_for_pages_and_static_files(
    client: httpx.Client, house: House, path: str, host: str
) -> None:
    answer = client.get(path, headers={"Host": host.format(port=house.port)})
    assert answer.status_code == 421


def test_two_hosts_or_none_are_refused(house: House) -> None:
    good = f"Host: 127.0.0.1:{house.port}\r\n"
    for lines in ("", good + "Host: evil.example\r\n", good + good):
        status = raw(house, f"GET /static/page.css HTTP/1.1\r\n{lines}\r\n".encode()).split()[1]
        assert status in (b"400", b"421")
    assert raw(house, b"GET /static/page.css HTTP/1.0\r\n\r\n").split()[1] == b"421"


def test_headers_of_a_forwarding_server_are_not_believed(client: httpx.Client) -> None:
    forwarded = {"X-Forwarded-Host": "127.0.0.1", "Forwarded": "host=127.0.0.1", "Host": "evil"}
    assert client.get("/", headers=forwarded).status_code == 421


@pytest.mark.parametrize("path", POSTS)
@pytest.mark.parametrize(
    "origin",
    [
        None,
        "null",
        "",
        "http://evil.example",
        "https://127.0.0.1:{port}",
        "http://127.0.0.1",
        "http://127.0.0.1:{port}/",
        "http://localhost:{port}",
    ],
)
def test_a_write_without_our_own_origin_is_forbidden(
    client: httpx.Client, house: House, path: str, origin: str | None
) -> None:
    del client.headers["Origin"]
    headers = {} if origin is None else {"Origin": origin.format(port=house.port)}
    answer = client.post(path, headers=headers, data={"name": "taken over"})
    assert answer.status_code == 403
    assert [d.name for d in house.keyring.devices()] == ["test"]


def test_an_origin_beside_another_is_forbidden(house: House, client: httpx.Client) -> None:
    key = client.cookies[house.cookie]
    at = house.addresses[0]
    text = (
        f"POST /devices/code HTTP/1.1\r\nHost: {at[7:]}\r\nOrigin: {at}\r\n"
        f"Origin: http://evil.example\r\nCookie: {house.cookie}={key}\r\nContent-Length: 0\r\n\r\n"
    )
    assert raw(house, text.encode()).split()[1] == b"403"


@pytest.mark.parametrize("method", ["PUT", "DELETE", "PATCH", "OPTIONS", "TRACE"])
def test_other_methods_are_not_known(client: httpx.Client, method: str) -> None:
    assert client.request(method, "/").status_code == 405


@pytest.mark.parametrize("path", [p for p in GETS if p != "/pair"])
def test_a_stranger_sees_no_page(stranger: httpx.Client, path: str) -> None:
    answer = stranger.get(path)
    assert answer.status_code == 403
    assert "not let in" in answer.text


@pytest.mark.parametrize("path", [p for p in POSTS if p != "/pair"])
def test_a_stranger_writes_nothing(stranger: httpx.Client, path: str) -> None:
    assert stranger.post(path).status_code == 403


@pytest.mark.parametrize(
    "path",
    [
        "/pair/../devices",
        "/PAIR/x",
        "/static/../devices",
        "/static/..%2fapp.py",
        "//pair",
        "/pairs",
        "/static/../../page.py",
        "/static/%2e%2e/page.py",
    ],
)
def test_no_path_leads_around_the_key_or_out_of_the_static_files(house: House, path: str) -> None:
    said = raw(house, f"GET {path} HTTP/1.1\r\nHost: 127.0.0.1:{house.port}\r\n\r\n".encode())
    assert said.split()[1] in (b"403", b"404")
    assert b"import" not in said


def test_a_key_of_another_port_or_a_wrong_one_lets_nobody_in(
    stranger: httpx.Client, house: House
) -> None:
    key = house.keyring.let_in("phone")
    for cookie in (f"xref-key-1={key}", f"{house.cookie}={key[:-1]}", f"{house.cookie}=", "x"):
        assert stranger.get("/", headers={"Cookie": cookie}).status_code == 403
    assert stranger.get("/", headers={"Cookie": f"{house.cookie}={key}"}).status_code == 200


@pytest.mark.parametrize("path", ["/", "/static/page.css", "/nowhere", "/devices"])
def test_every_answer_carries_the_guards_headers(client: httpx.Client, path: str) -> None:
    answer = client.get(path)
    assert {name: answer.headers[name] for name in HEADERS} == HEADERS
    policy = answer.headers["content-security-policy"]
    assert policy.startswith("default-src 'none'")
    assert "unsafe" not in policy
    assert "*" not in policy
    assert "server" not in answer.headers


def test_refusals_carry_them_too(stranger: httpx.Client) -> None:
    for answer in (stranger.get("/"), stranger.get("/", headers={"Host": "evil.example"})):
        assert {name: answer.headers[name] for name in HEADERS} == HEADERS
        assert "<h1>" in answer.text


def test_a_body_that_says_it_is_too_long_is_refused_unread(house: House) -> None:
    at = house.addresses[0]
    key = house.keyring.let_in("test")
    text = (
        f"POST /devices/code HTTP/1.1\r\nHost: {at[7:]}\r\nOrigin: {at}\r\n"
        f"Cookie: {house.cookie}={key}\r\nContent-Length: {MOST_BODY + 1}\r\n\r\n"
    )
    assert raw(house, text.encode()).split()[1] == b"413"


@pytest.mark.parametrize(
    "kind", ["application/x-www-form-urlencoded", "text/plain", "multipart/form-data; boundary=x"]
)
def test_a_body_in_chunks_is_counted(client: httpx.Client, kind: str) -> None:
    sent = 0

    def chunks() -> Iterator[bytes]:
        nonlocal sent
        yield b'--x\r\nContent-Disposition: form-data; name="f"; filename="f"\r\n\r\n'
        for _ in range(400):
            sent += 65536
            yield b"a" * 65536

    try:
        answer = client.post("/devices/code", content=chunks(), headers={"Content-Type": kind})
        assert answer.status_code in ((413,) if "text/plain" not in kind else (200, 413))
    except (httpx.WriteError, httpx.ReadError, httpx.RemoteProtocolError):
        pass  # broken off while it was still being sent
    assert sent < 30_000_000
    assert client.get("/devices").status_code == 200


def test_a_body_of_the_most_bytes_is_taken(client: httpx.Client) -> None:
    body = b"code=" + b"a" * (1000 - 5)
    head = {"Content-Type": "application/x-www-form-urlencoded"}
    assert client.post("/pair", content=body, headers=head).status_code in (303, 403)
    assert client.post("/pair", content=body + b"a", headers=head).status_code == 413


def test_it_listens_on_this_computer_alone(house: House) -> None:
    from xref.web.serve import network_address

    near = network_address()
    if near is None:
        pytest.skip("this computer is on no network")
    with pytest.raises(OSError, match=r"refused|timed out"):
        socket.create_connection((near, house.port), timeout=2)
