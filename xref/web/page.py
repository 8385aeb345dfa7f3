"""What a page is made of: its addresses, what is asked of it, and how it answers."""

from __future__ import annotations

import secrets
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import cache
from http import HTTPStatus
from pathlib import Path
from typing import TYPE_CHECKING, Any

import jinja2
from starlette.datastructures import FormData, QueryParams
from starlette.requests import Request
from starlette.responses import HTMLResponse, JSONResponse, RedirectResponse, Response

from xref.render.identify import odds_text
from xref.web.catalogue import LANGUAGES, Texts, preferred
from xref.web.guard import MOST_BODY
from xref.web.jobs import Jobs
from xref.web.once import Once

if TYPE_CHECKING:
    from xref.services.open import OpenStore
    from xref.web.keys import Device, Keyring
    from xref.web.worker import Worker

HERE = Path(__file__).parent
NAV = ("question", "bench", "wanted", "machines", "parts", "sheets", "history", "devices")
"""The pages at the head of each page, in this order; those that there are."""
LANGUAGE_COOKIE = "xref-language"


@dataclass(frozen=True)
class House:
    """What all pages share: the open store, the keys, the worker, and where it is served.

    ``addresses`` are the whole beginnings of addresses (http://127.0.0.1:8417), this computer's
    own first; ``certificate`` whether they are https.
    """

    opened: OpenStore
    keyring: Keyring
    worker: Worker
    addresses: tuple[str, ...]
    demo: bool = False
    once: Once = field(default_factory=Once)
    jobs: Jobs = field(default_factory=Jobs)

    @property
    def port(self) -> int:
        """The port served on."""
        return int(self.addresses[0].rpartition(":")[2])

    @property
    def scheme(self) -> str:
        """http, or https where a certificate was given."""
        return self.addresses[0].partition(":")[0]

    @property
    def cookie(self) -> str:
        """The name of the key's cookie: cookies are shared between ports, so it names its own."""
        return f"xref-key-{self.port}"

    @property
    def hosts(self) -> frozenset[str]:
        """Every value that Host may have."""
        named = {address.partition("//")[2] for address in self.addresses}
        usual = {"http": ":80", "https": ":443"}[self.scheme]
        return frozenset(named | {name.removesuffix(usual) for name in named})


@dataclass(frozen=True)
class Ask:
    """One request, as a page sees it. ``form`` is what was sent, empty for a GET."""

    request: Request
    house: House
    form: FormData = field(default_factory=FormData)

    @property
    def opened(self) -> OpenStore:
        """The open store."""
        return self.house.opened

    @property
    def query(self) -> QueryParams:
        """What stands behind ``?`` in the address."""
        return self.request.query_params

    @property
    def texts(self) -> Texts:
        """The texts in the reader's language."""
        return texts_for(self.request)

    def path(self, name: str) -> str:
        """A place in braces of the page's address."""
        return str(self.request.path_params[name])

    def sent(self, name: str) -> str:
        """A field of the form as text, without blanks at its ends; "" where it is not there."""
        value = self.form.get(name, "")
        return value.strip() if isinstance(value, str) else ""

    def device(self) -> Device | None:
        """The device that asks."""
        return self.house.keyring.device(self.request.cookies.get(self.house.cookie, ""))

    def page(self, template: str, status: int = 200, **values: Any) -> Response:
        """The page that ``templates/TEMPLATE.html`` makes of ``values``."""
        return HTMLResponse(render(self.request, self.house, template, **values), status)

    def document(self, document: object, status: int = 200) -> Response:
        """A JSON document, for the page's own scripts."""
        return JSONResponse(document, status)

    def to(self, path: str) -> Response:
        """Go on to ``path``, which is one of our own, by GET."""
        return RedirectResponse(path, HTTPStatus.SEE_OTHER)

    def once(self, write: Callable[[], str]) -> Response:
        """Do a write that leads to a path, and go there; one that comes again is not done again.

        The form's field ``once`` tells it from others: an id that was made with the form.
        """
        return self.to(self.house.once.led(self.sent("once")[:64], write))


View = Callable[[Ask], Response]


@dataclass(frozen=True, slots=True)
class Address:
    """One address of a page: its method, its path, what answers, and how many bytes may be sent."""

    method: str
    path: str
    view: View
    most: int = MOST_BODY


class Page:
    """A page: ``name`` is its key in the catalogue, ``home`` where the head of each page leads."""

    def __init__(self, name: str, home: str) -> None:
        self.name, self.home = name, home
        self.addresses: list[Address] = []

    def get(self, path: str) -> Callable[[View], View]:
        """Answer GET on ``path``, which may have places in braces. It must not write."""
        return self._at("GET", path, MOST_BODY)

    def post(self, path: str, most: int = MOST_BODY) -> Callable[[View], View]:
        """Answer POST on ``path`` with at most ``most`` bytes sent to it."""
        return self._at("POST", path, most)

    def _at(self, method: str, path: str, most: int) -> Callable[[View], View]:
        def keep(view: View) -> View:
            self.addresses.append(Address(method, path, view, most))
            return view

        return keep


def texts_for(request: Request) -> Texts:
    """The texts in the language that was chosen, or that the browser asks for."""
    chosen = request.cookies.get(LANGUAGE_COOKIE, "")
    return Texts(preferred(chosen, request.headers.get("accept-language", "")))


@cache
def environment() -> jinja2.Environment:
    """The templates: everything is escaped, and what is not given is a fault."""
    return jinja2.Environment(
        loader=jinja2.FileSystemLoader(HERE / "templates"),
        autoescape=True,
        undefined=jinja2.StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        auto_reload=False,
    )


def render(request: Request, house: House, template: str, **values: Any) -> str:
    """The text of a page. ``t`` in a template is the catalogue, ``here`` the address asked for."""
    texts = texts_for(request)
    here = request.url.path + (f"?{request.url.query}" if request.url.query else "")
    return (
        environment()
        .get_template(f"{template}.html")
        .render(
            t=texts,
            here=here,
            house=house,
            nav=request.scope.get("xref.nav", ()),
            languages=LANGUAGES,
            odds=lambda probability: odds_text(probability).replace(" ", "\u00a0"),
            once=lambda: secrets.token_urlsafe(12),
            **values,
        )
    )
