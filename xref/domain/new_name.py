"""A name that was not on record until now, with those on record that are much like it."""

from __future__ import annotations

from dataclasses import dataclass

from xref.domain.number import visible


@dataclass(frozen=True, slots=True)
class NewName:
    """``what`` (model, component, source) is called ``name`` from now on; ``near`` are likest
    first, () for none: it may be one of them mistyped."""

    what: str
    name: str
    near: tuple[str, ...] = ()

    def told(self) -> str:
        """In one sentence without its full stop."""
        near = ", ".join(visible(name) for name in self.near)
        beside = f"; near it on record: {near}" if near else ""
        return f'the {self.what} "{visible(self.name)}" is new{beside}'
