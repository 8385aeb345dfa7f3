"""One worker for questions: an answer is pure Python, and several at once would gain nothing."""

from __future__ import annotations

import threading
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from typing import TypeVar

T = TypeVar("T")
MOST_TABS = 1000


class Worker:
    """Answers one question after the other; of each tab only the newest."""

    def __init__(self) -> None:
        self._pool = ThreadPoolExecutor(max_workers=1, thread_name_prefix="xref-answers")
        self._lock = threading.Lock()
        self._newest: dict[str, int] = {}
        self._count = 0

    def run(self, job: Callable[[], T], tab: str = "") -> T | None:
        """What ``job`` returns, in its turn; None where the tab has asked anew meanwhile.

        ``tab`` "" is a question by itself, which is always answered. Raises what ``job`` raises.
        """
        ticket = self._ticket(tab)
        return self._pool.submit(lambda: job() if self._is_newest(tab, ticket) else None).result()

    def begin(self, job: Callable[[], object]) -> None:
        """Let ``job`` run in its turn without waiting for it."""
        self._pool.submit(job)

    def close(self) -> None:
        """Drop what has not begun, and wait for what has."""
        self._pool.shutdown(cancel_futures=True)

    def _ticket(self, tab: str) -> int:
        with self._lock:
            self._count += 1
            if tab:
                self._newest.pop(tab, None)
                self._newest[tab] = self._count
                while len(self._newest) > MOST_TABS:
                    del self._newest[next(iter(self._newest))]
            return self._count

    def _is_newest(self, tab: str, ticket: int) -> bool:
        with self._lock:
            return not tab or self._newest.get(tab, ticket) == ticket
