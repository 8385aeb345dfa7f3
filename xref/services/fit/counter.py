"""What a counter asks for, and the order of a part that stands in no chain: cheap to know."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from sqlalchemy import Connection

from xref.domain.order import Order
from xref.domain.part import Part
from xref.domain.size import mm_text
from xref.domain.words import hand
from xref.services.parts.features import visible_features
from xref.store.read.queries import any_chains

if TYPE_CHECKING:
    from xref.domain.machine import Machine

GENERIC_KINDS = ("bearing", "bush", "shaft seal", "o-ring", "strip", "retaining ring", "washer")
"""Kinds that standards make by size."""

ASKED = {
    "bearing": ("seals or shields", "clearance", "snap-ring groove", "cage"),
    "shaft seal": ("lips", "spring", "case", "rubber"),
    "o-ring": ("rubber", "hardness"),
    "bush": ("material", "plain or flanged"),
    "pin": ("length", "grade"),
    "thread": ("length", "grade", "hand of the thread"),
    "retaining ring": ("shaft or bore", "material"),
    "belt": ("length measured as", "section"),
    "chain": ("pitches long", "joint: spring link or riveted"),
    "strip": ("rubber", "hardness", "length"),
    "gear": ("keyway",),
}
"""What a counter asks for by kind. Common practice, no published source."""

OF_BEARINGS = (
    ("washer", ()),
    ("thrust", ("cage",)),
    ("tapered", ("cage", "flange on the cup")),
    ("needle cage", ("cage",)),
    ("needle", ("seals or shields", "cage or rollers alone")),
    ("spherical", ("clearance", "cage", "straight or tapered bore")),
    ("self-aligning", ("seals or shields", "clearance", "cage", "straight or tapered bore")),
    ("cylindrical", ("clearance", "snap-ring groove", "cage")),
)
"""What is asked of a bearing whose type has this word, the first that it has, where that is not
what is asked of the rest: a tapered one has no shields. Common practice, no published source."""

NEW_EVERY_TIME = ("split pin", "tab washer")
"""What is fitted new every time. Common practice, no published source."""

SEEN_AS = {
    "closure": "seals or shields",
    "ring": "snap-ring groove",
    "clearance": "clearance",
    "cage": "cage",
}
"""What is asked, by the group of suffixes that says it."""
BESIDES = "besides"
"""Under this stands what a mark says that no counter asks for by itself."""
NOTHING: Mapping[str, str] = {}
UNKNOWN = "unknown"
SOLD_AS_IT_IS = ("current",)


def orders(
    conn: Connection,
    parts: Sequence[Part],
    machine: Machine | None,
    said: Mapping[int, Mapping[str, str]] | None = None,
) -> list[Order]:
    """What to ask for in place of each of ``parts``; those in no chain cost nothing to answer.

    ``said`` is what the marks say of a part, by its place in ``parts``.
    """
    chains = any_chains(conn)
    told = said or {}
    return [
        _order(conn, part, machine, chains, told.get(at, NOTHING)) for at, part in enumerate(parts)
    ]


def _order(
    conn: Connection, part: Part, machine: Machine | None, chains: bool, said: Mapping[str, str]
) -> Order:
    sized = bool(part.sizes) and part.kind in GENERIC_KINDS and not part.is_standard
    # What is in no table (read off the mark, made by a rule) stands in no chain either.
    if not part.id or not (chains or sized or part.status not in SOLD_AS_IT_IS):
        return Order(part.number, part.own_maker or None, tuple(counter(part, said)))
    # Following chains and comparing sizes costs imports that most answers do not need.
    from xref.services.fit.order import generic_sizes, order

    generic = generic_sizes(conn, part) if sized else ()
    if chains or part.status not in SOLD_AS_IT_IS:
        return order(conn, part, machine, generic, said)
    return Order(part.number, part.own_maker or None, (*generic, *counter(part, said)))


def counter(part: Part, said: Mapping[str, str] = NOTHING) -> list[str]:
    """What will be asked: with what is known of it, and what is not known yet.

    ``said`` is what the mark says of it.
    """
    known = {SEEN_AS[g]: text for g, text in visible_features(part).items() if g in SEEN_AS}
    known |= _on_record(part) | dict(said)
    asked = _asked(part)
    told = []
    unknown = [what for what in asked if known.get(what, UNKNOWN) == UNKNOWN]
    sure = [f"{what}: {known[what]}" for what in asked if what not in unknown]
    if sure:
        told.append(f"say at the counter: {'; '.join(sure)}")
    if unknown:
        told.append(f"the counter may ask, and it is not known yet: {', '.join(unknown)}")
    beside = [text for what, text in said.items() if what not in asked]
    if beside:
        told.append(f"the mark says besides: {'; '.join(beside)}")
    if hand(part.words):
        told.append(f"the {hand(part.words)} hand")
    if part.kind == "bearing" and part.type.startswith("tapered"):
        told.append("cone and cup are fitted as a pair")
    looks = f"{part.words} {part.type}".lower()
    told += [f"{what}s are fitted new every time" for what in NEW_EVERY_TIME if what in looks]
    return told


def _asked(part: Part) -> tuple[str, ...]:
    if part.kind == "bearing":
        for word, asked in OF_BEARINGS:
            if word in part.type:
                return asked
    return ASKED.get(part.kind, ())


def _on_record(part: Part) -> dict[str, str]:
    """The length, and the rubber and hardness, where sizes, number or description say them."""
    known = {}
    if "length" in part.sizes:
        known["length"] = mm_text(part.sizes["length"].value)
    if not part.is_standard and "rubber" in ASKED.get(part.kind, ()):
        from xref.services.fit.differences import hardness_of, rubber_of

        known |= {"rubber": rubber_of(part), "hardness": hardness_of(part)}
    return known
