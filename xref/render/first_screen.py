"""The first screen of an answer: 24 lines of 80 columns, the rest for who asks for it."""

from __future__ import annotations

from collections.abc import Sequence

from xref.domain.evidence import Evidence, Topic
from xref.domain.nextcheck import Check
from xref.render.identify import (
    SHOWN_ODDS,
    cautions_told,
    headline,
    in_short,
    named,
    odds_text,
    reason,
    shown,
    sign,
    to_try,
    typed,
)
from xref.render.lines import UNBROKEN, wrapped
from xref.services.identify.answer import Candidate, Identified
from xref.services.parts.cautions import DEFER_SHORT

ROWS = 22
"""Lines of the answer: one stands above for how a line was taken, one below for the next prompt."""
OTHERS = "all other parts in the store together"
MOST_SHOWN, LEAST_SHOWN = 5, 2
"""Candidates: fewer where the cautions and the check need the room."""
MOST_REASONS = 3
CHECK_ROWS = 4
"""Lines kept for the next check while others are filled."""
SAYS_LITTLE = frozenset({Topic.TOGETHER})
"""Topics that come last among the reasons: they speak for a part and for its neighbours alike."""


def first_screen(answer: Identified, width: int = 80) -> str:
    """The answer, up to five candidates, why in three lines, what to check next, one line of
    caution, and what ``--why`` and ``--all`` would show; 22 lines at most where ``width`` is 80.
    """
    for most in range(MOST_SHOWN, LEAST_SHOWN - 1, -1):
        lines = _screen(answer, width, most)
        if len(lines) <= ROWS:
            break
    return "\n".join(lines)


def _screen(answer: Identified, width: int, most: int) -> list[str]:
    """The screen with at most so many candidates."""
    top = wrapped(headline(answer), width, "  ", "")
    candidates = _candidates(answer, width, most)
    why = _why(answer, width)
    room = ROWS - len(top) - len(candidates) - len(why) - 2
    checks = answer.next_check
    cautions, unsaid = _cautions(answer, width)
    room -= len(cautions) - 1
    told = _told(answer, width, room - (CHECK_ROWS if checks else 0))
    room -= len(told)
    asked, left_out = _next(checks, width, room)
    if not checks:
        asked = [line for text in to_try(answer) for line in wrapped(f"Next: {text}", width)]
    lines = [*top, *candidates, *why, *asked, *told, *cautions]
    return [*lines, *_more(answer, (most, left_out, unsaid), width)]


def clipped(text: str, width: int) -> str:
    """``text`` in one line, cut between words with " …" where it is longer."""
    text = text.replace(UNBROKEN, " ")
    if len(text) <= width:
        return text
    return f"{text[: width - 1].rpartition(' ')[0].rstrip(' ,;:(')} …"


def _candidates(answer: Identified, width: int, most: int) -> list[str]:
    some = shown(answer)[:most]
    lines = [_share(c.probability, _named(c, width - 13), width) for c in some]
    kept_back = answer.withheld_probability
    if kept_back >= SHOWN_ODDS:
        lines.append(_share(kept_back, "parts that are never offered on size alone", width))
    unshown = sum(c.probability for c in answer.candidates if c not in some)
    rest = max(0.0, answer.others_probability - kept_back) + unshown
    more = len(shown(answer)) - len(some)
    others = f"{more} more, and all other parts in the store" if more else OTHERS
    lines.append(_share(rest, others, width))
    return [*lines, _share(answer.none_of_these, "none of these", width)]


def _named(candidate: Candidate, width: int) -> str:
    """The part with what else it is called and where it is listed, as far as there is room."""
    text = named(candidate.part)
    extra = [f"also {number}" for number in candidate.scored.also[:2]]
    if candidate.belongs is not None:
        extra.insert(0, candidate.belongs.verdict)
    for one in extra:
        longer = f"{text}, {one}"
        if len(longer) <= width:
            text = longer
    return text


def _share(odds: float, of: str, width: int) -> str:
    return clipped(f"{odds_text(odds):>11}  {of}", width)


def _why(answer: Identified, width: int) -> list[str]:
    some = shown(answer)
    if not some:
        return []
    best = some[0]
    told = _reasons(in_short(best.scored.evidence))
    if best.belongs and not any(e.topic is Topic.SERIAL for e in best.scored.evidence):
        told.insert(0, f"· on the machine: {best.belongs.verdict}, {best.belongs.because}")
    if best.part.note:
        told.append(f"· on record: {best.part.note}")
    if best.scored.not_compared:
        told.append(f"· not compared: {', '.join(best.scored.not_compared)}")
    lines = [clipped(f"  {text}", width) for text in told[:MOST_REASONS]]
    return ["", f"Why {best.part.number}:", *lines] if lines else []


def _reasons(evidence: Sequence[Evidence]) -> list[str]:
    """The weightiest first; sizes that agree are told in one line."""
    agreeing = [e for e in evidence if e.topic is Topic.SIZE and e.agrees and e.bits > 0]
    told = [
        (0.0 if e.topic in SAYS_LITTLE else abs(e.bits), f"{sign(e)} {reason(e)}")
        for e in evidence
        if e not in agreeing
    ]
    if len(agreeing) == 1:
        told.append((abs(agreeing[0].bits), f"+ {reason(agreeing[0])}"))
    elif agreeing:
        sizes = ", ".join(f"{e.name} {e.expected}" for e in agreeing)
        told.append((sum(e.bits for e in agreeing), f"+ sizes: {sizes} agree"))
    return [text for _, text in sorted(told, key=lambda one: -one[0])]


def _next(checks: Sequence[Check], width: int, room: int) -> tuple[list[str], int]:
    """The checks that fit in ``room`` lines, the first always, and how many are left out."""
    lines: list[str] = []
    for at, check in enumerate(checks):
        asked = wrapped(f"Next: {check.check}. Answer (or --cannot {check.key}):", width)
        answers = [_answer(check, i, width) for i in range(len(check.outcomes))]
        fits = room - len(lines) - len(asked) - 1
        if at and fits < min(2, len(answers)):
            return lines, len(checks) - at
        if len(answers) > fits:
            kept = max(1, fits - 1)
            others = ", ".join(o.answer for o in check.outcomes[kept:])
            answers = [*answers[:kept], clipped(f"    or {check.key}= {others}", width)]
        lines += ["", *asked, *answers]
    return lines, 0


def _answer(check: Check, at: int, width: int) -> str:
    outcome = check.outcomes[at]
    text = f"    {typed(check, outcome)}: {', '.join(outcome.then[:5])}"
    return clipped(text + (" …" if len(outcome.then) > 5 else ""), width)


def _told(answer: Identified, width: int, room: int) -> list[str]:
    """What to ask for and the notes: in full while there is room, else one line each."""
    texts = [*_order(answer), *(f"Note: {note}" for note in answer.notes)]
    full = [wrapped(text, width) for text in texts]
    lines: list[str] = []
    for at, whole in enumerate(full):
        left = len(full) - at - 1
        fits = len(lines) + len(whole) + left + 1 <= room
        lines += whole if fits else [clipped(texts[at], width)]
    kept = lines[: max(room - 1, 1)]
    return ["", *kept] if kept else []


def _order(answer: Identified) -> list[str]:
    """What to ask for where one answer is clear and there is something to say."""
    ask = answer.candidates[0].order if answer.candidates else None
    if answer.verdict != "one" or ask is None or not ask.steps:
        return []
    whose = f" ({ask.maker})" if ask.maker else ""
    return [f"Ask for {ask.ask}{whose}: {'; '.join(ask.steps)}"]


def _cautions(answer: Identified, width: int) -> tuple[list[str], int]:
    """The gravest caution, whole, and that odds decide nothing; and how many are left out."""
    texts = cautions_told(answer)
    lines = wrapped(f"Caution: {texts[0]}", width) if texts else []
    if answer.verdict != "none":
        lines += wrapped(DEFER_SHORT, width)
    return lines, max(0, len(texts) - 1)


def _more(answer: Identified, left_out: tuple[int, int, int], width: int) -> list[str]:
    """The last line: what is left, and how to see it; ``left_out`` are how many candidates are
    shown, and how many checks and cautions are not."""
    if not answer.candidates:
        return []
    counts = (
        (len(shown(answer)) - left_out[0], "candidate"),
        (left_out[1], "check"),
        (left_out[2], "caution"),
    )
    left = [f"{n} {what}{'s' if n > 1 else ''}" for n, what in counts if n > 0]
    rest = f"{', '.join(left)} more" if left else "the whole answer"
    return [clipped(f"More: --why (every reason), --all ({rest}).", width)]
