"""Offer the next check: first what needs no tool, then the size that would best separate."""

from __future__ import annotations

from collections.abc import Sequence

from xref.domain.channel import Reading
from xref.domain.evidence import Scored
from xref.domain.nextcheck import Answer, Check, best_checks, classes, make_check
from xref.domain.number import folded
from xref.domain.part import COUNTS
from xref.domain.query import Query
from xref.domain.size import NM_PER_MM, mm_text
from xref.domain.size_names import SIZES
from xref.services.identify.evidence.sizes import STANDS_FOR
from xref.services.parts.features import visible_features
from xref.standards.bearing_type import traits

CONSIDERED = 12
"""Candidates looked at: the rest hold too little to steer a measurement."""
LEAST_ODDS = 0.002
"""A candidate below this steers no measurement. Judged."""

QUESTIONS = {
    "what rolls": "look whether balls, rollers or needles roll in it",
    "rows": "count the rows of rolling elements",
    "comes apart": "see whether it comes apart by hand, and which ring comes off",
    "self-aligns": "tilt the inner ring and see whether it swivels in the outer ring",
}

HOW_MADE = "look how it is made"
"""The question where no bearing is among the candidates: a pin has no ring to come off."""

SEEN = {
    "closure": "look for metal shields or rubber seals, and on which sides",
    "ring": "look for a snap-ring groove or a flange on the outer ring",
}
"""Groups of suffixes that show from outside, and how to ask for them."""

WHERE = {
    "bore": "measure the bore",
    "outside": "measure the outside diameter",
    "width": "measure the width over everything",
    "cone-width": "measure the cone alone",
    "cup-width": "measure the cup alone",
    "inside": "measure the inside diameter of the ring, lying loose",
    "section": "measure the section (the thickness of the cord)",
    "pitch": "measure over ten pitches (a chain pulled tight) and give it as pitch=127mm/10",
}


def next_checks(
    scored: Sequence[Scored], probabilities: Sequence[float], query: Query, ways: Sequence[Reading]
) -> tuple[Check, ...]:
    """The best one or two checks for what is not yet known; () where nothing would help."""
    pairs = zip(scored, probabilities, strict=True)
    top = [(s, p) for s, p in pairs if p >= LEAST_ODDS][:CONSIDERED]
    if len(top) < 2:
        return ()
    found = [*_traits(top, query), *_closures(top), *_sizes(top, query), *_signs(top, ways)]
    return best_checks([check for check in found if check is not None])


def _traits(top: list[tuple[Scored, float]], query: Query) -> list[Check | None]:
    checks = []
    for trait, question in QUESTIONS.items():
        if trait in query.cannot:
            continue
        answers = [Answer(s.part.number, p, traits(s.part.type).get(trait, "")) for s, p in top]
        if trait == "comes apart" and not any(s.part.kind == "bearing" for s, _ in top):
            question = HOW_MADE
        checks.append(make_check(question, answers, needs_tool=False))
    return checks


def _closures(top: list[tuple[Scored, float]]) -> list[Check | None]:
    """What the suffixes in the candidates' own numbers say can be seen from outside."""
    features = {s.part.number: visible_features(s.part) for s, _ in top}
    return [
        make_check(
            question,
            [Answer(s.part.number, p, features[s.part.number].get(group, "")) for s, p in top],
            needs_tool=False,
        )
        for group, question in SEEN.items()
    ]


def _sizes(top: list[tuple[Scored, float]], query: Query) -> list[Check | None]:
    given = set(query.sizes) | {n for name in query.sizes for n in STANDS_FOR.get(name, ())}
    names = dict.fromkeys(name for s, _ in top for name in s.part.sizes)
    checks = []
    for name in names:
        if name in given or name in query.cannot:
            continue
        checks.append(make_check(_how(name), _shown_sizes(name, top), needs_tool=True))
    return checks


def _how(name: str) -> str:
    if name in COUNTS:
        return f"count the {name}"
    over = f" ({SIZES[name]})" if name in SIZES else ""
    return WHERE.get(name, f"measure the {name}{over}")


def _shown_sizes(name: str, top: list[tuple[Scored, float]]) -> list[Answer]:
    """Each candidate's answer, those no caliper could tell apart sharing one."""
    held = {s.part.group: s.part.sizes[name].value for s, _ in top if name in s.part.sizes}
    apart = 0.5 if name in COUNTS else 0.15 * NM_PER_MM
    belongs = classes({group: float(value) for group, value in held.items()}, apart)
    label: dict[int, str] = {}
    for group, number in belongs.items():
        text = str(held[group]) if name in COUNTS else mm_text(held[group])
        if text not in label.get(number, "").split(" or "):
            label[number] = f"{label[number]} or {text}" if number in label else text
    return [
        Answer(s.part.number, p, label[belongs[s.part.group]] if s.part.group in held else "")
        for s, p in top
    ]


def _signs(top: list[tuple[Scored, float]], ways: Sequence[Reading]) -> list[Check | None]:
    """For each illegible sign of a mark without a lost stretch, what each number has there."""
    checks = []
    for way in ways:
        mark = way.mark
        if mark.turned or mark.has_lost_stretch:
            continue
        for at, sign in enumerate(mark.signs):
            if len(sign.chars) == 1:
                continue
            answers = [Answer(s.part.number, p, _char_at(s, at, len(mark.signs))) for s, p in top]
            place = f"look again at character {at + 1} of {mark.shown()} (clean it, slanting light)"
            checks.append(make_check(place, answers, needs_tool=False))
    return checks


def _char_at(scored: Scored, at: int, length: int) -> str:
    texts = [folded(scored.part.number), *(folded(s.text) for s in scored.part.spellings)]
    for text in texts:
        if len(text) == length:
            return text[at]
    return ""
