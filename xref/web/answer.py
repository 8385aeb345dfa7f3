"""The answer as the page shows it: cards in the order of their odds, and checks as buttons."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any
from urllib.parse import parse_qsl

from xref.domain.evidence import Topic
from xref.domain.part import Part
from xref.domain.size import mm_text
from xref.render.draw.figure import Drawing
from xref.render.draw.part import draw_part, millimetres, subject_of
from xref.render.identify import (
    SHOWN_ODDS,
    account_cells,
    cautions_told,
    headline_of,
    in_short,
    odds_text,
    reason,
    shown,
    sign,
    to_try,
)
from xref.render.lines import what
from xref.services.identify.answer import Candidate, Identified
from xref.services.question import Asked
from xref.web.asking import address_of

WORDED = (
    (0.995, "certain"),
    (0.9, "very_likely"),
    (0.6, "likely"),
    (0.3, "even"),
    (0.1, "possible"),
    (0.01, "unlikely"),
    (0.0, "hardly"),
)
"""From which odds on which words are used, by their keys in the catalogue. Judged."""
MOST_DRAWN = 3
"""Candidates that are drawn: the likeliest."""
MOST_OUTCOMES = 6
MOST_NUMBERS = 4
"""Answers of a check, and numbers behind each, that are shown."""


@dataclass(frozen=True, slots=True)
class Card:
    """One share of the odds. ``candidate`` is None for all others and for none of these."""

    key: str
    probability: float
    candidate: Candidate | None = None
    drawing: Drawing | None = None

    @property
    def odds(self) -> str:
        """In figures."""
        return odds_text(self.probability)

    @property
    def worded(self) -> str:
        """In words, by their key in the catalogue."""
        return next(word for least, word in WORDED if self.probability >= least)

    @property
    def share(self) -> float:
        """The length of its bar, of 100."""
        return round(100 * self.probability, 1)

    @property
    def part(self) -> Part:
        """The part of a candidate."""
        assert self.candidate is not None
        return self.candidate.part

    @property
    def what(self) -> str:
        """What the part is, as far as is known."""
        return what(self.part)

    @property
    def reasons(self) -> list[tuple[str, str]]:
        """Each reason with its sign."""
        assert self.candidate is not None
        return [(sign(e), reason(e)) for e in in_short(self.candidate.scored.evidence)]

    @property
    def on_machine(self) -> str:
        """Whether it is listed for the machine; why, where no reason says so already."""
        assert self.candidate is not None
        held = self.candidate.belongs
        if held is None:
            return ""
        told = any(e.topic is Topic.SERIAL for e in self.candidate.scored.evidence)
        return held.verdict if told else f"{held.verdict}, {held.because}"

    @property
    def not_compared(self) -> list[str]:
        """What was given or is on record on one side only."""
        assert self.candidate is not None
        return list(self.candidate.scored.not_compared)

    @property
    def account(self) -> tuple[tuple[str, str, bool], ...]:
        """The mark sign by sign."""
        assert self.candidate is not None
        return account_cells(self.candidate)


def cards(answer: Identified) -> list[Card]:
    """Everything the odds are shared among, the likeliest first; the other parts at the end."""
    measured = millimetres({name: read.value for name, read in answer.query.sizes.items()})
    found = [
        Card("part", c.probability, c, _drawn(c, measured) if place < MOST_DRAWN else None)
        for place, c in enumerate(shown(answer))
    ]
    kept_back = answer.withheld_probability
    if kept_back >= SHOWN_ODDS:
        found.append(Card("kept_back", kept_back))
    found.append(Card("none", answer.none_of_these))
    found.sort(key=lambda card: -card.probability)
    return [*found, Card("others", max(0.0, answer.others_probability - kept_back))]


def _drawn(candidate: Candidate, measured: Mapping[str, float]) -> Drawing | None:
    """The part with what was measured laid over it; None where no size of it is on record."""
    if not candidate.part.sizes:
        return None
    return draw_part(subject_of(candidate.part), measured)


def answer_values(answer: Identified, asked: Asked) -> dict[str, Any]:
    """What the template of an answer needs."""
    return {
        "answer": answer,
        "wrong": None,
        "address": address_of(asked),
        "asked_for": parse_qsl(address_of(asked)),
        "headline": headline_of(answer),
        "cards": cards(answer),
        "checks": list(_checks(answer)),
        "tries": to_try(answer),
        "cautions": cautions_told(answer),
        "understood": [
            (name, mm_text(reading.value))
            for name, reading in answer.query.sizes.items()
            if not reading.counted and (reading.assumed or reading.unit != "mm")
        ],
    }


def _checks(answer: Identified) -> Iterator[dict[str, Any]]:
    for check in answer.next_check:
        outcomes = [
            {
                "value": f"{check.key}={outcome.answer}",
                "seen": outcome.seen,
                "then": ", ".join(outcome.then[:MOST_NUMBERS])
                + (" …" if len(outcome.then) > MOST_NUMBERS else ""),
            }
            for outcome in check.outcomes[:MOST_OUTCOMES]
        ]
        yield {"key": check.key, "check": check.check, "outcomes": outcomes}
