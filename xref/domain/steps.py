"""What a long piece of work says of itself while a person waits for it."""

from __future__ import annotations

from collections.abc import Callable

Steps = Callable[[str], None]
"""Told in a few words what is being done now."""


def silent(_: str) -> None:
    """The steps of a piece of work that nobody watches."""
