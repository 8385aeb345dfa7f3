"""Spreadsheets on their way into the store: uploaded, looked at, brought in, in the background."""

from __future__ import annotations

import secrets
import tempfile
import threading
from collections.abc import Mapping
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from pathlib import Path

from xref.errors import NotFoundError, XrefError
from xref.services.lists.imported import Imported
from xref.services.open import OpenStore
from xref.sheets.column_seen import ColumnSeen, WhichColumnError

MOST = 20
"""Uploads that are kept; the oldest that is not being worked on goes first."""
LOOKING, SHOWN, REFUSED, COMING_IN, DONE = "looking", "shown", "refused", "coming in", "done"
"""What becomes of an upload, in this order; one that is refused may be told more and shown."""


@dataclass
class Job:
    """One upload. ``told`` and ``units`` are what a person said of its columns and bare sizes.

    ``count`` of ``about`` rows are done while it comes in. ``action`` is the number in the history
    that takes it back, 0 for none.
    """

    ident: str
    file: Path
    told: Mapping[str, str] = field(default_factory=dict)
    units: str = ""
    state: str = LOOKING
    done: Imported | None = None
    columns: tuple[ColumnSeen, ...] = ()
    refused: XrefError | None = None
    count: int = 0
    about: int = 0
    action: int = 0

    @property
    def share(self) -> int:
        """How much has come in, in per cent."""
        return min(99, 100 * self.count // self.about) if self.about else 0


class Jobs:
    """Every upload of one run of the page. Two are never worked on at once."""

    def __init__(self) -> None:
        self._pool = ThreadPoolExecutor(max_workers=1, thread_name_prefix="xref-sheets")
        self._folder: tempfile.TemporaryDirectory[str] | None = None
        self._jobs: dict[str, Job] = {}
        self._lock = threading.Lock()

    def every(self) -> list[Job]:
        """The uploads, newest first."""
        with self._lock:
            return list(reversed(self._jobs.values()))

    def job(self, ident: str) -> Job:
        """The upload of this id. Raises NotFoundError where it is gone."""
        with self._lock:
            found = self._jobs.get(ident)
        if found is None:
            raise NotFoundError("this upload is not kept any more", "Send the sheet once more.")
        return found

    def place(self, name: str) -> Job:
        """A new upload in a folder of its own; facts will name its file as their source."""
        with self._lock:
            if self._folder is None:
                self._folder = tempfile.TemporaryDirectory(prefix="xref-sheets-")
            ident = secrets.token_hex(8)
            folder = Path(self._folder.name) / ident
            folder.mkdir()
            job = Job(ident, folder / name)
            self._jobs[ident] = job
            old = [one for one in self._jobs.values() if one.state not in (LOOKING, COMING_IN)]
            for one in old[: max(0, len(self._jobs) - MOST)]:
                del self._jobs[one.ident]
        return job

    def look(self, opened: OpenStore, job: Job) -> None:
        """Look at an upload again, with what was told of it; nothing is stored."""
        job.state = LOOKING
        self._pool.submit(_look, opened, job).result()

    def bring_in(self, opened: OpenStore, job: Job) -> None:
        """Begin to bring an upload in, without waiting; rows without a number are put aside."""
        job.state, job.count, job.about = COMING_IN, 0, 0
        self._pool.submit(_bring_in, opened, job)

    def close(self) -> None:
        """Wait for what is coming in, and remove the uploads."""
        self._pool.shutdown(cancel_futures=True)
        if self._folder is not None:
            self._folder.cleanup()


def _look(opened: OpenStore, job: Job) -> None:
    job.refused, job.done = None, None
    try:
        job.done = opened.import_file(job.file, map=job.told, units=job.units, preview=True)
        job.columns, job.state = job.done.columns, SHOWN
    except WhichColumnError as refused:
        job.columns, job.refused, job.state = refused.columns, refused, REFUSED
    except XrefError as refused:
        job.refused, job.state = refused, REFUSED
    except Exception as error:
        job.refused, job.state = _ours(error), REFUSED


def _bring_in(opened: OpenStore, job: Job) -> None:
    def progress(_what: str, count: int, about: int) -> None:
        job.count, job.about = count, about

    try:
        job.done = opened.import_file(
            job.file,
            map=job.told,
            units=job.units,
            keep_good=True,
            remember=True,
            progress=progress,
        )
        job.action = _last_action(opened)
        job.state = DONE
    except XrefError as refused:
        job.refused, job.state = refused, REFUSED
    except Exception as error:
        job.refused, job.state = _ours(error), REFUSED


def _ours(error: Exception) -> XrefError:
    return XrefError(
        f"something went wrong inside xref ({type(error).__name__})",
        "Nothing was stored. Please report it with the sheet.",
    )


def _last_action(opened: OpenStore) -> int:
    told = opened.upkeep.history(limit=1)
    return told[0].action.id if told and told[0].action.command == "import" else 0
