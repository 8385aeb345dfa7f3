"""The whole page: every module of ``xref.web.pages`` behind the guard."""

from __future__ import annotations

import os
import pkgutil
import re
import sys
import traceback
from collections.abc import Awaitable, Callable, Iterable
from functools import cache
from http import HTTPStatus
from importlib import import_module
from pathlib import Path

from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData, UploadFile
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route
from starlette.types import ASGIApp, Receive, Scope, Send

from xref.errors import BusyStoreError, FileError, InputError, NotFoundError, XrefError
from xref.web import pages
from xref.web.guard import MOST_BODY, Guard, Rules
from xref.web.page import NAV, Address, Ask, House, Page, render

STATIC = Path(__file__).parent / "static"
TYPES = {".css": "text/css", ".js": "text/javascript", ".svg": "image/svg+xml"}
OPEN = re.compile(r"/static/|/pair/?\Z", re.IGNORECASE)
"""What those without a key may ask for: how the page looks, and how to be let in."""
MOST_FIELDS, MOST_FILES = 3000, 20


@cache
def all_pages() -> tuple[Page, ...]:
    """Every page there is, those of the head first and in its order."""
    names = sorted(module.name for module in pkgutil.iter_modules(pages.__path__))
    found: list[Page] = [import_module(f"xref.web.pages.{name}").PAGE for name in names]
    order = {name: place for place, name in enumerate(NAV)}
    return tuple(sorted(found, key=lambda page: order.get(page.name, len(order))))


def make_app(house: House) -> ASGIApp:
    """The page over one open store, as an ASGI application."""
    routes = [_static(), *(_route(at, house) for page in all_pages() for at in page.addresses)]
    nav = [(page.name, page.home) for page in all_pages() if page.name in NAV]
    # What has fixed words goes before what has places in braces: /bench/new is no label.
    routes.sort(key=lambda route: route.path.count("{"))
    inner = Starlette(
        routes=routes,
        exception_handlers={HTTPException: _http_failure(house), Exception: _unforeseen(house)},
    )
    limits = [
        (_any_case(at.path), at.most)
        for page in all_pages()
        for at in page.addresses
        if at.most != MOST_BODY
    ]
    rules = Rules(
        hosts=house.hosts,
        scheme=house.scheme,
        cookie=house.cookie,
        known=lambda key: house.keyring.device(key) is not None,
        open_to_all=lambda path: OPEN.match(path) is not None,
        most=lambda path: next((most for at, most in limits if at.match(path)), MOST_BODY),
    )

    def refusal(scope: Scope, status: HTTPStatus, reason: str) -> ASGIApp:
        return _told(Request(scope), house, status, f"refused_{reason}")

    guarded = Guard(inner, rules, refusal)

    async def app(scope: Scope, receive: Receive, send: Send) -> None:
        scope["xref.nav"] = nav
        await guarded(scope, receive, send)

    return app


class _Route(Route):
    """A route that does not mind upper and lower case: codes on labels are all upper case."""

    def __init__(
        self, path: str, endpoint: Callable[..., Awaitable[Response]], method: str
    ) -> None:
        super().__init__(path, endpoint, methods=[method])
        self.path_regex = re.compile(self.path_regex.pattern, re.IGNORECASE)


def _any_case(path: str) -> re.Pattern[str]:
    pieces = re.split(r"\{\w+\}", path)
    return re.compile("[^/]+".join(map(re.escape, pieces)) + r"/?\Z", re.IGNORECASE)


def _static() -> Route:
    held = {file.name: file for file in STATIC.iterdir() if file.suffix in TYPES}

    async def answer(request: Request) -> Response:
        file = held.get(request.path_params["name"].lower())
        if file is None:
            raise HTTPException(HTTPStatus.NOT_FOUND)
        return Response(file.read_bytes(), media_type=TYPES[file.suffix])

    return _Route("/static/{name}", answer, "GET")


def _route(at: Address, house: House) -> Route:
    async def answer(request: Request) -> Response:
        if request.method != "POST":
            return await run_in_threadpool(_answered, at, Ask(request, house))
        async with request.form(max_fields=MOST_FIELDS, max_files=MOST_FILES) as form:
            return await run_in_threadpool(_answered, at, Ask(request, house, form))

    return _Route(at.path, answer, at.method)


def _answered(at: Address, ask: Ask) -> Response:
    """The page's answer, or what is wrong, in plain words."""
    try:
        return at.view(ask)
    except XrefError as error:
        return _failed(ask, error)
    except Exception as error:
        # Told here already: what gets as far as the server ends the connection with it.
        return _unforeseen_answer(ask.request, ask.house, error)


def _failed(ask: Ask, error: XrefError) -> Response:
    busy = isinstance(error, BusyStoreError)
    status = HTTPStatus.SERVICE_UNAVAILABLE
    if isinstance(error, NotFoundError):
        status = HTTPStatus.NOT_FOUND
    elif isinstance(error, (InputError, FileError)):
        status = HTTPStatus.UNPROCESSABLE_ENTITY
    elif busy:
        status = HTTPStatus.CONFLICT
    return ask.page(
        "failure",
        status,
        title=ask.texts("base.busy" if busy else "base.failed"),
        told=error.message,
        hint=error.hint,
        kept=_kept(ask.form) if busy else (),
        files=busy and any(isinstance(value, UploadFile) for value in ask.form.values()),
    )


def _kept(form: FormData) -> Iterable[tuple[str, str]]:
    """What was sent, to be sent once more; files are chosen anew."""
    return [(name, value) for name, value in form.multi_items() if isinstance(value, str)]


def _told(request: Request, house: House, status: int, key: str) -> Response:
    """A page that says what is wrong, in a short or a long word of the catalogue."""
    from xref.web.page import texts_for

    t = texts_for(request)
    text = render(
        request,
        house,
        "failure",
        title=t(f"base.{key}"),
        told=t(f"base.{key}_told"),
        hint=t(f"base.{key}_hint"),
        kept=(),
        files=False,
    )
    return Response(text, status, media_type="text/html")


def _http_failure(house: House) -> Callable[[Request, Exception], Awaitable[Response]]:
    async def answer(request: Request, error: Exception) -> Response:
        status = error.status_code if isinstance(error, HTTPException) else 500
        known = {HTTPStatus.NOT_FOUND: "no_page", HTTPStatus.METHOD_NOT_ALLOWED: "no_page"}
        return _told(request, house, status, known.get(HTTPStatus(status), "bad"))

    return answer


def _unforeseen(house: House) -> Callable[[Request, Exception], Awaitable[Response]]:
    async def answer(request: Request, error: Exception) -> Response:
        return _unforeseen_answer(request, house, error)

    return answer


def _unforeseen_answer(request: Request, house: House, error: Exception) -> Response:
    if os.environ.get("XREF_DEBUG"):
        traceback.print_exception(error, file=sys.stderr)
    return _told(request, house, HTTPStatus.INTERNAL_SERVER_ERROR, "unforeseen")
