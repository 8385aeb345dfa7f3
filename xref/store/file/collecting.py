"""Python's collector of cycles, held back while very many rows are made."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def few_collections() -> Iterator[None]:
    """Let the collector of cycles run seldom: rows make none, and looking for them took a fifth of
    an import's time, and three quarters of what it takes to load a million parts."""
    held = gc.get_threshold()
    gc.set_threshold(50_000, *held[1:])
    try:
        yield
    finally:
        gc.set_threshold(*held)
