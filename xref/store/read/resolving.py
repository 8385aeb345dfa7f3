"""Which part a number names: as given, by key, by folded key, then by other spellings."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from xref.domain.number import folded, key, visible
from xref.domain.part import Part
from xref.errors import AmbiguousError

NUMBER, KEY, FOLDED, SPELLED = "number", "key", "folded", "spelled"
"""The steps, in their order."""

SPELLING_ROLES = ("number", "alias", "mark")
SPELLING_LEAST = 0.3
"""Roles of the spellings that name a part, and how usual one must be. Judged."""

SHOWN_CHOICES = 6

Held = Callable[[str, str, str | None], Sequence[Part]]
"""The parts that have a value at a step, of the maker with this key ("" for no known maker) or,
for None, of any."""


def find_by(held: Held, text: str, maker_name: str | None = None) -> Part | None:
    """The part that ``text`` names among those that ``held`` has; None for none.

    ``M:NUMBER`` names the maker too (the whole text is tried as a number first), ``:NUMBER`` one of
    no known maker. Raises AmbiguousError with the choices where several answer at one step,
    InputError for no number.
    """
    if maker_name is None and text[:1] == ":" and text[1:].strip():
        found = _resolve(held, text[1:], "")
        if found is not None:
            return found
    found = _resolve(held, text, maker_name)
    if found is None and maker_name is None and ":" in text:
        before, _, after = text.partition(":")
        if before.strip() and after.strip():
            found = _resolve(held, after, before)
    return found


def own_first(held: Held) -> Held:
    """As ``held``, without the standards' rows where the user has a number of his own: for what is
    written down. ``M:NUMBER`` with a standard's name still means its row."""

    def found(step: str, value: str, whose: str | None) -> Sequence[Part]:
        every = held(step, value, whose)
        return [part for part in every if not part.is_standard] or every

    return found


def _resolve(held: Held, text: str, maker_name: str | None) -> Part | None:
    steps = [(NUMBER, text.strip()), (KEY, key(text))]
    flat = folded(text)
    if flat:
        steps += [(FOLDED, flat), (SPELLED, flat)]
    whose = key(maker_name) if maker_name else maker_name
    for step, value in steps:
        found = held(step, value, whose)
        if len(found) == 1:
            return found[0]
        if found:
            return _choose(found, text)
    return None


def _choose(found: Sequence[Part], text: str) -> Part:
    if len({p.group for p in found}) == 1:
        return max(found, key=lambda p: (p.weight, -p.id))
    raise ambiguous(f'"{visible(text)}" is the number of {len(found)} parts', found)


def ambiguous(message: str, found: Sequence[Part]) -> AmbiguousError:
    """The error that says which ``found`` may be meant, each as it can be typed."""
    choices = ", ".join(f"{p.maker}:{p.number}" for p in found[:SHOWN_CHOICES])
    return AmbiguousError(message, f"Say which: {choices}.")
