"""The question and its answer: the whole question stands in the address."""

from __future__ import annotations

from starlette.responses import Response

from xref.services.one_line import taken
from xref.web.page import Ask, Page

PAGE = Page("question", "/")


@PAGE.get("/")
def question(ask: Ask) -> Response:
    """The form, and below it the answer to what stands in the address."""
    line = ask.query.get("line", "").strip()
    if not line:
        return ask.page("question", line="", answer=None)
    found = taken([line])
    answer = ask.house.worker.run(lambda: ask.opened.answer(found.asked))
    return ask.page("question", line=line, answer=answer)
