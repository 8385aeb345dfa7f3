"""Writes that a phone sends again after a lost connection are done once."""

from __future__ import annotations

import threading
from collections import OrderedDict
from collections.abc import Callable

MOST = 5000
"""Writes that are remembered: those of some busy days. Judged."""


class Once:
    """Where each write led, by the id that the page gave it."""

    def __init__(self) -> None:
        self._led: OrderedDict[str, str] = OrderedDict()
        self._lock = threading.Lock()
        self._doing: dict[str, threading.Lock] = {}

    def led(self, ident: str, write: Callable[[], str]) -> str:
        """Where ``write`` led to, done now, or where it led to when ``ident`` first came.

        "" is no id: it is done each time. Raises what ``write`` raises, which then counts as not
        done.
        """
        if not ident:
            return write()
        with self._lock:
            mine = self._doing.setdefault(ident, threading.Lock())
        with mine:
            with self._lock:
                if ident in self._led:
                    return self._led[ident]
            try:
                to = write()
            finally:
                with self._lock:
                    self._doing.pop(ident, None)
            with self._lock:
                self._led[ident] = to
                while len(self._led) > MOST:
                    self._led.popitem(last=False)
            return to
