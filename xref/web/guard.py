"""What stands before every page: who asks, from where, with what key, and how much they send.

Pure ASGI, so that nothing of a request is read before it was looked at.
"""

from __future__ import annotations

from collections.abc import Callable, Collection
from contextlib import suppress
from dataclasses import dataclass
from http import HTTPStatus

from starlette.datastructures import Headers, MutableHeaders
from starlette.requests import cookie_parser
from starlette.types import ASGIApp, Message, Receive, Scope, Send

READS = frozenset({"GET", "HEAD"})
METHODS = READS | {"POST"}
MOST_BODY = 1_000_000
"""Bytes that one may send where a page does not say otherwise."""

HEADERS = {
    "content-security-policy": "default-src 'none'; script-src 'self'; style-src 'self'; "
    "img-src 'self'; connect-src 'self'; form-action 'self'; base-uri 'none'; "
    "frame-ancestors 'none'",
    "cache-control": "no-store",
    "x-content-type-options": "nosniff",
    "referrer-policy": "same-origin",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
}
"""On every answer. ``no-referrer`` would make our own forms send ``Origin: null``."""

Refusal = Callable[[Scope, HTTPStatus, str], ASGIApp]
"""Makes the page that says why not: for a request, its status and the reason's key."""


@dataclass(frozen=True, slots=True)
class Rules:
    """What the guard goes by.

    ``hosts`` are the only values of Host; ``cookie`` is the name of the key's cookie; ``known``
    says whether a key lets in; ``open_to_all`` whether a path is for those without a key; ``most``
    how many bytes may be sent to a path.
    """

    hosts: Collection[str]
    scheme: str
    cookie: str
    known: Callable[[str], bool]
    open_to_all: Callable[[str], bool]
    most: Callable[[str], int]


class _TooMuchError(Exception):
    """More was sent than may be."""


class Guard:
    """The door before ``inner``."""

    def __init__(self, inner: ASGIApp, rules: Rules, refusal: Refusal) -> None:
        self.inner, self.rules, self.refusal = inner, rules, refusal

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request, or refuse it. What is no HTTP is closed."""
        if scope["type"] != "http":
            if scope["type"] == "websocket":
                await send({"type": "websocket.close", "code": 1008})
            return

        async def dressed(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                for name, value in HEADERS.items():
                    headers[name] = value
            await send(message)

        fault = self._fault(scope)
        if fault:
            await self.refusal(scope, *fault)(scope, receive, dressed)
        else:
            await self._counted(scope, receive, dressed)

    def _fault(self, scope: Scope) -> tuple[HTTPStatus, str] | None:
        headers = Headers(scope=scope)
        hosts = headers.getlist("host")
        if len(hosts) != 1 or hosts[0] not in self.rules.hosts:
            return HTTPStatus.MISDIRECTED_REQUEST, "host"
        if scope["method"] not in METHODS:
            return HTTPStatus.METHOD_NOT_ALLOWED, "method"
        if scope["method"] not in READS:
            origins = headers.getlist("origin")
            if origins != [f"{self.rules.scheme}://{hosts[0]}"]:
                return HTTPStatus.FORBIDDEN, "origin"
        if not self.rules.open_to_all(scope["path"]) and not self._has_key(headers):
            return HTTPStatus.FORBIDDEN, "key"
        length = headers.get("content-length", "0")
        if not length.isascii() or not length.isdigit():
            return HTTPStatus.BAD_REQUEST, "length"
        if int(length) > self.rules.most(scope["path"]):
            return HTTPStatus.REQUEST_ENTITY_TOO_LARGE, "much"
        return None

    def _has_key(self, headers: Headers) -> bool:
        cookies = cookie_parser("; ".join(headers.getlist("cookie")))
        key = cookies.get(self.rules.cookie, "")
        return bool(key) and self.rules.known(key)

    async def _counted(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Let the request through, and break it off where its body is longer than may be: a body
        in chunks does not say how long it is."""
        most, come, begun, broken = self.rules.most(scope["path"]), 0, False, False

        async def counting() -> Message:
            nonlocal come, broken
            message = await receive()
            if message["type"] == "http.request":
                come += len(message.get("body", b""))
                if come > most:
                    broken = True
                    raise _TooMuchError
            return message

        async def watched(message: Message) -> None:
            nonlocal begun
            if not broken:
                begun = True
                await send(message)

        with suppress(_TooMuchError):
            await self.inner(scope, counting, watched)
        if broken and not begun:
            refused = self.refusal(scope, HTTPStatus.REQUEST_ENTITY_TOO_LARGE, "much")
            await refused(scope, receive, send)
