"""Everything that is on record of a part, as plain text and JSON."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from xref.domain.machine import Applicability
from xref.domain.part import Part, StoredSize, is_plain_number
from xref.domain.size import NM_PER_MM, mm_text
from xref.domain.supersession import Step
from xref.render.bench import item_json, state_text
from xref.render.lines import cautioned, what, wrapped
from xref.render.links import MOST_STEPS, step_text
from xref.render.parts import size_text
from xref.render.wanted import line_json, line_text
from xref.services.card import BOTH, THIS_FOR_THAT, Card, Swap
from xref.services.changing.fact import Fact as Listed
from xref.services.changing.noted import CLAIM, KEPT, PRICE
from xref.services.links.interchange import SHOWN
from xref.services.links.trace import step_json
from xref.services.parts import part as parts

LABEL = 11
"""Columns of a fact's name."""
MOST_LINES = 30
"""Facts of one sort that are printed; the rest are counted, and are all in JSON. Judged."""

HOW = (
    "What ends in [applies 3] is changed with xref applies change 3 and removed with xref applies "
    "remove 3; number, sizes and words with xref part change."
)
"""How a fact is changed and removed, said under a card."""

Fact = tuple[str, str]
"""What a fact is about, and the fact."""


def card_text(card: Card, width: int) -> str:
    """The part's number, then a fact a paragraph with its source in brackets."""
    whose = f", {card.part.maker}" if card.part.maker else ""
    lines = [f"{card.part.number}{whose}"]
    for name, text in card_facts(card):
        lines += wrapped(text, width, " " * (LABEL + 3), f"  {name:<{LABEL}} ")
    if any(re.search(r"\[[a-z ]+ \d+\]$", line) for line in lines):
        lines += wrapped(HOW, width, "  ", "  ")
    return "\n".join([*lines, *cautioned(card.cautions, width)])


def card_facts(card: Card) -> Iterator[Fact]:
    """Every fact of a card with what it is about, its source in brackets; of one sort, the first
    ``MOST_LINES``."""
    for some in (
        _record(card),
        _marks(card),
        _standing(card),
        [("range", _range(entry)) for entry in card.ranges],
        _chain(card),
        [("interchange", _swap(swap)) for swap in card.swaps],
        _noted(card),
        [
            (
                "bench",
                f"label {i.id}, {i.place}: {state_text(i, _numbers(card))}{_by('bench', i.id)}",
            )
            for i in card.items
        ],
        [
            ("wanted", f"{line_text(line).strip()}{_by('wanted', line.wanted.id)}")
            for line in card.wants
        ],
    ):
        yield from _bounded([fact for fact in some if fact[1]])


def _bounded(facts: Sequence[Fact]) -> Iterator[Fact]:
    yield from facts[:MOST_LINES]
    if len(facts) > MOST_LINES:
        yield "", f"… {len(facts) - MOST_LINES} more (--json has them all)"


def _record(card: Card) -> list[Fact]:
    part = card.part
    also = [s.text for s in part.spellings if s.text != part.number and s.role != "mark"]
    same = [f"{p.maker}:{p.number}" if p.maker != part.maker else p.number for p in card.same]
    return [
        ("what", what(part)),
        ("kind", part.kind if part.kind != what(part) else ""),
        *((name, f"{size_text(name, held)}{_limits(held)}") for name, held in part.sizes.items()),
        ("also", ", ".join(also)),
        ("same part", ", ".join(same)),
    ]


def _limits(held: StoredSize) -> str:
    """The published deviations from the nominal; "" where none are known."""
    if held.lower is None or held.upper is None:
        return ""
    return f", limits {_signed(held.upper)} and {_signed(held.lower)}"


def _signed(nm: int) -> str:
    return f"{'+' if nm > 0 else ''}{mm_text(nm)}"


def _marks(card: Card) -> list[Fact]:
    return [
        (
            "mark",
            f"{mark.text} ({mark.role}){_from(card.mark_sources.get(mark, ''))}"
            f"{_by('mark', card.mark_ids.get(mark))}",
        )
        for mark in card.part.marks
    ]


def _from(source: str) -> str:
    return f" ({source})" if source else ""


def _standing(card: Card) -> list[Fact]:
    part = card.part
    if part.is_standard:
        count = part.tables_agreeing
        return [
            ("known from", "one table only" if count == 1 else f"{count} tables"),
            ("order", card.order_instead),
            ("note", part.note),
        ]
    return [
        ("status", part.status),
        ("order", card.order_instead),
        ("note", part.note),
        ("source", card.source),
    ]


def _range(entry: Applicability) -> str:
    many = "" if entry.quantity is None else f"{entry.quantity:g} a machine"
    said = (entry.shown(), entry.assembly, many, entry.note)
    told = ", ".join(text for text in said if text)
    return f"{told}{_from(entry.source)}{_by('applies', entry.id)}"


def _chain(card: Card) -> list[Fact]:
    traced = card.traced
    later, earlier = traced.later, tuple(reversed(traced.earlier))
    facts = [("later", _step(step, traced.parts)) for step in later[:MOST_STEPS]]
    facts += [("earlier", _step(step, traced.parts)) for step in earlier[:MOST_STEPS]]
    facts += [("go with", _step(step, card.named)) for step in card.beside]
    odd = [f for f in traced.findings if f.kind in ("cycle", "conflict", "fork")]
    return facts + [("chain", f"{finding.kind}: {finding.message}") for finding in odd]


def _step(step: Step, parts: Mapping[int, Part]) -> str:
    return f"{step_text(step, parts)}{_by('supersede', step.id)}"


def _swap(swap: Swap) -> str:
    whose = f" ({swap.other.maker})" if swap.other.maker else ""
    number = f"{swap.other.number}{whose}"
    if swap.way == BOTH:
        said = number
    else:
        said = f"serves for {number}" if swap.way == THIS_FOR_THAT else f"{number} serves for it"
    told = f"{said}: {SHOWN[swap.grade]}{f', {swap.note}' if swap.note else ''}"
    return f"{told}{_from(swap.source)}{_by('interchange', swap.id)}"


def _noted(card: Card) -> list[Fact]:
    return [
        (_about(fact), f"{_says(fact)}{_by(f'part {kind}', fact.id)}")
        for kind in (PRICE, CLAIM, KEPT)
        for fact in card.noted_facts[kind]
    ]


def _about(fact: Listed) -> str:
    if fact.kind != CLAIM:
        return fact.kind
    field = fact.values["field"]
    return f"or {'what' if field == 'words' else field}"


def _says(fact: Listed) -> str:
    if fact.kind != CLAIM:
        return fact.says
    return f"{fact.values['value']}{_from(fact.values['source'] or '')}"


def _by(command: str, ident: int | None) -> str:
    """The command and the number that a fact is changed and removed by."""
    return f" [{command} {ident}]" if ident else ""


def _numbers(card: Card) -> dict[int, str]:
    return {card.part.id: card.part.number}


def card_json(card: Card) -> dict[str, Any]:
    """The card as one JSON document; sizes and limits in millimetres, counts as they are."""
    part, traced = card.part, card.traced
    chain = traced.to_json()
    return {
        **parts.to_json(part),
        "marks": [
            {
                "id": card.mark_ids.get(m),
                "text": m.text,
                "role": m.role,
                "source": card.mark_sources.get(m) or None,
            }
            for m in part.marks
        ],
        "limits": {
            name: {"lower": held.lower / NM_PER_MM, "upper": held.upper / NM_PER_MM}
            for name, held in part.sizes.items()
            if held.lower is not None and held.upper is not None and not is_plain_number(name)
        },
        "source": card.source or None,
        "order_instead": card.order_instead or None,
        "same_part": [_named(p) for p in card.same],
        "ranges": [{"id": entry.id, **entry.to_json()} for entry in card.ranges],
        "chain": {
            **{name: chain[name] for name in ("current", "later", "earlier", "findings")},
            "go_with": [step_json(step, card.named) for step in card.beside],
        },
        "interchange": [
            {
                "id": swap.id,
                **_named(swap.other),
                "grade": swap.grade,
                "direction": swap.way,
                "note": swap.note or None,
                "source": swap.source or None,
            }
            for swap in card.swaps
        ],
        "extras": [_listed(fact) for fact in card.noted_facts[KEPT]],
        "claims": [_listed(fact) for fact in card.noted_facts[CLAIM]],
        "prices": [_listed(fact) for fact in card.noted_facts[PRICE]],
        "bench": [item_json(item, _numbers(card)) for item in card.items],
        "wanted": [line_json(line) for line in card.wants],
        "cautions": list(card.cautions),
    }


def _listed(fact: Listed) -> dict[str, Any]:
    """What a list brought along; "" for a text that is not there."""
    texts = {name: text or "" for name, text in fact.values.items() if name != "maker"}
    return {"id": fact.id, **texts}


def _named(part: Part) -> dict[str, Any]:
    return {"number": part.number, "maker": part.own_maker or None}
