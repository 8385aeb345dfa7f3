"""Spreadsheets: sent, looked at column by column, put right, brought in, taken back."""

from __future__ import annotations

import re
from pathlib import Path

from starlette.datastructures import UploadFile
from starlette.responses import Response

from xref.domain.size import BARE_UNITS
from xref.errors import FileError, NotFoundError
from xref.services.lists.asking import questions
from xref.sheets.headings import every_field
from xref.web.jobs import COMING_IN, DONE, LOOKING, REFUSED, SHOWN, Job
from xref.web.page import Ask, Page

PAGE = Page("sheets", "/sheets")
MOST_SHEET = 60_000_000
"""Bytes of an upload: a list of some hundred thousand rows. Judged."""
FINDINGS = 40
"""Findings that are shown; all of them are in the terminal's document."""


@PAGE.get("/sheets")
def everything(ask: Ask) -> Response:
    """The form to send a sheet, and those that were sent since the page was started."""
    return ask.page("sheets", jobs=ask.house.jobs.every())


@PAGE.post("/sheets", most=MOST_SHEET)
def send(ask: Ask) -> Response:
    """Take a sheet in, look at it, and show what was understood."""
    sent = ask.form.get("sheet")
    if not isinstance(sent, UploadFile) or not sent.filename:
        raise FileError(ask.texts("sheets.no_file"), ask.texts("sheets.no_file_hint"))
    job = ask.house.jobs.place(_plain(sent.filename))
    with job.file.open("wb") as out:
        while piece := sent.file.read(1 << 20):
            out.write(piece)
    ask.house.jobs.look(ask.opened, job)
    return ask.to(f"/sheets/{job.ident}")


def _plain(name: str) -> str:
    """The file's own name, without folders and what a file system may not take."""
    last = re.split(r"[\\/]", name)[-1]
    plain = "".join(c if c.isalnum() or c in " .-_()" else "_" for c in last).strip(" .")
    stem, dot, ending = plain.rpartition(".")
    return f"{stem[:80]}{dot}{ending[:8]}" if dot else (plain[:80] or "sheet")


def _job(ask: Ask) -> Job:
    return ask.house.jobs.job(ask.path("ident").lower())


@PAGE.get("/sheets/{ident}")
def one(ask: Ask) -> Response:
    """What was understood of a sheet, how far it has come in, or what became of it."""
    job = _job(ask)
    template = {COMING_IN: "sheet_coming", LOOKING: "sheet_coming", DONE: "sheet_done"}
    asked = questions(job.done) if job.done and job.state == SHOWN else []
    return ask.page(
        template.get(job.state, "sheet"),
        job=job,
        done=job.done,
        asked=asked,
        fields=every_field(),
        units=BARE_UNITS,
        refused=job.refused if job.state == REFUSED else None,
        findings=job.done.findings[:FINDINGS] if job.done else (),
    )


@PAGE.post("/sheets/{ident}/columns")
def columns(ask: Ask) -> Response:
    """Take the columns as a person says, and look again."""
    job = _job(ask)
    told = dict(job.told)
    for place, column in enumerate(job.columns):
        said = ask.sent(f"c{place}")
        if (said and said != column.field) or (said and column.label in told):
            told[column.label] = said
    if job.state in (SHOWN, REFUSED):
        job.told, job.units = told, ask.sent("units")
        ask.house.jobs.look(ask.opened, job)
    return ask.to(f"/sheets/{job.ident}")


@PAGE.post("/sheets/{ident}/in")
def bring_in(ask: Ask) -> Response:
    """Bring it in. It goes on where the page is left."""
    job = _job(ask)
    if job.state == SHOWN:
        ask.house.jobs.bring_in(ask.opened, job)
    return ask.to(f"/sheets/{job.ident}")


@PAGE.get("/sheets/{ident}/rejects/{place}")
def rejects(ask: Ask) -> Response:
    """The rows that were put aside, as a spreadsheet with the reason beside each."""
    job, place = _job(ask), ask.path("place")
    files = job.done.rejects if job.done else ()
    if not (place.isascii() and place.isdigit() and int(place[:4]) < len(files)):
        raise NotFoundError(ask.texts("sheets.no_rejects"), ask.texts("sheets.no_rejects_hint"))
    file = Path(files[int(place[:4])])
    named = {"content-disposition": f'attachment; filename="rejected-{int(place[:4]) + 1}.csv"'}
    return Response(file.read_bytes(), media_type="text/csv; charset=utf-8", headers=named)
