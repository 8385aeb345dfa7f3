"""A name that was not on record until now, with those on record that are much like it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from xref.domain.number import visible


@dataclass(frozen=True, slots=True)
class NewName:
    """``what`` (model, component, source, maker) is called ``name`` from now on. ``near`` are
    likest first, () for none: it may be one of them mistyped."""

    what: str
    name: str
    near: tuple[str, ...] = ()

    def to_json(self) -> dict[str, Any]:
        """As it stands in JSON."""
        return {"what": self.what, "name": self.name, "near": list(self.near)}

    def told(self) -> str:
        """In one sentence without its full stop."""
        near = ", ".join(visible(name) for name in self.near)
        beside = f"; near it on record: {near}" if near else ""
        return f'the {self.what} "{visible(self.name)}" is new{beside}'
