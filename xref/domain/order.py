"""What to ask for at the counter."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True, slots=True)
class Order:
    """What to ask for.

    ``steps`` are plain lines: how the number is reached, what else would do, what to say at the
    counter ("unknown" where it is not known).
    """

    number: str
    maker: str | None
    steps: tuple[str, ...]

    def to_json(self) -> dict[str, Any]:
        """As it stands in JSON."""
        return {"number": self.number, "maker": self.maker, "steps": list(self.steps)}
