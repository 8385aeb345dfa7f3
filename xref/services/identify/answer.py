"""The answer of one identification, as records that render and JSON both read."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from xref.domain.evidence import Evidence, Scored
from xref.domain.nextcheck import Check
from xref.domain.order import Order
from xref.domain.part import Part
from xref.domain.query import Query

if TYPE_CHECKING:
    from xref.domain.belongs import Belongs


@dataclass(frozen=True, slots=True)
class Candidate:
    """One physical thing with its odds, its reasons and its cautions.

    ``account`` holds three aligned lines for the mark (true, read, where they differ), () where
    no mark was given. ``belongs`` is None where no machine was named.
    """

    scored: Scored
    probability: float
    cautions: tuple[str, ...]
    account: tuple[str, ...] = ()
    order: Order | None = None
    belongs: Belongs | None = None

    @property
    def part(self) -> Part:
        """The record that agreed best."""
        return self.scored.part

    def to_json(self) -> dict[str, Any]:
        """As a candidate stands in JSON; bits are never rounded."""
        part = self.part
        maker = part.own_maker or None
        order = self.order or Order(part.number, maker, ())
        told = {
            "number": part.number,
            "maker": maker,
            "kind": part.kind,
            "description": part.words,
            "from": part.origin,
            "standard": part.maker if part.is_standard else None,
            "tables_agreeing": part.tables_agreeing if part.is_standard else None,
            "note": part.note or None,
            "also": list(self.scored.also),
            "probability": self.probability,
            "start_bits": self.scored.start_bits,
            "total_bits": self.scored.total_bits,
            "evidence": [_item(e) for e in self.scored.evidence],
            "not_compared": [
                *self.scored.not_compared,
                *(f"{name} (not measured)" for name in self.scored.not_measured),
            ],
            "order": order.to_json(),
            "cautions": list(self.cautions),
        }
        if self.belongs is not None:
            told["belongs"] = {"verdict": self.belongs.verdict, "because": self.belongs.because}
        return told


def _item(e: Evidence) -> dict[str, Any]:
    return {
        "about": e.about,
        "seen": e.seen,
        "expected": e.expected,
        "bits": e.bits,
        "reason": e.reason,
    }


@dataclass(frozen=True, slots=True)
class Identified:
    """Everything one identification says.

    Printed candidates + ``others_probability`` + ``none_of_these`` = 1. ``caps`` say why the
    verdict is not *one*; ``notes`` are remarks on the question itself. ``withheld_probability``,
    a share of the others, is that of parts which are never offered on size alone.
    """

    query: Query
    verdict: str
    caps: tuple[str, ...]
    candidates: tuple[Candidate, ...]
    others_count: int
    others_probability: float
    none_of_these: float
    next_check: tuple[Check, ...]
    notes: tuple[str, ...]
    withheld_probability: float = 0.0

    def to_json(self) -> dict[str, Any]:
        """The JSON document of ``identify``."""
        return {
            "query": self.query.to_json(),
            "verdict": self.verdict,
            "why_not_one": list(self.caps),
            "candidates": [c.to_json() for c in self.candidates],
            "others": {"count": self.others_count, "probability": self.others_probability},
            "not_offered_on_size": self.withheld_probability,
            "none_of_these": self.none_of_these,
            "next_check": [
                {
                    "key": c.key,
                    "check": c.check,
                    "bits": c.bits,
                    "would_decide": [
                        {"answer": o.answer, "if": o.seen, "then": list(o.then)} for o in c.outcomes
                    ],
                }
                for c in self.next_check
            ],
            "notes": list(self.notes),
        }
