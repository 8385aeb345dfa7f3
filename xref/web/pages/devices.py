"""Who is let in: pair by one scan, the list of devices, and sending one away."""

from __future__ import annotations

from datetime import UTC, datetime
from http import HTTPStatus

from starlette.responses import Response

from xref.errors import NotFoundError
from xref.web.catalogue import LANGUAGES
from xref.web.code import squares
from xref.web.page import LANGUAGE_COOKIE, Ask, Page

PAGE = Page("devices", "/devices")
DAYS_400 = 400 * 86_400
"""The longest that browsers keep a cookie."""


@PAGE.get("/pair")
def pair(ask: Ask) -> Response:
    """The page that hands over the code behind ``#``, or takes it typed where no script runs."""
    return ask.page("pair", wrong=False)


@PAGE.post("/pair", most=1000)
def let_in(ask: Ask) -> Response:
    """Let a device in that has a code; one that is in already keeps its key."""
    known = ask.device() is not None
    if not ask.house.keyring.holds(ask.sent("code")):
        return ask.to("/") if known else ask.page("pair", HTTPStatus.FORBIDDEN, wrong=True)
    answer = ask.to("/")
    if not known:
        answer.set_cookie(
            ask.house.cookie,
            ask.house.keyring.let_in(_usual_name(ask)),
            max_age=DAYS_400,
            httponly=True,
            samesite="lax",
            secure=ask.house.scheme == "https",
        )
    return answer


def _usual_name(ask: Ask) -> str:
    """What a device is called until its owner calls it otherwise."""
    host = ask.request.client.host if ask.request.client else ""
    if host.startswith("127."):
        return ask.texts("devices.this_computer")
    phone = "mobile" in ask.request.headers.get("user-agent", "").lower()
    return ask.texts("devices.phone" if phone else "devices.computer")


@PAGE.get("/devices")
def devices(ask: Ask) -> Response:
    """Every device that is let in."""
    return _shown(ask)


def _shown(ask: Ask, code: str = "") -> Response:
    at = ask.house.addresses[2] if len(ask.house.addresses) > 2 else ""
    address = f"{at}/pair#{code}" if at and code else ""
    mine = ask.device()
    rows = [
        {"ident": d.ident, "name": d.name, "seen": _day(d.seen), "mine": mine == d}
        for d in ask.house.keyring.devices()
    ]
    return ask.page(
        "devices",
        rows=rows,
        phone=at,
        address=address,
        picture=squares(address) if address else None,
        code=code,
    )


def _day(seconds: int) -> str:
    return datetime.fromtimestamp(seconds, UTC).date().isoformat()


@PAGE.post("/devices/code")
def code(ask: Ask) -> Response:
    """A code for one more device; it stands in the answer alone."""
    return _shown(ask, ask.house.keyring.new_code())


@PAGE.post("/devices/{ident}/name")
def name(ask: Ask) -> Response:
    """Call a device otherwise."""
    return _done(ask, ask.house.keyring.call(ask.path("ident").lower(), ask.sent("name")))


@PAGE.post("/devices/{ident}/away")
def away(ask: Ask) -> Response:
    """Let a device in no more."""
    return _done(ask, ask.house.keyring.send_away(ask.path("ident").lower()))


def _done(ask: Ask, device: object) -> Response:
    if device is None:
        raise NotFoundError(ask.texts("devices.gone"), ask.texts("devices.gone_hint"))
    return ask.to("/devices")


@PAGE.post("/language")
def language(ask: Ask) -> Response:
    """Write in another language from now on."""
    back = ask.sent("back")
    answer = ask.to(back if _is_ours(back) else "/")
    if ask.sent("language") in LANGUAGES:
        answer.set_cookie(
            LANGUAGE_COOKIE, ask.sent("language"), max_age=DAYS_400, httponly=True, samesite="lax"
        )
    return answer


def _is_ours(path: str) -> bool:
    """Whether ``path`` leads to a page of ours: //elsewhere and /\\elsewhere do not."""
    return path.startswith("/") and path[1:2] not in ("/", "\\") and path.isprintable()
