"""Find out what the part on the bench is, from a worn mark and a few sizes."""

from __future__ import annotations

from typing import Any

__all__ = ["open_store"]


def __getattr__(name: str) -> Any:
    """``open_store``, imported when first asked for: the package itself costs next to nothing."""
    if name == "open_store":
        from xref.services.open import open_store

        return open_store
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
