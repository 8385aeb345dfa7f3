"""One fact by its number, and what became of it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from xref.errors import InputError, NotFoundError

MOST = 200
"""Facts that are listed unless another limit is given."""

NOTHING = InputError(
    "nothing to change is given", "Give what is to be another, or --without what is to go."
)


@dataclass(frozen=True, slots=True)
class Fact:
    """One fact on record. ``id`` is the number it is changed and removed by.

    ``of`` is the number of the part it is a fact of, "" for none; ``says`` the fact in one line,
    and ``values`` the same by names.
    """

    id: int
    kind: str
    of: str
    says: str
    values: Mapping[str, Any] = field(default_factory=dict)

    def to_json(self) -> dict[str, Any]:
        """The fact as one JSON document."""
        return {"id": self.id, **({"number": self.of} if self.of else {}), **self.values}


@dataclass(frozen=True, slots=True)
class Changed:
    """A fact before and after; ``after`` is None where it was removed. ``also`` says, a sentence
    each, what else became of what depends on it."""

    before: Fact
    after: Fact | None = None
    also: tuple[str, ...] = ()


def no_such(kind: str, ident: int, command: str) -> NotFoundError:
    """The refusal of a number that no fact has."""
    return NotFoundError(f"no {kind} has the number {ident}", f"See xref {command} list.")


def same_said(kind: str, there: int, command: str, ident: int) -> InputError:
    """The refusal of a change that would make a fact say what another says."""
    return InputError(
        f"{kind} {there} says that already", f"Remove this one: xref {command} remove {ident}."
    )


def joined(*texts: str) -> str:
    """Those of ``texts`` that say something, with commas."""
    return ", ".join(text for text in texts if text)


def kept(given: str | None, held: str) -> str:
    """What is given now, else what is held."""
    return held if given is None else given
