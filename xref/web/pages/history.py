"""What was changed, newest first, and how one action is taken back."""

from __future__ import annotations

from starlette.responses import Response

from xref.errors import NotFoundError
from xref.render.history import plain_lines
from xref.web.page import Ask, Page

PAGE = Page("history", "/history")
SHOWN, MOST = 50, 1000


@PAGE.get("/history")
def everything(ask: Ask) -> Response:
    """The last actions, each with what it changed; ``more`` in the address shows more of them."""
    limit = MOST if "more" in ask.query else SHOWN
    told = ask.opened.upkeep.history(limit=limit + 1)
    return ask.page(
        "history",
        rows=[(item.action, plain_lines(item)) for item in told[:limit]],
        more=len(told) > limit,
    )


@PAGE.post("/history/{number}/back")
def back(ask: Ask) -> Response:
    """Take one action back; refused where later ones touch the same rows."""
    text = ask.path("number")
    if not (text.isascii() and text.isdigit() and len(text) < 10):
        raise NotFoundError(ask.texts("history.no_number"), ask.texts("history.no_number_hint"))

    def write() -> str:
        ask.opened.upkeep.undo(int(text), ask.sent("member"))
        return "/history"

    return ask.once(write)
