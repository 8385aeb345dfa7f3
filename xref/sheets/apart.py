"""Read workbooks in a process of their own, bound in memory and time.

What reads them are libraries of other languages: a file that is made for it, or broken in the
right place, lets them take the machine or ends the process. Here it ends that one alone.
"""

from __future__ import annotations

import os
import pickle
import subprocess
import sys
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import IO, Any

from xref import errors
from xref.domain.number import visible
from xref.errors import FileError, XrefError

MOST_MEMORY = 1_500_000_000
"""Bytes of addresses that the process may have, where the system bounds them. Judged."""

MOST_SECONDS = 60.0
"""Seconds that it may take. Judged: a workbook of a million cells takes some four."""

_START = "import sys; sys.path[:] = sys.argv[1:]; from xref.sheets.apart import serve; serve()"
_PROTOCOL = pickle.HIGHEST_PROTOCOL


def read_apart(task: str, path: Path, *told: Any) -> Iterator[Any]:
    """What a task of ``workbook.TASKS`` yields, done in a process of its own.

    Raises what the task raises, and FileError where the process dies or runs over its bounds.
    """
    name = visible(path.name, 80)
    with _process() as (process, late):
        try:
            with suppress(BrokenPipeError):
                # A process that is gone at once is noticed where its answer is missing.
                pickle.dump((task, path, told, MOST_MEMORY), process.stdin, _PROTOCOL)
                process.stdin.close()
            yield from _answers(process.stdout)
        except (EOFError, pickle.UnpicklingError):
            if late.is_set():
                raise _too_slow(name) from None
            raise _too_big(name) from None


@contextmanager
def _process() -> Iterator[tuple[Any, threading.Event]]:
    paths = [os.path.abspath(place) for place in sys.path if place]
    process = subprocess.Popen(
        [sys.executable, "-I", "-c", _START, *paths],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        # Each thread of a library for sums would take addresses that the texts need.
        env={**os.environ, "OPENBLAS_NUM_THREADS": "1", "OMP_NUM_THREADS": "1"},
    )
    late = threading.Event()

    def end() -> None:
        late.set()
        process.kill()

    timer = threading.Timer(MOST_SECONDS, end)
    timer.daemon = True
    timer.start()
    try:
        yield process, late
    finally:
        timer.cancel()
        process.kill()
        for stream in (process.stdin, process.stdout):
            with suppress(OSError):
                if stream is not None:
                    stream.close()
        process.wait()


def _answers(stream: IO[bytes]) -> Iterator[Any]:
    while True:
        what, answer = pickle.load(stream)
        if what == "end":
            return
        if what == "refused":
            kind, message, hint = answer
            raise getattr(errors, kind, FileError)(message, hint)
        yield answer


def _too_slow(name: str) -> FileError:
    return FileError(
        f"{name} takes more than {MOST_SECONDS:.0f} seconds to read",
        "Save each sheet as csv and import those.",
    )


def _too_big(name: str) -> FileError:
    return FileError(
        f"{name} is damaged, or too big to read",
        "Open it in the spreadsheet and save it again, or save the sheet as csv.",
    )


def serve() -> None:
    """Do the one task that is told on the input, and answer on the output."""
    out = os.fdopen(os.dup(1), "wb")
    # Whatever a library prints is no part of the answer.
    os.dup2(os.open(os.devnull, os.O_WRONLY), 1)
    task, path, told, most = pickle.load(sys.stdin.buffer)
    _bound(most)
    from xref.sheets.workbook import TASKS

    with suppress(BrokenPipeError):
        _do(TASKS[task], path, told, out)
        out.flush()
    # Nothing is to be put in order behind libraries that may be broken.
    os._exit(0)


def _do(task: Callable[..., Iterator[Any]], path: Path, told: Any, out: IO[bytes]) -> None:
    name = visible(path.name, 80)
    refused: XrefError | None = None
    try:
        for answer in task(path, *told):
            pickle.dump(("answer", answer), out, _PROTOCOL)
    except XrefError as error:
        refused = error
    except MemoryError:
        refused = _too_big(name)
    if refused is None:
        pickle.dump(("end", None), out, _PROTOCOL)
    else:
        said = (type(refused).__name__, refused.message, refused.hint)
        pickle.dump(("refused", said), out, _PROTOCOL)


def _bound(most: int) -> None:
    """Bound the memory and leave no dump of it; where the system cannot, the time alone counts."""
    try:
        import resource
    except ImportError:
        return
    for what, bound in ((resource.RLIMIT_AS, most), (resource.RLIMIT_CORE, 0)):
        with suppress(OSError, ValueError):
            resource.setrlimit(what, (bound, bound))
