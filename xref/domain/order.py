"""What to ask for at the counter."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True, slots=True)
class Order:
    """What to ask for.

    ``steps`` are plain lines: how the number is reached, what else would do, what to say at the
    counter ("unknown" where it is not known). ``whole`` is all that takes its place, where that
    is more than ``number``: "A + B" for a set, "A or B" for a choice; "" otherwise. ``open`` says
    why nothing can be asked for yet: a serial decides it, and that is not known; "" otherwise.
    """

    number: str
    maker: str | None
    steps: tuple[str, ...]
    whole: str = ""
    open: str = ""

    @property
    def ask(self) -> str:
        """Everything to ask for, on one line, or why that is not known."""
        if self.open:
            return f"{self.number} ({self.open})"
        return self.whole or self.number

    def to_json(self) -> dict[str, Any]:
        """As it stands in JSON."""
        return {
            "number": self.number,
            "maker": self.maker,
            "steps": list(self.steps),
            "ask": self.ask,
            "open": self.open or None,
        }
