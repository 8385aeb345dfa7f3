"""The time as the store keeps it."""

from __future__ import annotations

from datetime import UTC, datetime


def now() -> str:
    """The time in UTC to the second, as ISO 8601 writes it: 2026-11-25T09:30:00Z."""
    return datetime.now(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")
